"""Laws of what an instructor overrules: the computed mark stays; the other follows by the same weights and gates."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.errors import DataError
from trainer.grading import GRADE_MODEL, Ruling, overruled, regrade, ruled_features
from trainer.grading.overruling import BY_POINTS, checked_ruling, overruled_view
from trainer.grading.safety.catalogue import RULES
from trainer.grading.score import Features

CHECKS = {
    "guards proved": "verification",
    "handed over": "outcome",
    "sheet sealed": "record",
    "cause found": "outcome",
}
STATES = ("not yet", "passed", "marginal", "stale", "failed", "not applicable")
BREACHES = sorted(RULES)[:6]


@st.composite
def every_features(draw: st.DrawFn) -> Features:
    """Features of any attempt at a job that asks for these checks."""
    checks: Any = [
        {"name": name, "part": part, "state": draw(st.sampled_from(STATES)), "crashed": False, "accepted": True}
        for name, part in CHECKS.items()
    ]
    breaches: Any = [
        {"name": name, "severity": RULES[name].severity, "count": draw(st.integers(1, 4))}
        for name in draw(st.sets(st.sampled_from(BREACHES)))
    ]
    return Features(
        grade_model=GRADE_MODEL, job_grade=draw(st.sampled_from(["learner", "working", "senior"])), par_minutes=60.0,
        time_us=draw(st.integers(0, 10_000_000_000)), ended=draw(st.sampled_from(["", "handed over"])), checks=checks,
        breaches=breaches, redundant=draw(st.integers(0, 12)), needless=draw(st.integers(0, 3)),
    )  # fmt: skip


def ruling(finding: str, outcome: Any = "passed", **other: Any) -> Ruling:
    """Of an invented instructor."""
    given_: Any = {"by": "T. Marsh", "reason": "It was seen.", "when": "2026-05-04T09:30:00+00:00", **other}
    return Ruling(finding, outcome, **given_)


RULINGS = st.lists(
    st.builds(
        ruling,
        st.sampled_from([*CHECKS, *BREACHES]),
        st.sampled_from(["passed", "failed", "skipped"]),
        points=st.none() | st.floats(0, 100),
    )
    | st.builds(ruling, st.just("spanner left"), st.just("failed"), part=st.just("record"), points=st.floats(0, 100)),
    max_size=5,
)


@given(every_features())
def test_without_a_ruling_it_is_the_computed_mark(features: Features) -> None:
    """Nothing overruled: the same score, the same word, and nothing to show."""
    assert overruled(features, ()) == regrade(features)
    assert overruled_view(features, ()) is None


@given(every_features(), RULINGS)
def test_a_mark_stays_a_mark(features: Features, rulings: list[Ruling]) -> None:
    """From 0 to 100, whatever is ruled; what was computed is not touched."""
    before = regrade(features)
    made = overruled(features, rulings)
    assert 0.0 <= made.score <= 100.0
    assert regrade(features) == before


@given(every_features(), RULINGS)
def test_the_last_ruling_on_a_finding_counts(features: Features, rulings: list[Ruling]) -> None:
    """Earlier rulings on the same finding change nothing."""
    latest = list({each.finding: each for each in rulings}.values())
    assert overruled(features, rulings).score == pytest.approx(overruled(features, latest).score)


@given(every_features(), st.sampled_from([*CHECKS, *BREACHES]))
def test_what_is_overruled_as_passed_never_costs(features: Features, finding: str) -> None:
    """A check taken as passed, an unsafe act taken as not done: the mark is as good or better, to a rounding."""
    assert overruled(features, (ruling(finding),)).score >= regrade(features).score - 0.1


@given(every_features(), st.floats(0, 100), st.booleans())
def test_what_is_added_never_earns(features: Features, points: float, grave: bool) -> None:
    """An added finding takes what it says; a grave one holds the mark down as any grave act does."""
    made = overruled(features, (ruling("spanner left", "failed", part="safety", points=points, grave=grave),))
    assert made.score <= regrade(features).score
    if grave:
        assert made.result == "not yet competent"
        assert made.score <= 39.0


@given(every_features(), st.sampled_from(BY_POINTS))
def test_what_was_measured_can_be_forgiven(features: Features, finding: str) -> None:
    """Time and idle acts overruled as passed give back what they cost, up to what holds the mark down."""
    plain, made = regrade(features), overruled(features, (ruling(finding),))
    assert made.uncapped == pytest.approx(min(100.0, plain.uncapped + plain.lost[finding]))


def whole() -> Features:
    """Nothing wrong."""
    checks: Any = [
        {"name": name, "part": part, "state": "passed", "crashed": False, "accepted": True}
        for name, part in CHECKS.items()
    ]
    return Features(
        grade_model=GRADE_MODEL, job_grade="working", par_minutes=60.0, time_us=0, ended="handed over", checks=checks,
        breaches=[], redundant=0, needless=0,
    )  # fmt: skip


def test_a_grave_act_that_was_none_is_lifted_and_one_that_was_missed_is_laid() -> None:
    """Gates follow the rulings: the cap comes and goes with the act."""
    clean = whole()
    missed = ruled_features(clean, (ruling("bridge left", "failed"),))
    assert regrade(clean).result == "competent"
    assert regrade(missed).result == "not yet competent"
    assert overruled(missed, (ruling("bridge left"),)).result == "competent"


def test_points_of_an_instructor_stand_instead_of_the_model() -> None:
    """A passed check that costs 7 takes 7 off; the words say what was computed and what was ruled."""
    made = overruled(whole(), (ruling("sheet sealed", "passed", points=7.0),))
    assert made.score == 93.0
    view = overruled_view(whole(), (ruling("sheet sealed", "marginal", points=7.0), ruling("mud", part="record")))
    assert view is not None
    assert [(each.title, each.was, each.now) for each in view.rulings] == [
        ("Sheet sealed", "passed", "marginal"),
        ("mud", "", "passed"),
    ]


@pytest.mark.parametrize(
    ("bad", "told"),
    [
        (ruling("sheet seeled"), "did you mean 'sheet sealed'?"),
        (ruling("a thing apart"), "to add a finding of your own, say its part"),
        (ruling("sheet sealed", by=" "), "by: allowed: a text of 1 to 80 characters"),
        (ruling("sheet sealed", reason=""), "reason: allowed: a text of 1 to 400 characters"),
        (ruling("sheet sealed", points=101.0), "points: read 101; allowed: 0 to 100"),
        (ruling("sheet sealed", points=float("nan")), "points: read nan; allowed: 0 to 100"),
        (ruling("sheet sealed", "failed", grave=True), "only a finding that is added is made grave"),
        (ruling("bridge left", "marginal"), "'bridge left' is an unsafe act"),
        (ruling("time", "failed"), "'time' is measured; say how many points it costs"),
        (ruling("sheet sealed", part="record"), "'sheet sealed' is judged anyway"),
        (ruling("mud", "failed", part="record"), "'mud' is added; say how many points it costs"),
        (ruling("mud", "failed", part="garden", points=1.0), "part: read 'garden'; allowed: outcome, safety"),
        (ruling("mud", "passed", part="safety", grave=True), "'mud' is grave; allowed: failed"),
        (ruling("x" * 81, "failed", part="record", points=1.0), "finding: allowed: a text of 1 to 80 characters"),
    ],
)
def test_a_ruling_that_can_not_be_made_is_refused(bad: Ruling, told: str) -> None:
    """One sentence: what was read and what is allowed."""
    with pytest.raises(DataError) as refused:
        checked_ruling(whole(), (), bad)
    assert told in str(refused.value)


def test_what_was_added_can_be_changed() -> None:
    """Under its name and part again; without the part the sentence says so."""
    first = ruling("mud", "failed", part="record", points=5.0)
    with pytest.raises(DataError, match="name its part again"):
        checked_ruling(whole(), (first,), ruling("mud"))
    again = checked_ruling(whole(), (first,), replace(first, outcome="passed", points=None))
    assert overruled(whole(), (first,)).score == 95.0
    assert overruled(whole(), (first, again)).score == 100.0
