"""Readings before a cause is named, counted beside the expert's. Common practice, no source."""

from __future__ import annotations

import pytest

from sim.world.actions import Action, checked
from tests.trainer.grading.conftest import Play
from trainer.grading.checks.search import SEARCH
from trainer.grading.story import Story

CAUSE = "worn brushes"
METER = {"instrument": "multimeter", "function": "ohms", "at": "a", "against": "b"}


def expert(readings: int, *, names: bool = True) -> tuple[Action, ...]:
    """The acts of a solution that reads so often, names the cause, and reads once more to see that it is mended."""
    named = (checked("conclude", {"cause": CAUSE}),) if names else ()
    return (*[checked("measure", METER)] * readings, *named, checked("measure", METER))


def searched(readings: int, *, after: int = 0) -> Play:
    """Somebody who reads so often before naming a cause, and so often after."""
    play = Play()
    for _ in range(readings):
        play.do("measure", **METER)
    play.do("conclude", cause=CAUSE)
    for _ in range(after):
        play.do("measure", **METER)
    return play


def state(play: Play, way: tuple[Action, ...]) -> str:
    return SEARCH.judge(Story(play.history, {}, way)).state


@pytest.mark.parametrize(
    ("readings", "told"),
    [(0, "passed"), (3, "passed"), (9, "passed"), (10, "marginal"), (18, "marginal"), (19, "failed")],
)
def test_readings_are_counted_beside_the_expert_s(readings: int, told: str) -> None:
    """The expert takes three; twice and three more is a plan still, beyond four times and six more there was none."""
    assert state(searched(readings), expert(3)) == told


def test_what_is_read_after_the_cause_was_named_is_no_search() -> None:
    """Proving a repair asks for readings."""
    assert state(searched(3, after=40), expert(3)) == "passed"


def test_who_names_another_cause_searched_until_then() -> None:
    """The first name was taken back: what was read up to the last one counts."""
    play = searched(3)
    for _ in range(30):
        play.do("measure", **METER)
    play.do("conclude", cause="edge wet")
    assert state(play, expert(3)) == "failed"


def test_where_nothing_is_named_nothing_is_counted() -> None:
    """Neither where the job's own way names no cause, nor where the trainee doesn't."""
    assert state(searched(30), expert(3, names=False)) == "not applicable"
    assert state(searched(30), ()) == "not applicable"
    assert state(Play(), expert(3)) == "not yet"
