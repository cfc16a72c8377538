"""Promises about starting, closing by itself, power, radio and records can be broken, and the search finds it."""

from __future__ import annotations

from typing import Any

import pytest

from sim.bench.proof import search
from sim.bench.proof.catalogue import CATALOGUE
from sim.bench.proof.play import Stage
from sim.bench.proof.search import Search, replayed

SUBJECTS = ("starting", "closing", "power", "radio", "record_keeping", "sameness")

SEEDS = (1, 2)


@pytest.fixture(autouse=True)
def unshrunk(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is found is left as long as it was found: how it is made short has its own test."""
    monkeypatch.setattr(search, "SHRINK_S", 0.0)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_seeded_bug_is_found(stage: Stage, bug: Any, seed: int) -> None:
    promise = CATALOGUE[bug.breaks]
    found = Search(bug.on(stage), [promise]).run(promise.focus, bug.within, seed)
    assert found is not None, f"not found in {bug.within} examples"
    assert found.property == bug.breaks
    assert not replayed(stage, found.case, [promise]).breaches, "the reference controller breaks it there as well"
