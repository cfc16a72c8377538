"""Notes of a session: in the journal, put right until the job has ended, and the same after an older journal."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.units import SECOND, Us
from sim.world.notebook import Note
from trainer.session.desk import Desk, with_bookwork
from trainer.session.session import Session


@pytest.fixture
def session(tmp_path: Path) -> Session:
    """First run, just begun."""
    return Desk(None, tmp_path).start("first_run", "practice", 0)


def _notes(session: Session) -> list[tuple[str, str, bool]]:
    return [(note.text, note.entry, note.struck) for note in session.observe().notes]


def test_the_three_kinds_keep_their_time_and_can_be_put_right(session: Session) -> None:
    """A suspicion becomes ruled out; a note struck out stays; each keeps when it was begun."""
    session.do("note", {"text": "lamp dark"})
    session.do("note", {"text": "lamp fuse", "entry": "suspected"})
    begun = session.observe().notes[1].at
    session.do("wait", {"seconds": 20})
    assert session.do("change note", {"number": 2, "text": "fuse whole", "entry": "ruled out"}).accepted
    assert session.do("strike note", {"number": 1}).accepted
    assert _notes(session) == [("lamp dark", "seen", True), ("fuse whole", "ruled out", False)]
    note = session.observe().notes[1]
    assert note.at == begun
    assert note.changed is not None
    assert note.changed >= begun + 20 * SECOND
    assert session.standing().notes == session.observe().notes


def test_a_note_that_is_not_there_is_refused_and_not_journalled(session: Session) -> None:
    """In words, before anything is on disk."""
    before = len(session.journal.entries())
    assert "no note 1" in session.do("strike note", {"number": 1}).text
    assert len(session.journal.entries()) == before


def test_nothing_is_put_right_after_the_end(session: Session) -> None:
    """What stands in the notebook at handover is what counts."""
    session.do("note", {"text": "done"})
    session.finish()
    assert not session.do("change note", {"number": 1, "text": "better", "entry": "seen"}).accepted
    assert _notes(session) == [("done", "seen", False)]


def test_a_resumed_session_has_its_notebook(session: Session, tmp_path: Path) -> None:
    """And going back to before a note takes it out again."""
    session.do("note", {"text": "first"})
    between = session.clock_us
    session.do("note", {"text": "second", "entry": "suspected"})
    session.do("strike note", {"number": 1})
    stood = _notes(session)
    session.close()
    again = Desk(None, tmp_path).resume("first_run")
    assert _notes(again) == stood
    assert again.go_on_from(between).accepted
    assert _notes(again) == [("first", "seen", False)]
    again.close()


def test_an_older_journal_replays_to_the_same_state(session: Session, tmp_path: Path) -> None:
    """Notes were once without a kind: they are what was seen, and what was told of them is as it was."""
    session.journal.act(session.world.now, "note", {"text": "from long ago"})
    session.journal.close()
    again = Desk(None, tmp_path).resume("first_run")
    assert again.observe().notes == (Note(Us(15 * SECOND), "from long ago", "seen", 1),)
    event = next(event for event in again.world.events if event.kind == "note")
    assert (event.text, dict(event.data)) == ("from long ago", {"text": "from long ago"})
    again.close()


def test_whoever_may_write_may_put_right() -> None:
    """Jobs that list what is allowed name the note alone."""
    assert with_bookwork(frozenset({"note", "press"})) == {"note", "press", "change note", "strike note"}
    assert with_bookwork(frozenset({"press"})) == {"press"}


def test_what_acts_note_stands_there_without_a_number(session: Session) -> None:
    """A panel that was read is noted by itself, and can't be struck out."""
    for kind in ("cordon", "fit battery link", "restore", "read status and log"):
        assert session.do(kind).accepted
    (note,) = session.observe().notes
    assert (note.entry, note.number, note.text[:6]) == ("", 0, "panel:")
    assert not session.do("strike note", {"number": 1}).accepted
