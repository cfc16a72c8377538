"""The shape of an effect."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sim.units import LEAVES, Us
from sim.world.actions import Action

if TYPE_CHECKING:
    from sim.world.world import World


@dataclass(frozen=True, slots=True)
class Effect:
    """What an action does."""

    apply: Callable[[World, Action], str]
    """Changes the world and says what came of it. Called at the start or the end of the action's time."""
    ready: Callable[[World, Action], None] | None = None
    """Raises Refused when the action makes no sense now; changes nothing. Called before it is journalled."""
    takes: Callable[[World, Action], Us] | None = None
    """How long it takes, where that hangs on its arguments; None: what the catalogue says."""


def leaf_of(action: Action) -> int:
    """Index of the leaf an action names."""
    return LEAVES.index(action["leaf"])  # type: ignore[arg-type]
