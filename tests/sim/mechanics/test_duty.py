"""Intermittent duty: the worst stretch of a list of runs, found without looking at every stretch."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.mechanics import duty


@st.composite
def run_lists(draw: st.DrawFn) -> list[duty.Run]:
    """Runs one after the other, in whole seconds, in any order."""
    spans = draw(st.lists(st.tuples(st.integers(0, 60), st.integers(0, 40)), max_size=12))
    at, runs = 0, []
    for rest, run in spans:
        runs.append((float(at + rest), float(at + rest + run)))
        at += rest + run
    return draw(st.permutations(runs))


@given(run_lists(), st.integers(1, 200))
def test_no_stretch_holds_more_than_the_worst(runs: list[duty.Run], cycle: int) -> None:
    """Against every window on whole seconds, counted second by second: with whole numbers the peak is among them."""
    runs_at = {second for start, end in runs for second in range(int(start), int(end))}
    last = max(runs_at, default=0)
    counted = max(sum(second in runs_at for second in range(at, at + cycle)) for at in range(-cycle, last + 1))
    verdict = duty.judge(runs, 0.25, float(cycle))
    assert verdict.running_s == counted
    within = sum(second in runs_at for second in range(int(verdict.since_s), int(verdict.since_s) + cycle))
    assert within == counted, "the cycle it names is not that bad"


@given(st.lists(st.floats(0.1, 50.0), min_size=1, max_size=20), st.floats(0.0, 1e6))
def test_later_is_no_different(lengths: list[float], later: float) -> None:
    """The same runs at another time of day give the same running time, to a microsecond."""
    ends = [math.fsum(lengths[: index + 1]) + 5.0 * index for index in range(len(lengths))]
    runs = [(end - length, end) for end, length in zip(ends, lengths, strict=True)]
    shifted = [(start + later, end + later) for start, end in runs]
    assert duty.judge(shifted, 0.25).running_s == pytest.approx(duty.judge(runs, 0.25).running_s, abs=2e-6)


def test_five_cycles_in_ten_minutes_and_not_six() -> None:
    """Facts 5.4: 25 % of 10 min is 150 s; with 30 s of running a cycle that is 5 in 10 min, 30 in an hour."""
    assert duty.cycles_per_hour(0.25, 30.0) == 30.0
    five = [(120.0 * number, 120.0 * number + 30.0) for number in range(20)]
    assert duty.judge(five, 0.25).is_within
    six = [(100.0 * number, 100.0 * number + 30.0) for number in range(20)]
    verdict = duty.judge(six, 0.25)
    assert not verdict.is_within
    assert verdict.running_s == 180.0


def test_a_block_of_the_clock_would_miss_it() -> None:
    """Cut into blocks of 600 s from 0, none holds more than 100 s; from 500 s on there are 200 s."""
    verdict = duty.judge([(0.0, 0.0), (500.0, 600.0), (600.0, 700.0)], 0.25)
    assert (verdict.since_s, verdict.running_s, verdict.is_within) == (500.0, 200.0, False)


def test_the_verdict_in_words() -> None:
    """Both words, the running time, where it was and what is allowed."""
    assert str(duty.judge([(100.0, 300.0)], 0.25)) == (
        "beyond its duty: the motor ran for 200.0 s in the 600 s from 100.0 s on, allowed: 150 s"
    )
    assert str(duty.judge([], 0.25)) == (
        "within its duty: the motor ran for 0.0 s in the 600 s from 0.0 s on, allowed: 150 s"
    )


@pytest.mark.parametrize(
    ("runs", "said"),
    [([(5.0, 4.0)], "ends before it starts"), ([(0.0, 5.0), (4.0, 6.0)], "not over when another starts")],
)
def test_runs_that_can_not_be_are_refused(runs: list[duty.Run], said: str) -> None:
    """A run backwards in time, or two at once."""
    with pytest.raises(ValueError, match=said):
        duty.judge(runs, 0.25)


@pytest.mark.parametrize("share", [0.0, -0.1, 1.1, math.nan])
def test_a_duty_that_is_none_is_refused(share: float) -> None:
    """A share lies above 0 and up to 1, and a movement lasts."""
    with pytest.raises(ValueError, match="allowed: above 0 and up to 1"):
        duty.allowed_running(share)
    with pytest.raises(ValueError, match="must last"):
        duty.cycles_per_hour(0.25, 0.0)
