"""Asking for a hint in a session: who answers, how strong, and what is kept of it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from trainer.job import load_named_job, resolve
from trainer.job.models import Job
from trainer.session.desk import Desk


class Answers:
    """Says how strong a hint was asked for."""

    def __init__(self, why: str = "", silent: bool = False) -> None:
        self.why, self.silent = why, silent

    def unready(self) -> str:
        return self.why

    def hint(self, history, level: int) -> str:
        return "" if self.silent else f"strength {level} at line {history.entries[-1].line if history.entries else 0}"


@pytest.fixture
def begun(tmp_path: Path):
    """A session of a job that asks for a cause, with somebody to ask or nobody."""

    def begin(answers: Answers | None, asks: str = "cause found"):
        job: Job = load_named_job("side_entrance").model_copy(update={"acceptance": (asks,), "allowed": "all"})
        of = load_named_job("side_entrance")
        job._path, job._site = of._path, of._site
        desk = Desk(folder=tmp_path, advises=None if answers is None else lambda _resolved: answers)
        return desk.begin(replace(resolve(of, 0), job=job), "advice")

    return begin


def look(session) -> None:
    assert session.do("measure", {"instrument": "look", "function": "stops", "at": "active"}).accepted


def test_hints_rise_and_stay_at_the_strongest(begun) -> None:
    """One at a time, and a new one after an act."""
    session = begun(Answers())
    for level in (1, 2, 3, 4, 4):
        reply = session.do("ask for a hint")
        assert reply.accepted
        assert reply.text.startswith(f"strength {level} ")
        assert not session.do("ask for a hint").accepted
        look(session)
    session.close()


def test_the_words_stand_in_the_journal_and_come_again(begun) -> None:
    """A replay asks nobody: the same events, the same notebook, the same state."""
    session = begun(Answers())
    look(session)
    told = session.do("ask for a hint").text
    before = session.world.digest(), [note.text for note in session.standing().notes]
    (line,) = [each for each in session.journal.living() if each.data.get("do") == "ask for a hint"]
    assert line.data["with"] == {"words": told}
    session.replay()
    assert (session.world.digest(), [note.text for note in session.standing().notes]) == before
    session.close()


def test_nobody_puts_words_into_it(begun) -> None:
    """What is answered is the adviser's."""
    session = begun(Answers())
    assert "strength 1" in session.do("ask for a hint", {"words": "it is the fuse"}).text
    session.close()


@pytest.mark.parametrize(
    ("answers", "asks", "says"),
    [
        (None, "cause found", "nobody to ask"),
        (Answers(), "handed over", "nobody to ask"),
        (Answers(why="ask again then"), "cause found", "ask again then"),
        (Answers(silent=True), "cause found", "nothing to add"),
    ],
)
def test_where_there_is_no_hint_nothing_is_charged(begun, answers, asks, says) -> None:
    """A refusal stands in no journal."""
    session = begun(answers, asks)
    reply = session.do("ask for a hint")
    assert not reply.accepted
    assert says in reply.text
    assert not any(event.kind == "hint" for event in session.history().events)
    session.close()
