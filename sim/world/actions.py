"""The one verb: everything a person, a drill or a test does to a world is an `Action` from this catalogue.

An action is data: a kind and arguments. It is checked here against its entry, takes simulated time (the world
runs through it and stops early when something dangerous happens), and its effect comes at the stated point:
at the start, or at the end, of that time. Panels, command line and drills are made from the entries.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from sim.errors import ActionError, nearest_right
from sim.said import joined, said
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


WANTED: Final[Mapping[type, str]] = {
    str: said("text"),
    int: said("a whole number"),
    float: said("a number"),
    bool: said("yes or no"),
}
"""What is asked for where a value is of another kind."""


def checked(kind: str, arguments: Mapping[str, object] | None = None) -> Action:
    """An action whose kind and arguments fit the catalogue, defaults filled in.

    Raises ActionError naming what was given, what is allowed, and the nearest right name.
    """
    entry = CATALOGUE.get(kind)
    if entry is None:
        others = said("; the actions are: {actions}", actions=joined(CATALOGUE, ", "))
        hint = nearest_right(kind, CATALOGUE, otherwise=others, alike=0.5)
        raise ActionError(said("there is no action '{action}'{hint}", action=kind, hint=hint))
    given = dict(arguments or {})
    names = [argument.name for argument in entry.arguments]
    for name in given:
        if name not in names:
            raise ActionError(
                said(
                    "'{action}' takes no '{argument}'; it takes {taken}{hint}",
                    action=kind,
                    argument=name,
                    taken=joined(names, ", ") or said("nothing"),
                    hint=nearest_right(name, names),
                )
            )
    return Action(kind, MappingProxyType({a.name: _value(entry, a, given) for a in entry.arguments}))


def _value(entry: Kind, argument: Argument, given: Mapping[str, object]) -> Value:
    if argument.name not in given:
        if argument.default is None:
            raise _wrong(entry, argument, "{place} is missing ({help})")
        return argument.default
    value = given[argument.name]
    if argument.type is float and isinstance(value, int) and not isinstance(value, bool):
        value = float(value)
    if argument.type is str and isinstance(value, (bool, int, float)):
        value = str(value)
    if not isinstance(value, argument.type) or (argument.type is int and isinstance(value, bool)):
        wanted = WANTED[argument.type]
        raise _wrong(entry, argument, "{place} is {value!r}; {wanted} is needed ({help})", value=value, wanted=wanted)
    if argument.choices and value not in argument.choices:
        allowed, hint = joined(argument.choices, ", "), nearest_right(str(value), argument.choices)
        raise _wrong(
            entry, argument, "{place} is '{value}'; allowed: {allowed}{hint}", value=value, allowed=allowed, hint=hint
        )
    if isinstance(value, str) and len(value) > 2000:
        raise _wrong(entry, argument, "{place} has {count} characters; at most 2000 are kept", count=len(value))
    if isinstance(value, float) and value != value:
        raise _wrong(entry, argument, "{place} is not a number")
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        least, most = argument.least, argument.most
        if (least is not None and value < least) or (most is not None and value > most):
            raise _wrong(
                entry,
                argument,
                "{place} is {value:g}; allowed: {least:g} to {most:g}",
                value=value,
                least=least,
                most=most,
            )
    if not isinstance(value, (str, int, float, bool)):
        raise _wrong(entry, argument, "{place} is {value!r}", value=value)
    return value


def _wrong(entry: Kind, argument: Argument, sentence: str, /, **fields: object) -> ActionError:
    """What is wrong with an argument, in a sentence that may name its place and its help."""
    place = said("'{action}': {argument}", action=entry.name, argument=argument.name)
    return ActionError(said(sentence, place=place, help=argument.help, **fields))
