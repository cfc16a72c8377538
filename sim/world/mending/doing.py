"""Carrying a repair out: facts go back to how they were built, whatever they are now."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from sim.faults.edit import fact
from sim.site import with_changes
from sim.wiring.elements import Contact, Element
from sim.wiring.netlist import Netlist
from sim.world.mending.row import Mend, matches

if TYPE_CHECKING:
    from sim.world.world import World

BY_HAND: Final = ("multimeter*", "two-pole tester*", "* bridge", "*probe*")
"""What instruments and hands laid into a net: no repair takes it out by the way."""


def carry_out(world: World, mend: Mend) -> tuple[str, ...]:
    """Set back all that an entry says, then have everybody take notice. Returns the contacts that were open and are
    closed again by it: a fuse that had blown, a breaker that had tripped."""
    closed: list[str] = []
    for net in (world.cabinet.netlist, world.cabinet.mains):
        _take_out(net, mend, world.cabinet.built)
    for name, element in world.cabinet.built.items():
        meant = matches(name, mend.elements) or matches(name, mend.closes) or name in mend.ohms
        if meant and _set_back(_home(world, element), mend, element):
            closed.append(name)
    changes = {path: fact(world.designed, path) for path in mend.site}
    changes = {path: value for path, value in changes.items() if fact(world.site, path) != value}
    if changes:
        world.refit(with_changes(world.site, changes))
    if mend.does is not None:
        mend.does(world)
    world.rewired()
    world.faults.mended(mend.covers)
    return tuple(closed)


def _take_out(net: Netlist, mend: Mend, built: Mapping[str, Element]) -> None:
    """What nobody wired: whatever was built stays, and is set back."""
    for name in list(net.elements):
        if name not in built and matches(name, mend.extras) and not matches(name, BY_HAND):
            net.remove(name)


def _home(world: World, element: Element) -> Netlist:
    """The net an element was wired in: mains values are complex."""
    mains = isinstance(element.ohm, complex)
    return world.cabinet.mains if mains else world.cabinet.netlist


def _set_back(net: Netlist, mend: Mend, built: Element) -> bool:
    """One element as it was wired. Returns whether a contact that was open is closed by it."""
    if built.name not in net:
        net.add(built)
        return False
    now, changes = net[built.name], {}
    wholly = matches(built.name, mend.closes)
    for field in dataclasses.fields(built):
        if field.name == "name" or (field.name == "closed" and not wholly):
            continue
        if field.name != "closed" and not matches(built.name, mend.elements):
            continue
        changes[field.name] = getattr(built, field.name)
    if built.name in mend.ohms:
        changes["ohm"] = mend.ohms[built.name]
    if isinstance(now, Contact) and isinstance(built, Contact) and not changes:
        return False
    if any(getattr(now, name) != value for name, value in changes.items()):
        net.change(built.name, **changes)
    return isinstance(now, Contact) and not now.closed and changes.get("closed") is True
