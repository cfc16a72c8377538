"""Every promise about guards, force and motion can be broken, and the search finds who breaks it."""

from __future__ import annotations

from typing import Any

import pytest

from sim.bench.proof import search
from sim.bench.proof.catalogue import CATALOGUE, force, guards, reversing
from sim.bench.proof.play import Stage
from sim.bench.proof.search import Search, replayed

SUBJECTS = ("guards", "reversing", "force")

MINE = (*guards.ENTRIES, *reversing.ENTRIES, *force.ENTRIES)

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
