"""Rewind in the real window: the strip is dragged, the plan shows what was, and it goes on from there, or not."""

from __future__ import annotations

from typing import Any

import pytest

from tests.journeys.sight import leaves_are_drawn_where_they_are
from trainer.session.journal import read_journal

pytestmark = [pytest.mark.display, pytest.mark.slow]


def test_he_drags_back_and_goes_on_from_there(person: Any) -> None:
    """Dragging changes nothing; going on is asked about, told, and leaves the other past in the journal."""
    _opens(person)
    ended = person.app.session.clock_us
    stood = person.view().leaves[0].angle_deg
    _drag_back(person, 6.0)
    person.reads("Nothing has changed yet.")
    shown = person.view()
    assert 3 < shown.leaves[0].angle_deg < stood - 10, "the leaf as it was"
    leaves_are_drawn_where_they_are(person)
    person.picture("looking-back")
    assert "branch" not in _kinds(person)

    person.click("Go on from here", "button")
    person.reads("is left behind. It stays in the journal, and the debrief shows it.")
    person.click("Keep looking", "button")
    assert "branch" not in _kinds(person)
    person.click("Go on from here", "button")
    person.click("Go on from there", "button")
    person.reads("Going on from")
    person.until(lambda: person.view().strip.shown_s is None, "the gate as it is now")
    assert shown.strip.shown_s * 1e6 <= person.app.session.clock_us < ended
    assert person.view().leaves[0].angle_deg == pytest.approx(shown.leaves[0].angle_deg, abs=6)
    assert "branch" in _kinds(person)
    leaves_are_drawn_where_they_are(person)
    person.choose("Wait until…", "Fully open")
    person.until(lambda: person.view().leaves[0].angle_deg > 85, "it goes on opening")

    person.choose("More", "Finish as it stands…")
    person.click("Finish", "button")
    person.reads("Left behind")
    person.reads("You went on from")
    person.picture("debrief")


def test_in_an_assessed_attempt_he_only_looks(person: Any) -> None:
    """The same drag; there is no way to go on from there, and it says so."""
    _opens(person, "Assessed")
    stood = person.view().leaves[0].angle_deg
    _drag_back(person, 6.0)
    person.reads("In an assessed attempt the past can only be looked at.")
    assert person.view().leaves[0].angle_deg < stood - 10
    leaves_are_drawn_where_they_are(person)
    assert not person.all("Go on from here", "button")
    held = person.app.session.clock_us
    person.frames(30)
    assert person.app.session.clock_us == held, "time is held while he looks"
    person.click("Back to now", "button")
    person.until(lambda: person.view().strip.shown_s is None, "the gate as it is now")
    assert person.view().leaves[0].angle_deg >= stood
    assert "branch" not in _kinds(person)
    person.until(lambda: person.view().leaves[0].angle_deg > stood + 3, "time goes on", 3000)


def _opens(person: Any, how: str = "Practice") -> None:
    person.open_job("Meet the gate", how)
    person.until(lambda: person.view().board_on, "a gate with power")
    person.hold("Open", 0.5)
    person.until(lambda: person.view().leaves[0].angle_deg > 45, "the active leaf opens", 4000)


def _drag_back(person: Any, seconds: float) -> None:
    """From the mark of now to the left, over so much time."""
    strip = person.app.work.time.strip
    now = strip.strip.end_s
    columns = range(strip.rect.left, strip.rect.right)
    start = max(x for x in columns if strip.instant_at(x) < now)
    end = max(x for x in columns if strip.instant_at(x) < max(now - seconds, 0.1))
    height = strip.rect.centery
    person.drag((start, height), (end, height))
    person.until(lambda: person.view().strip.shown_s is not None, "the past is shown")
    assert person.view().strip.shown_s == pytest.approx(now - seconds, abs=1.0)


def _kinds(person: Any) -> set[str]:
    """Kinds of line in the journal on disk."""
    return {line.kind for line in read_journal(person.app.session.journal.folder).lines}
