"""Where instruments can be put on this gate: names by kind of place, checked in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.devices.drawing import JOINTS
from sim.devices.insulation import EARTH
from sim.devices.reading import LIVE_V
from sim.errors import Refused, nearest_right
from sim.instruments.instrument import Function, PlaceKind
from sim.said import joined, said
from sim.units import LEAVES

if TYPE_CHECKING:
    from sim.world.world import World


def places(world: World, kind: PlaceKind) -> tuple[str, ...]:
    """Names that may be given for a kind of place; a function's own spots are its `spots`."""
    cabinet, site = world.cabinet, world.site
    if kind == "terminal":
        return tuple(cabinet.terminals)
    if kind == "core":
        return tuple(core.name for core in cabinet.cores() if core.way in ("core", "wire", "link"))
    if kind in ("leaf", "post"):
        return site.leaves.fitted
    if kind == "guard":
        return tuple(guard for guard, fitted in site.guards.fitted.items() if fitted)
    if kind == "transmitter":
        return tuple(transmitter.tag for transmitter in site.transmitters)
    if kind == "joint":
        return tuple(
            e.name
            for net in (cabinet.mains, cabinet.netlist)
            for e in net.key
            if any(joint in e.name for joint in JOINTS)
        )
    return ()


def spots(world: World, function: Function) -> tuple[str, ...]:
    """A function's own spots, but for those of a leaf that doesn't hang here."""
    absent = LEAVES[len(world.site.leaves.fitted) :]
    return tuple(spot for spot in function.spots if spot.partition(" ")[0] not in absent)


def category_at(world: World, place: str) -> int:
    """The measuring category that a place asks for while it is live: 3 in fixed mains wiring, 2 at the inlet of what
    is fed through it, 0 elsewhere (IEC 61010-2-030, facts 5.9)."""
    if place in world.cabinet.mains:
        across = world.cabinet.mains.solution().between(world.cabinet.mains[place].a, EARTH)
        return 3 if across is not None and abs(across) > LIVE_V["mains"] else 0
    terminal = world.cabinet.terminals.get(place)
    if terminal is None or terminal.net != "mains" or not world.cabinet.is_live(place):
        return 0
    return 2 if terminal.part.startswith("power supply") else 3


def check_places(world: World, function: Function, at: str, against: str) -> None:
    """Raise Refused, naming the nearest right place, if a function can't be put there."""
    _check(world, function, function.at, at, "on")
    _check(world, function, function.against, against, "against")
    if function.at == "terminal" and at and at == against:
        raise Refused("both probes are on the same terminal")


def _check(world: World, function: Function, kind: PlaceKind, name: str, role: str) -> None:
    if not kind:
        if name:
            raise Refused(
                said(
                    "'{function}' is put on nothing in particular; leave '{name}' out"
                    if role == "on"
                    else "'{function}' is put against nothing in particular; leave '{name}' out",
                    function=function.name,
                    name=name,
                )
            )
        return
    known = spots(world, function) if kind == "spot" else places(world, kind)
    if name in known:
        return
    if not name:
        raise Refused(
            said(
                "'{function}' is put on a {kind}; say which: {known}"
                if role == "on"
                else "'{function}' is put against a {kind}; say which: {known}",
                function=function.name,
                kind=kind,
                known=_some(known),
            )
        )
    hint = nearest_right(name, known, otherwise=said("; there are: {names}", names=_some(known)))
    raise Refused(said("there is no {kind} '{name}'{hint}", kind=kind, name=name, hint=hint))


def _some(names: tuple[str, ...]) -> str:
    if not names:
        return said("there is none here")
    return joined([*names[:8], *(["..."] if len(names) > 8 else [])], ", ")
