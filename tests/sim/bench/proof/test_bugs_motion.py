"""Every promise about how leaves move can be broken, and the search finds who breaks it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from sim.bench.proof import search
from sim.bench.proof.catalogue import CATALOGUE, motion
from sim.bench.proof.play import Stage
from sim.bench.proof.search import Search, replayed
from sim.world.world import World

SUBJECTS = ("motion",)

MINE = motion.ENTRIES

SEEDS = (1, 2)

HONEST = 5
"""Examples with the same focus that the reference controller is played through."""


@pytest.fixture(autouse=True)
def unshrunk(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is found is left as long as it was found: how it is made short has its own test."""
    monkeypatch.setattr(search, "SHRINK_S", 0.0)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_seeded_bug_is_found(stage: Stage, bug: Any, seed: int) -> None:
    promise = CATALOGUE[bug.breaks]
    wrong = bug.on(stage)
    found = Search(wrong, [promise]).run(promise.focus, bug.within, seed)
    assert found is not None, f"not found in {bug.within} examples"
    assert found.property == bug.breaks
    assert not replayed(stage, found.case, [promise]).breaches, "the reference controller breaks it there as well"


def test_the_reference_controller_keeps_it(stage: Stage, promised: str) -> None:
    tried = Search(stage, MINE)
    assert tried.run(CATALOGUE[promised].focus, HONEST, SEEDS[0]) is None
    assert tried.tally.looked[promised] > 0


class FedTwice(Stage):
    """A gate with a wire across its battery link: taking the link out changes nothing."""

    def in_branch(self, work: Callable[[World], Any], patience_s: float | None = None) -> Any:
        """As a stage, with the wire in the copy alone."""

        def fed(world: World) -> Any:
            world.cabinet.remove_battery_link = lambda: None  # type: ignore[method-assign]
            return work(world)

        return super().in_branch(fed, patience_s)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_feed_that_nobody_knows_of_is_found(stage: Stage, seed: int) -> None:
    """No controller drives a motor without a source: what is seeded here is a wrong gate, not a wrong controller."""
    promise = CATALOGUE["nothing is energised while isolated"]
    found = Search(FedTwice(stage.site, ready=stage), [promise]).run(promise.focus, 15, seed)
    assert found is not None
    assert found.property == promise.name
    assert not replayed(stage, found.case, [promise]).breaches
