"""What a graded attempt shows of a college's competences follows from its checks and its unsafe acts alone."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.grading import GRADE_MODEL, standings
from trainer.grading.score import Features
from trainer.job import Competence

CHECKS = ("guards proved", "handed over", "sheet sealed", "survey complete")
RULES = ("bridge left", "work live")
PROVES = Competence(name="Proves", about="Proves it.", checks=CHECKS[:2], rules=RULES[:1])

STATES = st.dictionaries(
    st.sampled_from(CHECKS),
    st.sampled_from(["not yet", "passed", "marginal", "stale", "failed", "not applicable"]),
)
BROKEN = st.sets(st.sampled_from(RULES))


def features(states: dict[str, str], broken: Any = (), crashed: Any = ()) -> Features:
    """Checks in these states, rules that were broken."""
    checks: Any = [
        {"name": name, "part": "outcome", "state": state, "crashed": name in crashed, "accepted": True}
        for name, state in states.items()
    ]
    breaches: Any = [{"name": name, "severity": "serious", "count": 1} for name in sorted(broken)]
    return Features(
        grade_model=GRADE_MODEL, job_grade="working", par_minutes=10.0, time_us=0, ended="", checks=checks,
        breaches=breaches, redundant=0,
    )  # fmt: skip


def state(states: dict[str, str], broken: Any = (), crashed: Any = ()) -> str:
    """How the competence stands then."""
    return standings(features(states, broken, crashed), (PROVES,))[0].state


@pytest.mark.parametrize(
    ("states", "broken", "told"),
    [
        ({}, (), "not asked"),
        ({"sheet sealed": "passed"}, ("work live",), "not asked"),
        ({"guards proved": "not applicable"}, (), "not asked"),
        ({"guards proved": "passed"}, (), "shown"),
        ({"guards proved": "passed", "handed over": "marginal"}, (), "shown"),
        ({"guards proved": "passed", "handed over": "stale"}, (), "not shown"),
        ({"guards proved": "not yet"}, (), "not shown"),
        ({"guards proved": "passed"}, ("bridge left",), "not shown"),
        ({}, ("bridge left",), "not shown"),
    ],
)
def test_a_competence_stands_by_the_stated_rule(states: dict[str, str], broken: Any, told: str) -> None:
    """Shown by what was judged and passed, undone by an unsafe act, and open where nothing was asked."""
    assert state(states, broken) == told


def test_it_says_why() -> None:
    """The checks that show it, those that don't, or the unsafe act, by their titles."""
    for states, broken, why in (
        ({"guards proved": "passed"}, (), "Passed: "),
        ({"guards proved": "failed"}, (), "Not passed: "),
        ({"guards proved": "passed"}, ("bridge left",), "Unsafe: "),
    ):
        assert standings(features(states, broken), (PROVES,))[0].why.startswith(why)


@given(STATES, BROKEN)
def test_an_unsafe_act_never_shows_anything(states: dict[str, str], broken: set[str]) -> None:
    """With one of its rules broken nothing is shown; without, nothing turns from shown to not shown by that."""
    assert state(states, broken | {"bridge left"}) == "not shown"
    assert state(states, broken - {"bridge left"}) == state(states)


@given(STATES, st.sampled_from(CHECKS[:2]))
def test_passing_more_never_takes_a_competence_away(states: dict[str, str], name: str) -> None:
    """One check more that passed leaves what was shown shown."""
    order = ("not shown", "not asked", "shown")
    assert order.index(state(states | {name: "passed"})) >= order.index(state(states))


@given(STATES, st.sampled_from(CHECKS))
def test_a_check_that_crashed_says_nothing(states: dict[str, str], name: str) -> None:
    """The product's failure is never the trainee's."""
    without = {each: state for each, state in states.items() if each != name}
    assert state(states, (), {name}) == state(without)
