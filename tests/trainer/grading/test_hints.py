"""What hints cost."""

from __future__ import annotations

import pytest

from tests.trainer.grading.conftest import Play
from tests.trainer.grading.test_repair import BRUSHES, FOUND, held, run
from trainer.grading import grade, regrade
from trainer.grading.weights import Weights

ASKED = ("cause found", "fault put right", "runs after the repair", "handed over")


def graded(hints: int):
    """The same right work, with so many hints before it."""
    play = Play(FOUND)
    for number in range(1, hints + 1):
        play.do("ask for a hint", words="look")
        play.tell("hint", number=number)
        play.do("measure", instrument="look", function="stops", at="active")
        play.tell("reading", instrument="look", function="stops", red="active", shown="there")
    run(play)
    play.do("replace", what="active leaf motor brushes")
    repaired = (play.entries[-1].line, BRUSHES)
    play.do("conclude", cause=BRUSHES)
    run(play)
    play.do("hand over", shown="release, stop, lamp, freeing a person, monthly checks")
    play.stands(has=(), conclusions=held(BRUSHES), mended=(repaired,), ended="handed over")
    return grade(play.history, "working", ASKED, 60.0)


def test_each_hint_costs_what_is_stated() -> None:
    """2, 4 and 8 points of 100 for a question, a principle and a place (practice 1.3), from the diagnosis part."""
    none = {part: got for part, got, _ in graded(0).parts}
    for count, cost in ((1, 2.0), (2, 6.0), (3, 14.0)):
        made = graded(count)
        diagnosis = next(got for part, got, _ in made.parts if part == "diagnosis")
        assert none["diagnosis"] - diagnosis == pytest.approx(cost, abs=0.02)
        (finding,) = [each for each in made.findings if each.name == "hints asked for"]
        assert finding.points == pytest.approx(cost)
        assert finding.what == f"Hints: {count}."
        assert len(finding.evidence) == count


def test_hints_take_no_more_than_the_part_has() -> None:
    """Nothing falls below zero, and the parts still add up to the sum."""
    made = graded(9)
    assert next(got for part, got, _ in made.parts if part == "diagnosis") == pytest.approx(0.0)
    assert made.score <= sum(got for _, got, _ in made.parts) + 0.1


def test_who_asks_for_none_has_no_finding_of_it() -> None:
    """Nor does an older result, whose features don't count hints, when it is graded anew."""
    made = graded(0)
    assert not any(each.name == "hints asked for" for each in made.findings)
    older = {name: value for name, value in made.features.items() if name != "hints"}
    assert regrade(older).score == made.score
    assert len(Weights.__dataclass_fields__["hints"].default) == 4
