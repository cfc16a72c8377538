"""The one verb: everything a person, a drill or a test does to a world is an `Action` from this catalogue.

An action is data: a kind and arguments. It is checked here against its entry, takes simulated time (the world
runs through it and stops early when something dangerous happens), and its effect comes at the stated point:
at the start, or at the end, of that time. Panels, command line and drills are made from the entries.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from sim.errors import ActionError, nearest_right
from sim.world.catalogue import CATALOGUE
from sim.world.kinds import Argument, Group, Kind, Value

__all__ = ["CATALOGUE", "Action", "Argument", "Group", "Kind", "Value", "checked"]


@dataclass(frozen=True, slots=True)
class Action:
    """One act: a kind from the catalogue and its arguments (base types only, so that it can be journalled)."""

    kind: str
    arguments: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))

    def __getitem__(self, name: str) -> Value:
        return self.arguments[name]


def checked(kind: str, arguments: Mapping[str, object] | None = None) -> Action:
    """An action whose kind and arguments fit the catalogue, defaults filled in.

    Raises ActionError naming what was given, what is allowed, and the nearest right name.
    """
    entry = CATALOGUE.get(kind)
    if entry is None:
        hint = nearest_right(kind, CATALOGUE, otherwise="; the actions are: " + ", ".join(CATALOGUE), alike=0.5)
        raise ActionError(f"there is no action '{kind}'{hint}")
    given = dict(arguments or {})
    names = [argument.name for argument in entry.arguments]
    for name in given:
        if name not in names:
            taken = ", ".join(names) or "nothing"
            raise ActionError(f"'{kind}' takes no '{name}'; it takes {taken}{nearest_right(name, names)}")
    return Action(kind, MappingProxyType({a.name: _value(entry, a, given) for a in entry.arguments}))


def _value(entry: Kind, argument: Argument, given: Mapping[str, object]) -> Value:
    place = f"'{entry.name}': {argument.name}"
    if argument.name not in given:
        if argument.default is None:
            raise ActionError(f"{place} is missing ({argument.help})")
        return argument.default
    value = given[argument.name]
    if argument.type is float and isinstance(value, int) and not isinstance(value, bool):
        value = float(value)
    if argument.type is str and isinstance(value, (bool, int, float)):
        value = str(value)
    if not isinstance(value, argument.type) or (argument.type is int and isinstance(value, bool)):
        wanted = {str: "text", int: "a whole number", float: "a number", bool: "yes or no"}[argument.type]
        raise ActionError(f"{place} is {value!r}; {wanted} is needed ({argument.help})")
    if argument.choices and value not in argument.choices:
        hint = nearest_right(str(value), argument.choices)
        raise ActionError(f"{place} is '{value}'; allowed: {', '.join(argument.choices)}{hint}")
    if isinstance(value, str) and len(value) > 2000:
        raise ActionError(f"{place} has {len(value)} characters; at most 2000 are kept")
    if isinstance(value, float) and value != value:
        raise ActionError(f"{place} is not a number")
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        least, most = argument.least, argument.most
        if (least is not None and value < least) or (most is not None and value > most):
            raise ActionError(f"{place} is {value:g}; allowed: {least:g} to {most:g}")
    if not isinstance(value, (str, int, float, bool)):
        raise ActionError(f"{place} is {value!r}")
    return value
