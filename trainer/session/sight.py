"""What one sees of a gate besides leaves and guards: who is in the yard, what is switched, plugged and clamped on.

Plain data that stays true: a walk says where somebody is at any instant of it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from sim.instruments.toolbag import Toolbag
from sim.units import Us
from trainer.session.tools import ToolsView, tools_view
from trainer.session.wiring import WiringView, wiring_view
from trainer.session.yard_view import BodyView

if TYPE_CHECKING:
    from sim.mechanics.yard import Body
    from sim.world.walks import Walk
    from sim.world.world import World


class Supply(NamedTuple):
    """What is switched on."""

    lamp: bool
    mains: bool
    battery: bool
    board: bool


@dataclass(frozen=True, slots=True)
class Handled:
    """What hands put in, took out or placed."""

    cordoned: bool
    by_hand: frozenset[str]
    """Guards with a card before them or a hand on them."""
    unplugged: tuple[str, ...]
    bridged: tuple[str, ...]
    gauge: tuple[str, float, float] | None
    gauge_direction: str
    engaged: tuple[bool, ...]
    """Whether the drive of each leaf is coupled."""
    in_gaps: tuple[tuple[int, str], ...]
    """(leaf, what is held in the gap at its hinge)."""
    tools: ToolsView
    wiring: WiringView


Standing = tuple["Body", "Walk | None"]
"""A body, and the way it is on."""


def supply_of(world: World) -> Supply:
    """As it is now."""
    cabinet, host = world.cabinet, world.host
    return Supply(host.outputs.lamp, cabinet.mains_on, cabinet.battery_linked, host.on)


def handled_of(world: World) -> Handled:
    """As it is now."""
    assert isinstance(world.bag, Toolbag)
    people, bag = world.people, world.bag
    return Handled(
        cordoned=world.cordoned,
        by_hand=frozenset(people.covered | people.edges_pressed),
        unplugged=world.cabinet.unplugged,
        bridged=world.cabinet.bridged,
        gauge=bag.gauge,
        gauge_direction=bag.gauge_direction,
        engaged=tuple(world.plant.engaged(leaf) for leaf in range(len(world.site.leaves.fitted))),
        in_gaps=tuple(people.hinges.held.items()),
        tools=tools_view(bag),
        wiring=wiring_view(world),
    )


def standing_of(world: World) -> tuple[Standing, ...]:
    """Everybody in the yard as they are now."""
    under_way = world.people.walks.under_way
    return tuple((body, under_way.get(name)) for name, body in world.people.bodies.items())


def body_views(standing: tuple[Standing, ...], at: Us) -> tuple[BodyView, ...]:
    """Everything that stands or lies on the plan at an instant [µs of the world] for which that is true."""
    return tuple(_body(body if walk is None else walk.carries(body, at), walk, at) for body, walk in standing)


def _body(body: Body, walk: Walk | None, at: Us) -> BodyView:
    speed, ahead = (0.0, ()) if walk is None else (walk.speed_m_s, walk.at(at)[2])
    return BodyView(body.name, body.x_m, body.y_m, body.size_m, body.lying, math.degrees(body.turn), speed, ahead)
