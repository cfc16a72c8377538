"""Every promise about how leaves move can be broken, and the search finds who breaks it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from sim.bench.proof.catalogue import CATALOGUE, motion
from sim.bench.proof.play import Stage
from sim.bench.proof.search import Search, replayed
from sim.world.world import World

SUBJECTS = ("motion",)

MINE = motion.ENTRIES

HONEST = 5
"""Examples with the same focus that the reference controller is played through."""


def test_a_seeded_bug_is_found(hunts: Callable[[Any, int], None], bug: Any, seed: int) -> None:
    hunts(bug, seed)


def test_the_reference_controller_keeps_it(keeps: Callable[..., None], promised: str) -> None:
    keeps(promised, MINE, HONEST)


class FedTwice(Stage):
    """A gate with a wire across its battery link: taking the link out changes nothing."""

    def in_branch(self, work: Callable[[World], Any], patience_s: float | None = None) -> Any:
        """As a stage, with the wire in the copy alone."""

        def fed(world: World) -> Any:
            world.cabinet.remove_battery_link = lambda: None  # type: ignore[method-assign]
            return work(world)

        return super().in_branch(fed, patience_s)


@pytest.mark.usefixtures("unshrunk")
def test_a_feed_that_nobody_knows_of_is_found(stage: Stage, seed: int) -> None:
    """No controller drives a motor without a source: what is seeded here is a wrong gate, not a wrong controller."""
    promise = CATALOGUE["nothing is energised while isolated"]
    found = Search(FedTwice(stage.site, ready=stage), [promise]).run(promise.focus, 15, seed)
    assert found is not None
    assert found.property == promise.name
    assert not replayed(stage, found.case, [promise]).breaches
