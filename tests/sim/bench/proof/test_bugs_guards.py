"""Every promise about guards, force and motion can be broken, and the search finds who breaks it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sim.bench.proof.catalogue import force, guards, reversing

SUBJECTS = ("guards", "reversing", "force")

MINE = (*guards.ENTRIES, *reversing.ENTRIES, *force.ENTRIES)

HONEST = 5
"""Examples with the same focus that the reference controller is played through."""


def test_a_seeded_bug_is_found(hunts: Callable[[Any, int], None], bug: Any, seed: int) -> None:
    hunts(bug, seed)


def test_the_reference_controller_keeps_it(keeps: Callable[..., None], promised: str) -> None:
    keeps(promised, MINE, HONEST)
