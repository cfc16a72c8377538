"""What is asked about before it is done: everything with a caution in the catalogue, and what bites only now."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sim.world.actions import CATALOGUE
from trainer.window.canned import CannedSession
from trainer.window.cautions import caution_for


@pytest.mark.parametrize("kind", sorted(kind for kind, entry in CATALOGUE.items() if entry.caution))
def test_every_caution_of_the_catalogue_is_asked(kind) -> None:
    """With power on, none of them is passed over."""
    assert caution_for(kind, {}, CannedSession().observe()) == CATALOGUE[kind].caution


@pytest.mark.parametrize(("value", "asked"), [("34", False), ("35", False), ("36", True), ("many", False)])
def test_only_more_effort_is_asked_about(value, asked) -> None:
    """The sheet stands at 35 %: what is written is compared as a number."""
    view = CannedSession().observe()
    told = caution_for("set", {"setting": "motor effort, closing", "value": value}, view)
    assert bool(told) is asked


def test_a_dead_place_is_probed_without_a_question() -> None:
    """No terminal that may be live is touched: nothing to say."""
    view = CannedSession().observe()
    dead = replace(view, terminals=tuple(replace(terminal, live=False) for terminal in view.terminals))
    given = {"function": "ohms", "red": "isolator inlet, live", "black": "battery, minus"}
    assert caution_for("place probes", given, view)
    assert not caution_for("place probes", given, dead)
