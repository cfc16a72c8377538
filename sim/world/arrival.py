"""How a gate is found: what somebody did to it before anyone arrived.

A sheet that is filled in, a travel that is learned and a transmitter that is enrolled are not painted on: the gate
lives through them, with its own controller and its own physics, before the clock that people see starts.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from sim.controller.ports import Request
from sim.errors import CannotLearn
from sim.mechanics.yard import Body
from sim.said import said
from sim.units import LEAVES, MINUTE, SCAN, SECOND, LeafName
from sim.world import radio
from sim.world.actions import Value
from sim.world.effects.timing import condition
from sim.world.lived import Lived

if TYPE_CHECKING:
    from sim.world.world import World


ENDS_WITHIN_DEG: Final = 3.0
"""A leaf that is to be found this near its open stop stands there [°]. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Arrival:
    """The state a job is found in."""

    mains: bool = True
    battery_linked: bool = True
    angles_deg: tuple[float, float] = (0.0, 0.0)
    released: tuple[LeafName, ...] = ()
    swapped_leads: tuple[LeafName, ...] = ()
    sheet: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))
    learned: bool = False
    transmitters: tuple[tuple[str, str, str], ...] = ()
    """(tag, holder, function)."""
    bridged: tuple[str, ...] = ()
    unplugged: tuple[str, ...] = ()
    bodies: tuple[Body, ...] = ()
    in_hinge_gaps: tuple[tuple[LeafName, str], ...] = ()
    """(leaf, what is held in the gap at its hinge)."""
    faults: tuple[tuple[str, float], ...] = ()
    """(name of a fault, how grave from 0 to 1): what failed after it was commissioned, hidden."""
    lived: Lived | None = None
    """What happened at the gate after all that, before anybody looks."""


def arrive(world: World, arrival: Arrival) -> None:
    """Bring a new world to the state of arrival and start its visible clock. Called once, before any action.

    Raises CannotLearn if a gate that should be found learned can't learn, with the controller's own words.
    """
    if arrival.sheet or arrival.learned or arrival.transmitters:
        _commission(world, arrival)
        if arrival.transmitters:
            world.transmitter_list = world.enrolled()
    for leaf in arrival.swapped_leads:
        world.cabinet.swap_motor_leads(LEAVES.index(leaf))
    for guard in arrival.bridged:
        world.cabinet.bridge(guard)
    for guard in arrival.unplugged:
        world.cabinet.unplug(guard)
    if not arrival.mains:
        world.cabinet.isolate()
    if not arrival.battery_linked and world.site.supply.battery is not None:
        world.cabinet.remove_battery_link()
    for leaf in arrival.released:
        world.plant.release(LEAVES.index(leaf))
    if not arrival.learned:
        for index, degrees in enumerate(arrival.angles_deg[: len(world.site.leaves.fitted)]):
            world.plant.place_leaf(index, math.radians(degrees))
    for body in arrival.bodies:
        world.people.place(body)
    for leaf, what in arrival.in_hinge_gaps:
        world.people.hinges.hold(LEAVES.index(leaf), what)
    world.host.rewired()
    for name, share in arrival.faults:
        world.faults.bring(name, share)
    world.run_to(world.now + SECOND)
    world.visible_from_now()


def _commission(world: World, arrival: Arrival) -> None:
    """Live through the commissioning of somebody else."""
    world.run_to(world.now + SECOND)
    for name, value in arrival.sheet.items():
        _ask(world, Request("set", name, value))
    if arrival.learned:
        _ask(world, Request("learn"))
        world.run_to(world.now + 10 * MINUTE, condition(world, "learning ends"))
        if None in world.controller.panel().travel[: len(world.site.leaves.fitted)]:
            panel = world.controller.panel()
            raise CannotLearn(world.site.name, said("{state}. {message}", state=panel.state, message=panel.message))
        _shut(world)
    for tag, holder, function in arrival.transmitters:
        _ask(world, Request("enrol", holder, function))
        for pressed in (True, False):
            world.counters[tag] = world.counters.get(tag, 0) + int(pressed)
            world.hear(radio.word(world, tag, 1, pressed=pressed))
            world.run_to(world.now + SECOND // 2)
    if arrival.learned and any(arrival.angles_deg):
        _left_standing(world, arrival.angles_deg)


def _left_standing(world: World, angles_deg: tuple[float, float]) -> None:
    """Have a learned gate left open or part way, by its own controller, so that it knows where its leaves are.

    A leaf that is let go runs on by a degree or two.
    """
    hung = list(zip(world.site.leaves.fitted, angles_deg, world.site.leaves.hung, strict=False))
    if all(leaf.open_stop_deg - degrees < ENDS_WITHIN_DEG for _, degrees, leaf in hung):
        _tap(world, "open button")
        world.run_to(world.now + 2 * MINUTE, condition(world, "fully open"))
        return
    first = world.controller.panel().settings["opens first"]
    for name, degrees, _ in sorted(hung, key=lambda each: each[0] != first):
        if degrees <= 0.0:
            continue
        _ask(world, Request("jog", name, "open"))
        latest = world.now + 3 * MINUTE
        while world.plant.angle(LEAVES.index(name)) < math.radians(degrees) and world.now < latest:
            world.run_to(world.now + SECOND // 10)
        _ask(world, Request("jog", name, "release"))
        world.run_to(world.now + 3 * SECOND)


def _ask(world: World, request: Request) -> None:
    world.host.request(request)
    world.run_to(world.now + 2 * SCAN)


def _shut(world: World) -> None:
    """Leave the learned gate shut, as an owner would."""
    closed = condition(world, "fully closed")
    if closed():
        return
    _tap(world, "close button")
    world.run_to(world.now + 2 * MINUTE, closed)


def _tap(world: World, control: str) -> None:
    if world.cabinet.press(control):
        world.host.rewired()
    world.run_to(world.now + SECOND // 2)
    if world.cabinet.release(control):
        world.host.rewired()
