"""What was written on the sheet: how it was found, what can be put back, and that a resumed session knows it."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.units import Us
from trainer.session.desk import Desk
from trainer.session.session import Session
from trainer.session.sheet_log import SheetLog

FOUND = {"run speed": "80", "auto-close": "off", "opens first": "not stated"}


@given(st.lists(st.tuples(st.sampled_from(sorted(FOUND)), st.sampled_from(["80", "60", "off", "on"])), max_size=12))
def test_undoing_all_leads_back_to_what_was_found(writes: list[tuple[str, str]]) -> None:
    """Whatever was written, putting back what `undoable` names ends, and ends with the sheet as found."""
    log, sheet = SheetLog(FOUND), dict(FOUND)
    for setting, value in writes:
        log.wrote(Us(0), dict(sheet), sheet | {setting: value}, setting)
        sheet[setting] = value
    for _ in range(len(writes)):
        change = log.undoable
        if change is None:
            break
        before, sheet[change.setting] = dict(sheet), change.before
        log.wrote(Us(0), before, dict(sheet), change.setting)
    assert log.undoable is None
    assert sheet == FOUND


def test_an_act_counts_only_where_it_was_aimed() -> None:
    """Something else that changed meanwhile is not what the fitter wrote."""
    log = SheetLog(FOUND)
    log.wrote(Us(5), FOUND, FOUND | {"run speed": "60", "auto-close": "on"}, "run speed")
    assert [change.setting for change in log.changes] == ["run speed"]
    log.wrote(Us(6), FOUND, FOUND)
    assert len(log.changes) == 1


@pytest.fixture
def powered(tmp_path: Path) -> Session:
    """First run with power on, so that its sheet can be written on."""
    session = Desk(None, tmp_path).start("first_run", "practice", 0)
    for kind in ("cordon", "fit battery link", "restore"):
        assert session.do(kind).accepted
    return session


def _row(session: Session, name: str) -> tuple[str, str]:
    """(value, as found) of a setting."""
    return next((row.value, row.found) for row in session.observe().settings if row.name == name)


def test_a_written_setting_tells_how_it_was_found(powered: Session) -> None:
    """Only what was written on is marked; put back, it reads as found and nothing is left to undo."""
    was = _row(powered, "run speed")[0]
    assert _row(powered, "run speed")[1] == ""
    assert powered.do("set", {"setting": "run speed", "value": "60"}).accepted
    assert _row(powered, "run speed") == ("60", was)
    change = powered.observe().undo
    assert change is not None
    assert (change.setting, change.before, change.after) == ("run speed", was, "60")
    assert 0 < change.at <= powered.clock_us
    powered.do("set", {"setting": change.setting, "value": change.before})
    assert _row(powered, "run speed") == (was, was)
    assert powered.observe().undo is None


def test_a_resumed_session_can_undo_what_was_written_before(powered: Session, tmp_path: Path) -> None:
    """The log comes from the journal's replay, and going back before the change forgets it."""
    powered.do("set", {"setting": "run speed", "value": "60"})
    written, was = powered.clock_us, powered.observe().undo
    powered.close()
    again = Desk(None, tmp_path).resume("first_run")
    assert again.observe().undo == was
    assert again.go_on_from(Us(written - 25_000_000)).accepted
    assert again.observe().undo is None
    again.close()


def test_a_reset_is_undone_one_setting_at_a_time(powered: Session) -> None:
    """Each setting that the reset changed comes back by an act of its own."""
    powered.do("set", {"setting": "run speed", "value": "60"})
    powered.do("set", {"setting": "auto-close after", "value": "90"})
    written = {name: _row(powered, name)[0] for name in ("run speed", "auto-close after")}
    assert powered.do("reset sheet").accepted
    assert {name: _row(powered, name)[0] for name in written} != written
    for _ in written:
        change = powered.observe().undo
        assert change is not None
        powered.do("set", {"setting": change.setting, "value": change.before})
    assert {name: _row(powered, name)[0] for name in written} == written
