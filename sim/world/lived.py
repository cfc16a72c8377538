"""What a gate lived through before anybody looks: acts at their instants, up to the moment at which somebody comes.

So a counterexample is shown: the gate goes through what was done to it, and the visible clock starts a moment before
it goes wrong. What comes after that moment comes by itself, at its instant.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sim.units import SCAN, Us, next_on_grid
from sim.world.actions import Value
from sim.world.clock import Phase
from sim.world.prompt import do_at_once

if TYPE_CHECKING:
    from sim.world.world import World


@dataclass(frozen=True, slots=True)
class LivedAct:
    """One act, see `sim.world.prompt.do_at_once`."""

    at: Us
    """Since the gate stood ready [µs]."""
    act: str
    arguments: Mapping[str, Value]


@dataclass(frozen=True, slots=True)
class Lived:
    """All of them, in their order, and when somebody comes."""

    acts: tuple[LivedAct, ...]
    opens_at: Us
    """When the visible clock starts, since the gate stood ready [µs]."""


def live(world: World, lived: Lived) -> None:
    """Live through it. Raises Refused for an act that makes no sense at its instant."""
    ready = int(world.now)
    opens = ready + int(lived.opens_at) // SCAN * SCAN
    for each in lived.acts:
        at = ready + int(each.at)
        if at <= opens:
            world.run_to(at)
            do_at_once(world, each.act, each.arguments)
        else:
            _queue(world, next_on_grid(at, SCAN), each)
    world.run_to(opens)
    world.visible_from_now()


def _queue(world: World, at: int, each: LivedAct) -> None:
    world.clock.at(at, Phase.HAND, lambda: do_at_once(world, each.act, each.arguments), f"{each.act}, as it was")
