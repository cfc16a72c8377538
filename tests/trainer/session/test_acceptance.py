"""The acceptance as a session shows it: why not yet, when it was shown, and what an assessed attempt is not told."""

from __future__ import annotations

from pathlib import Path

import pytest

from trainer.grading.judge import Grader
from trainer.session.acceptance import WORDS_AT_THE_END, CheckView
from trainer.session.assignment import Mode
from trainer.session.desk import Desk
from trainer.session.session import Session


def _begin(tmp_path: Path, mode: Mode) -> Session:
    """First run with a judge, its survey begun with one wrong answer."""
    session = Desk(Grader(), tmp_path).start("first_run", mode, 0)
    row = session.observe().survey[0]
    assert session.do("survey hazard", {"hazard": row.hazard, "protection": "nothing"}).accepted
    return session


def _checks(session: Session) -> dict[str, CheckView]:
    return {check.name: check for check in session.observe().checks}


def test_each_check_says_why_not_yet_and_how_it_is_shown(tmp_path: Path) -> None:
    """In practice the reason and the way stand beside the state, which is that of the plain list."""
    session = _begin(tmp_path, "practice")
    checks, view = _checks(session), session.observe()
    assert tuple((check.name, check.state) for check in view.checks) == view.acceptance
    assert "0 of 3 readings" in checks["closing force measured"].what
    assert "Meter on a rigid rest" in checks["closing force measured"].how
    assert all(check.how for check in view.checks)
    assert {name for name, check in checks.items() if not check.what} == WORDS_AT_THE_END & set(checks)


def test_what_was_shown_tells_when(tmp_path: Path) -> None:
    """The survey's act is what shows its state."""
    session = _begin(tmp_path, "practice")
    check = _checks(session)["survey complete"]
    assert check.at is not None
    assert 0 <= check.at <= session.clock_us
    assert check.state in ("failed", "not yet")


@pytest.mark.parametrize("name", ["survey complete", "closing force measured"])
def test_an_assessed_attempt_gets_no_guidance(tmp_path: Path, name: str) -> None:
    """No answer is marked, no way is told; at the end everything is."""
    session = _begin(tmp_path, "assessed")
    check = _checks(session)[name]
    assert (check.state, check.what, check.how) == ("not yet", "", "")
    session.finish()
    assert _checks(session)[name].what
