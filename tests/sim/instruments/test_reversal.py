"""Going back: when it begins, how far it goes, and what only springs."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.instruments.reversal import Reversal, judge_reversal, reversal
from sim.instruments.rule_sets import REVERSAL


def test_a_plain_reversal() -> None:
    """On to the contact, a push, a stand, back: the begin is where the stand ends, the way is from the furthest."""
    time = [0.0, 1.0, 1.1, 1.5, 2.5, 4.0]
    onward = [-90.0, 0.0, 3.0, 3.0, -97.0, -97.0]
    found = reversal(time, onward, 1.0)
    assert found == Reversal(1.0, pytest.approx(0.5), pytest.approx(100.0))
    verdict = judge_reversal(found)
    assert verdict.outcome == "met"
    assert str(verdict) == (
        "met (UL-style, reversal): begins to go back after 0.50 s, at most 2 s; goes back 100 mm, at least 50.8 mm"
    )


def test_springing_back_is_not_going_back() -> None:
    """A leaf that bounces and is pushed on again begins to go back only when it is not pushed on any more."""
    time = [0.0, 1.0, 1.05, 1.15, 1.25, 3.4, 4.0]
    onward = [-90.0, 0.0, 2.0, -12.0, 1.0, 1.0, -80.0]
    found = reversal(time, onward, 1.0)
    assert found.starts_after_s == pytest.approx(2.4)
    verdict = judge_reversal(found)
    assert verdict.outcome == "not met"
    assert "begins to go back after 2.40 s" in str(verdict)


def test_a_leaf_that_stays_never_goes_back() -> None:
    """Springing back a little and staying there is no reversal; it says how little it was."""
    found = reversal([0.0, 1.0, 1.1, 9.0], [-90.0, 0.0, 3.0, -1.0], 1.0)
    assert found == Reversal(1.0, None, pytest.approx(4.0))
    assert str(judge_reversal(found)) == "not met (UL-style, reversal): goes back 4 mm, at least 50.8 mm"


def test_a_contact_between_samples_is_taken_on_the_line() -> None:
    """The record need not have a sample at the contact."""
    found = reversal([0.0, 2.0, 3.0], [-200.0, 0.0, -100.0], 1.5)
    assert found.starts_after_s == pytest.approx(0.5)
    assert found.back_mm == pytest.approx(100.0)


@given(
    stood=st.floats(0.01, 5.0),
    back=st.floats(51.0, 2000.0),
    pushed=st.floats(0.0, 30.0),
    shift=st.floats(0.0, 1000.0),
    lead=st.integers(1, 20),
)
def test_the_figures_are_those_of_the_movement(
    stood: float, back: float, pushed: float, shift: float, lead: int
) -> None:
    """Whatever came before the contact, and where the record's zero lies, the figures are the movement's own."""
    time = [*np.linspace(0.0, 1.0, lead + 1), 1.0 + stood / 2, 1.0 + stood, 3.0 + stood]
    onward = [*np.linspace(-100.0, 0.0, lead + 1), pushed, pushed, pushed - back]
    found = reversal(time, np.asarray(onward) + shift, 1.0)
    assert found.starts_after_s == pytest.approx(stood, abs=1e-9)
    assert found.back_mm == pytest.approx(back, rel=1e-9)
    assert (judge_reversal(found).outcome == "met") == (stood <= REVERSAL.start.value + 1e-9)


@pytest.mark.parametrize(
    ("time", "onward", "contact"),
    [
        ([0.0], [0.0], 0.0),
        ([0.0, 1.0], [0.0], 0.5),
        ([0.0, 0.0], [0.0, 1.0], 0.0),
        ([0.0, 1.0], [0.0, float("nan")], 0.5),
        ([0.0, 1.0], [0.0, 1.0], 1.0),
        ([0.5, 1.0], [0.0, 1.0], 0.4),
    ],
)
def test_what_is_no_record_is_refused(time: list[float], onward: list[float], contact: float) -> None:
    """Too short, unequal, not rising, not finite, or not reaching the contact: ValueError."""
    with pytest.raises(ValueError, match=r"times|movement|contact"):
        reversal(time, onward, contact)
