"""A wire link across a guard, through a real session: where it is grave, where a slip, where it costs nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from trainer.grading import Grade
from trainer.grading.judge import Grader
from trainer.job import load_solution
from trainer.session.desk import Desk
from trainer.session.play import Hands

HEAD = """format: gudgeon-solution/1
job: too_quick.yaml
steps:
  - cordon
  - set: {setting: auto-close after, value: 60}
"""

DEAD = """
  - isolate
  - remove battery link
  - after: 5
    prove dead: {where: both sides}
"""

LIVE = """
  - fit battery link
  - restore
  - after: 5
"""

ON, OFF = "  - bridge: {guard: stop circuit}\n", "  - remove bridge: {guard: stop circuit}\n"

NOTED = "  - note: {text: A link lay across the stop circuit to search; it is off again.}\n"

WITH_THE_FOB = """
  - press transmitter: {transmitter: "caretaker's fob"}
  - after: 0.5
    release transmitter: {transmitter: "caretaker's fob"}
  - after: 3
"""

STANDING_OPEN = """
  - press: {control: open button}
  - after: 0.5
    release: {control: open button}
  - when: {fully: open, within: 90}
"""

UNDER_A_HAND = """
  - press: {control: open button}
  - after: 2
    release: {control: open button}
  - when: {gate: rests, within: 30}
"""

BY_A_HAND_ALONE = "  - set: {setting: open and close buttons, value: hold-to-run}\n"

LEAVING = '  - hand over: {shown: "release, stop, lamp, freeing a person, monthly checks"}\n'

LEFT, MOVED, UNNOTED = "bridge left", "guard bridged while moving by itself", "bridge not noted"
ABOUT_LINKS = {LEFT, MOVED, UNNOTED}


def played(folder: Path, *passages: str) -> Grade:
    """The grade of somebody who does that and leaves."""
    file = folder / "steps.yaml"
    file.write_text(HEAD + "".join(passages), encoding="utf-8")
    session = Desk(Grader(), folder / "kept").start("too_quick", "practice", 0)
    try:
        Hands(session).play(load_solution(file).steps)
        session.finish()
        return Grader().graded(session.history(), session.assignment)
    finally:
        session.close()


def about_links(grade: Grade) -> dict[str, bool]:
    """Each finding about a link that counts against somebody, and whether it is grave."""
    return {f.name: f.grave for f in grade.findings if f.outcome == "failed" and f.name in ABOUT_LINKS}


def test_left_in_at_leaving_is_grave(tmp_path: Path) -> None:
    """However it was noted, and although nothing moved with it in: at most 39, and the job's own gate is shut."""
    grade = played(tmp_path, DEAD, ON, NOTED, LEAVING)
    assert about_links(grade) == {LEFT: True}
    assert "no bridge left" in {f.name for f in grade.findings if f.outcome == "failed"}
    assert grade.score <= 39
    assert grade.result == "not yet competent"


@pytest.mark.parametrize(
    "passages",
    [
        (DEAD, ON, LIVE, WITH_THE_FOB, "  - when: {gate: rests, within: 90}\n", DEAD, OFF, NOTED),
        (STANDING_OPEN, ON, "  - when: {fully: closed, within: 150}\n", DEAD, OFF, NOTED),
    ],
    ids=["a fob", "auto-close"],
)
def test_in_place_while_the_gate_moves_by_itself_is_grave(tmp_path: Path, passages: tuple[str, ...]) -> None:
    """Whoever sent it: a fob in a pocket, or nobody at all. That it came off and was noted doesn't help."""
    grade = played(tmp_path, *passages)
    assert about_links(grade) == {MOVED: True}
    assert grade.score <= 39
    assert grade.result == "not yet competent"


@pytest.mark.parametrize(
    "passages",
    [
        (DEAD, ON, OFF, NOTED, LIVE),
        (BY_A_HAND_ALONE, DEAD, ON, LIVE, UNDER_A_HAND, DEAD, OFF, NOTED, LIVE),
    ],
    ids=["under isolation", "under one move by hold-to-run"],
)
def test_fitted_and_removed_and_noted_is_not_held_against_anybody(tmp_path: Path, passages: tuple[str, ...]) -> None:
    """Dead, or with a hand on the button: nothing unsafe at all is found."""
    grade = played(tmp_path, *passages)
    assert about_links(grade) == {}
    assert not any(f.grave for f in grade.findings)
    assert grade.features["breaches"] == []


def test_without_a_note_it_is_a_bad_habit_and_not_grave(tmp_path: Path) -> None:
    """Fitted and removed dead, and nowhere written down."""
    grade = played(tmp_path, DEAD, ON, OFF, LIVE)
    assert about_links(grade) == {UNNOTED: False}
    assert [each["severity"] for each in grade.features["breaches"]] == ["minor"]
