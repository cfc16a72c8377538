"""A drill that was left or killed is gone on with: world, instructor and what comes are as if nobody had gone."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from sim.errors import JournalError
from sim.units import SECOND, Us
from trainer.drills import Instructor, begin, resume
from trainer.drills.shelf import Shelf
from trainer.job import load_drill, load_solution, scenarios_folder
from trainer.session.desk import Desk
from trainer.session.play import Hands
from trainer.session.session import Session

FILE = scenarios_folder() / "drills" / "beam_goes_dark.yaml"

QUESTION = """\
format: gudgeon-drill/1
title: A question
job: meet_the_gate.yaml
steps:
  - at: 1.0
    message: Good morning.
  - at: 2.0
    freeze: What do you see?
  - at: 3.0
    inject: {name: rag, cover: outer beam}
  - after: 20.0
    message: Well?
"""


def told(instructor: Instructor) -> list[tuple[Us, str, str]]:
    """What he did when."""
    return [(done.at, done.kind, done.text) for done in instructor.log]


def killed(session: Session, other: Path) -> Desk:
    """Another desk whose attempts are those on disk at this instant, as a killed process leaves them."""
    shutil.copytree(session.journal.folder.parent, other)
    return Desk(folder=other)


@pytest.mark.slow
def test_killed_anywhere_it_goes_on_to_the_same_end(tmp_path: Path) -> None:
    """The shipped drill with its solution, killed again and again: same digest, same words at the same instants."""
    drill = load_drill(FILE)
    assert drill.solution is not None
    steps = load_solution(drill.solution, drill.resolved.values).steps
    session, instructor = begin(drill, Desk(folder=tmp_path / "straight"))
    hands, desks = Hands(session), []
    for number, step in enumerate(steps, start=1):
        hands.play([step])
        if number % 3 == 0 and number < len(steps) and not session.world.held:
            desks.append((number, killed(session, tmp_path / f"after {number}")))
    end, log = session.world.digest(), told(instructor)
    assert {kind for _at, kind, _text in log} >= {"inject", "clear", "message", "freeze"}
    assert len(desks) >= 3
    for number, desk in desks:
        again, beside = resume(drill, desk)
        assert told(beside) == log[: len(beside.log)], number
        Hands(again).play(steps[number:])
        assert told(beside) == log, number
        assert again.world.digest() == end, number
        again.close()
    session.close()


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    """One drill that asks something."""
    folder = tmp_path / "scenarios/drills"
    folder.mkdir(parents=True)
    for name in ("jobs", "sites"):
        (tmp_path / "scenarios" / name).symlink_to(scenarios_folder() / name)
    (folder / "question.yaml").write_text(QUESTION, encoding="utf-8")
    return Shelf(Desk(folder=tmp_path / "attempts"), folder)


def test_the_front_desk_shows_it_as_unfinished_until_it_is_over(shelf: Shelf) -> None:
    """Left: unfinished, and the same attempt goes on; finished: no longer. There is none before it was begun."""
    (card,) = shelf.drills()
    assert not card.unfinished
    with pytest.raises(JournalError, match="no unfinished attempt"):
        shelf.resume(card.path, lambda _said: None)
    person = shelf.start(card.path, lambda _said: None)
    person.tick(0.1)
    person.close()
    assert [each.unfinished for each in shelf.drills()] == [True]
    again = shelf.resume(card.path, lambda _said: None)
    assert again.session.journal.folder == person.session.journal.folder
    again.finish()
    again.close()
    assert [each.unfinished for each in shelf.drills()] == [False]


def test_an_open_question_is_asked_again_and_nothing_else(shelf: Shelf) -> None:
    """What was heard isn't said twice; time stands still until the question is answered, then he goes on."""
    (card,) = shelf.drills()
    heard: list[str] = []
    person = shelf.start(card.path, heard.append)
    for _ in range(25):
        person.tick(0.1)
    assert person.observe().paused
    person.close()
    again = shelf.resume(card.path, heard.append)
    assert heard == ["Good morning.", "What do you see?", "What do you see?"]
    again.tick(0.1)
    stands = again.session.clock_us
    for _ in range(10):
        again.tick(0.1)
    assert again.session.clock_us == stands
    again.pause(False)
    for _ in range(30):
        again.tick(0.1)
    again.close()
    third = shelf.resume(card.path, heard.append)
    assert len(heard) == 3
    assert not third.observe().paused
    covered = {guard.name for guard in third.observe().guards if guard.by_hand}
    assert covered == {"outer beam"}
    for _ in range(220):
        third.tick(0.1)
    assert heard[-1] == "Well?"
    third.close()


def test_going_on_from_earlier_has_him_do_again_what_comes(shelf: Shelf) -> None:
    """What he changed after that moment is not so yet, and comes again in its time."""
    (card,) = shelf.drills()
    person = shelf.start(card.path, lambda _said: None)
    for _ in range(25):
        person.tick(0.1)
    person.pause(False)
    for _ in range(20):
        person.tick(0.1)
    assert person.session.world.people.covered == {"outer beam"}
    assert person.go_on_from(Us(2_500_000)).accepted
    assert person.session.world.people.covered == set()
    person.tick(0.1)
    person.pause(False)
    for _ in range(10):
        person.tick(0.1)
    assert person.session.world.people.covered == {"outer beam"}
    person.close()


def test_with_other_steps_it_cant_be_gone_on_with(shelf: Shelf) -> None:
    """He would remember what never happened: it is said, and the attempt stays as it is."""
    (card,) = shelf.drills()
    person = shelf.start(card.path, lambda _said: None)
    person.session.run_for(Us(5 * SECOND))
    person.close()
    Path(card.path).write_text(QUESTION.replace("cover: outer beam", "unplug: outer beam"), encoding="utf-8")
    with pytest.raises(JournalError, match="steps of this drill are other ones"):
        shelf.resume(card.path, lambda _said: None)
    Path(card.path).write_text(QUESTION, encoding="utf-8")
    shelf.resume(card.path, lambda _said: None).close()
