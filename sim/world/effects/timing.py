"""Letting time pass."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from sim.controller.machine import RESTING, State
from sim.said import said
from sim.units import from_seconds
from sim.world.actions import Action
from sim.world.effects.effect import Effect

if TYPE_CHECKING:
    from sim.world.world import World


BUSY_WORDS = {state.value for state in State if state not in (*RESTING, State.NO_POWER)}
"""States of the controller in which something it was asked for is still to come."""


def _wait(world: World, action: Action) -> str:
    world.run_to(world.now + from_seconds(float(action["seconds"])))
    return ""


def _wait_until(world: World, action: Action) -> str:
    what = str(action["what"])
    came = world.run_to(world.now + from_seconds(float(action["at_most_s"])), condition(world, what))
    return said(
        "{what}: yes." if came else "{what}: not within {at_most_s:g} s.", what=what, at_most_s=action["at_most_s"]
    )


def condition(world: World, what: str) -> Callable[[], bool]:
    """Whether something has come true, asked after every event."""
    message = world.headline().message

    conditions: dict[str, Callable[[], bool]] = {
        "the gate rests": world.rests,
        "the gate moves": lambda: bool(world.notices.moving()),
        "fully open": lambda: world.stands(fully_open=True),
        "fully closed": lambda: world.stands(fully_open=False),
        "the message changes": lambda: world.headline().message != message,
        "learning ends": lambda: world.headline().state not in BUSY_WORDS,
    }
    return conditions[what]


EFFECTS = {"wait": Effect(_wait), "wait until": Effect(_wait_until)}
