"""The search finds what is there to be found, makes it short, and finds it again by its seed."""

from __future__ import annotations

import itertools
import time
from dataclasses import replace
from types import SimpleNamespace

import pytest

from sim.bench.proof import search
from sim.bench.proof.case import Case
from sim.bench.proof.catalogue import CATALOGUE
from sim.bench.proof.play import Stage
from sim.bench.proof.search import Search, replayed
from sim.controller.ports import Inputs, Scan
from sim.controller.reference import ReferenceController
from sim.units import Us

NAME = "never closes past a reopening guard"


class BlindWhileClosing(ReferenceController):
    """Wrong: it doesn't look at the outer beam while it closes."""

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with the beam taken for clear."""
        if self.headline().state == "closing":
            inputs = replace(inputs, guard_v=(0.1, *inputs.guard_v[1:]))
        return super().scan(now, inputs)


@pytest.fixture
def loaded(monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine so busy that a minute goes by between any two looks of the search at the clock on the wall."""
    looks = itertools.count(time.monotonic(), 60.0)
    monkeypatch.setattr(search, "time", SimpleNamespace(monotonic=lambda: next(looks)))


@pytest.mark.usefixtures("loaded")
def test_a_forgotten_guard_is_found_made_short_and_found_again(stage: Stage) -> None:
    """It is as short where the machine has much else to do."""
    wrong = Stage(stage.site, BlindWhileClosing)
    properties = [CATALOGUE[NAME]]
    found = Search(wrong, properties).run(CATALOGUE[NAME].focus, 200, 1)
    assert found is not None
    assert found.property == NAME
    assert len(found.case.steps) <= 6
    assert all(step.seconds <= 0.1 for step in found.case.steps), "it waits longer than it must"
    again = Case.from_base_types(found.case.as_base_types())
    assert again == found.case
    assert again.id_of(NAME) == found.case.id_of(NAME)
    assert replayed(wrong, again, properties).breaches[NAME] == found.breach
    assert not replayed(stage, again, properties).breaches
