"""What a fault can change, as data: an element of a net, a fact of the site, a setting of the sheet.

Every edit has a mild and a grave value; `share` from 0 to 1 says how far between the two. Applying one returns its
undo, which brings everything back bit for bit, or raises when somebody changed the same fact since. Edits of
different fields of one element know nothing of each other: they are taken back in any order.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Protocol, TypeAlias, runtime_checkable

from sim.devices.cabinet import Cabinet
from sim.errors import Refused, ScenarioError
from sim.mechanics.plant import Plant
from sim.said import said
from sim.site import Site, dump_site, with_changes
from sim.wiring.elements import Resistor
from sim.wiring.netlist import Netlist, Undo, in_turn

SettingValue: TypeAlias = str | int | float | bool

FactKey: TypeAlias = tuple[str, str, str]
"""(where: `net`, `site` or `sheet`; which element, path or setting; which field of it)."""


class Ground(Protocol):
    """What a fault stands on: a gate as it is, with everything of it that can be changed."""

    @property
    def site(self) -> Site:
        """The site as it really stands now."""
        ...

    @property
    def cabinet(self) -> Cabinet:
        """The wiring."""
        ...

    @property
    def plant(self) -> Plant:
        """The mechanics."""
        ...

    def refit(self, site: Site) -> None:
        """The site stands like this from now on."""
        ...

    def rewired(self) -> None:
        """A net changed by hand: the drives and the controller take notice at their next instant."""
        ...

    def settings(self) -> Mapping[str, SettingValue]:
        """The sheet as the controller holds it."""
        ...

    def assume(self, settings: Mapping[str, SettingValue]) -> None:
        """The sheet is found like this: somebody set it before, and nobody logged it."""
        ...


@runtime_checkable
class Edit(Protocol):
    """One change of one fact."""

    def apply(self, ground: Ground, share: float) -> Undo:
        """Make it so. Raises Refused if the gate has no such fact."""
        ...

    def facts(self) -> tuple[FactKey, ...]:
        """Which facts it touches."""
        ...


@dataclass(frozen=True, slots=True)
class Value:
    """A number of an element of a net, by its name; resistances run in equal ratios between mild and grave."""

    element: str
    field: str
    mild: float
    grave: float | None = None
    """None: as the mild one."""

    def apply(self, ground: Ground, share: float) -> Undo:
        """Change it in whichever net has it."""
        return _then_rewired(ground, _set(ground, self.element, self.field, self._at(share)))

    def facts(self) -> tuple[FactKey, ...]:
        """The one field."""
        return (("net", self.element, self.field),)

    def _at(self, share: float) -> float:
        grave = self.mild if self.grave is None else self.grave
        return between(self.mild, grave, share, in_ratios=self.field == "ohm")


@dataclass(frozen=True, slots=True)
class Opened:
    """A contact that no part moves by itself (a fuse, a joint, a link) is open."""

    contact: str

    def apply(self, ground: Ground, share: float) -> Undo:
        """Open it, whatever the share."""
        return _then_rewired(ground, _set(ground, self.contact, "closed", False))

    def facts(self) -> tuple[FactKey, ...]:
        """Whether it is closed."""
        return (("net", self.contact, "closed"),)


@dataclass(frozen=True, slots=True)
class Shut:
    """A contact that no part moves by itself is closed."""

    contact: str

    def apply(self, ground: Ground, share: float) -> Undo:
        """Close it, whatever the share."""
        return _then_rewired(ground, _set(ground, self.contact, "closed", True))

    def facts(self) -> tuple[FactKey, ...]:
        """Whether it is closed."""
        return (("net", self.contact, "closed"),)


@dataclass(frozen=True, slots=True)
class Leak:
    """One resistor more between two nodes: a leak, a short, a weld, a link of wire."""

    name: str
    a: str
    b: str
    mild: float
    grave: float
    net: str = "low voltage"
    """`low voltage` or `mains`."""

    def apply(self, ground: Ground, share: float) -> Undo:
        """Put it in."""
        net = ground.cabinet.mains if self.net == "mains" else ground.cabinet.netlist
        for node in (self.a, self.b):
            if not any(node in (e.a, e.b) for e in net.elements.values()):
                raise Refused(said("there is no '{node}' on this site", node=node))
        ohm: complex = between(self.mild, self.grave, share, in_ratios=True)
        return _then_rewired(
            ground, net.add(Resistor(self.name, self.a, self.b, complex(ohm) if self.net == "mains" else ohm))
        )

    def facts(self) -> tuple[FactKey, ...]:
        """That it is there."""
        return (("net", self.name, "is there"),)


@dataclass(frozen=True, slots=True)
class Exchanged:
    """Two cores change places at one of their ends."""

    one: str
    other: str
    end: str = "a"

    def apply(self, ground: Ground, share: float) -> Undo:
        """Exchange them, whatever the share."""
        here, there = (getattr(net_of(ground, each)[each], self.end) for each in (self.one, self.other))
        undo = in_turn(_set(ground, self.one, self.end, there), _set(ground, self.other, self.end, here))
        return _then_rewired(ground, undo)

    def facts(self) -> tuple[FactKey, ...]:
        """Where both end."""
        return (("net", self.one, self.end), ("net", self.other, self.end))


@dataclass(frozen=True, slots=True)
class Fact:
    """A dotted key of the site as it really stands: `leaves.active.sag_m`. A word or a yes has one value for both."""

    path: str
    mild: Any
    grave: Any = None
    in_ratios: bool = False

    def apply(self, ground: Ground, share: float) -> Undo:
        """Refit the gate with the fact changed."""
        value = self.mild
        if self.grave is not None and isinstance(self.mild, (int, float)) and not isinstance(self.mild, bool):
            value = between(float(self.mild), float(self.grave), share, in_ratios=self.in_ratios)
        before = fact(ground.site, self.path)
        _refit(ground, self.path, value)
        done = fact(ground.site, self.path)

        def undo() -> None:
            if fact(ground.site, self.path) != done:
                raise Refused(said("'{path}' was changed since: take the later change back first", path=self.path))
            _refit(ground, self.path, before)

        return undo

    def facts(self) -> tuple[FactKey, ...]:
        """The one key."""
        return (("site", self.path, ""),)


@dataclass(frozen=True, slots=True)
class Setting:
    """A setting of the sheet, as somebody left it."""

    name: str
    mild: SettingValue
    grave: SettingValue | None = None

    def apply(self, ground: Ground, share: float) -> Undo:
        """Have it found so."""
        value = self.mild
        if isinstance(self.mild, float) and isinstance(self.grave, float):
            value = between(self.mild, self.grave, share)
        if self.name not in ground.settings():
            raise Refused(said("this controller's sheet has no '{what}'", what=self.name))
        before = ground.settings()[self.name]
        ground.assume({self.name: value})

        def undo() -> None:
            if ground.settings()[self.name] != value:
                raise Refused(said("'{what}' was set anew since: take the later change back first", what=self.name))
            ground.assume({self.name: before})

        return undo

    def facts(self) -> tuple[FactKey, ...]:
        """The one setting."""
        return (("sheet", self.name, ""),)


def between(mild: float, grave: float, share: float, *, in_ratios: bool = False) -> float:
    """A value between two; exactly the ends at 0 and 1. Raises ValueError outside 0 to 1."""
    if not 0.0 <= share <= 1.0:
        raise ValueError(f"a share of {share!r} is no severity; allowed: 0 to 1")
    if share in (0.0, 1.0):
        return grave if share else mild
    if in_ratios and mild > 0.0 and grave > 0.0:
        return mild * math.pow(grave / mild, share)
    return mild + (grave - mild) * share


def net_of(ground: Ground, element: str) -> Netlist:
    """The net that has an element. Raises Refused if none has."""
    for net in (ground.cabinet.netlist, ground.cabinet.mains):
        if element in net:
            return net
    raise Refused(said("there is no '{element}' on this site", element=element))


def fact(site: Site, path: str) -> Any:
    """What stands under a dotted key of a site, in base types. Raises Refused if there is no such key."""
    value: Any = dump_site(site)
    for key in path.split("."):
        try:
            value = value[int(key)] if isinstance(value, list) else value[key]
        except (KeyError, IndexError, TypeError, ValueError) as error:
            raise Refused(said("there is no '{path}' on this site", path=path)) from error
    return value


def _set(ground: Ground, element: str, field: str, value: object) -> Undo:
    """Change one field of an element; its undo asks that this field is as it was left, and no other."""
    net = net_of(ground, element)
    before = getattr(net[element], field, None)
    if isinstance(before, complex) and isinstance(value, float):
        value = complex(value)
    net.change(element, **{field: value})

    def undo() -> None:
        if element not in net or getattr(net[element], field) != value:
            raise Refused(
                said(
                    "the {field} of '{element}' was changed since: take the later change back first",
                    field=field,
                    element=element,
                )
            )
        net.change(element, **{field: before})

    return undo


def _refit(ground: Ground, path: str, value: Any) -> None:
    try:
        ground.refit(with_changes(ground.site, {path: value}))
    except ScenarioError as error:
        raise Refused(str(error)) from error


def _then_rewired(ground: Ground, undo: Undo) -> Undo:
    ground.rewired()

    def back() -> None:
        undo()
        ground.rewired()

    return back


__all__ = [
    "Edit",
    "Exchanged",
    "Fact",
    "FactKey",
    "Ground",
    "Leak",
    "Opened",
    "Setting",
    "SettingValue",
    "Shut",
    "Value",
    "between",
    "fact",
    "net_of",
]
