"""A view that fails in the real window: the calm panel, a journal that is whole, and the way back to work."""

from __future__ import annotations

from typing import Any

import pytest

from tests.journeys.sight import leaves_are_drawn_where_they_are
from trainer.session.journal import read_journal
from trainer.window.folder.notebook import NotebookPage

pytestmark = [pytest.mark.display, pytest.mark.slow]


def test_a_page_that_cant_be_drawn_costs_nothing_that_was_done(
    person: Any, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    """Time is held, nothing is lost; it can be tried again, and left for the front desk and resumed from there."""
    person.open_job("Meet the gate")
    person.until(lambda: person.view().board_on, "a gate with power")
    person.hold("Open", 0.5)
    person.until(lambda: person.view().leaves[0].angle_deg > 20, "the active leaf opens", 3000)

    def fails(_page: object, _view: object) -> None:
        raise ZeroDivisionError("planted")

    with monkeypatch.context() as broken:
        broken.setattr(NotebookPage, "show", fails)
        person.tab("Notebook")
        person.reads("This screen could not be drawn")
        person.reads("Nothing is lost: everything done up to now is in the journal, and the job can be resumed.")
        person.reads("ZeroDivisionError: planted")
        person.picture("calm-panel")
        held, stood = person.app.session.clock_us, person.view().leaves[0].angle_deg
        person.frames(60)
        assert person.app.session.clock_us == held, "time is held"
    assert "planted" in caplog.text
    lines = read_journal(person.app.session.journal.folder).lines
    assert [line.data["do"] for line in lines if line.kind == "action"] == ["press", "release"]

    person.click("Try again", "button")
    person.until(lambda: person.all("plan of the yard"), "the yard")
    assert person.view().leaves[0].angle_deg == pytest.approx(stood, abs=3)
    leaves_are_drawn_where_they_are(person)
    person.until(lambda: person.app.session.clock_us > held, "time goes on")

    with monkeypatch.context() as broken:
        broken.setattr(NotebookPage, "show", fails)
        person.tab("Notebook")
        person.click("To the front desk", "button")
    stood = max(line.at for line in read_journal(person.app.desk.folder / "meet_the_gate-0001").lines)
    person.click("Meet the gate", "job")
    person.click("Go on where it was left", "button")
    person.until(lambda: person.app.session is not None, "the session is back")
    assert person.app.session.world.now >= stood
    person.tab("Notebook")
    person.reads("Nothing written yet.")
