"""The survey page: what follows from what was written, as it is written."""

from __future__ import annotations

import pytest

from sim.site.activation import NEEDS
from trainer.session.needs import needs_of

HINGE, MEETING, WALL = "gap at the hinge", "meeting edge of the leaves", "wall behind the open active leaf"


def _write(work, hazard: str, protection: str) -> None:
    """Write an answer down."""
    work.session.do("survey hazard", {"hazard": hazard, "protection": protection})
    work.frame()


def test_a_guard_that_protects_is_to_be_proved(work) -> None:
    """With each hazard it stands for; taken away when the answer is another one."""
    work.page("Survey")
    assert "To be proved" not in work.hand.texts()
    _write(work, HINGE, "inner beam")
    _write(work, WALL, "inner beam")
    assert f"To be proved: inner beam, for {HINGE}; {WALL}." in work.hand.texts()
    _write(work, WALL, "space of half a metre kept")
    assert f"To be proved: inner beam, for {HINGE}." in work.hand.texts()


def test_a_hazard_without_a_guard_is_a_finding(work) -> None:
    """Said as soon as it is written."""
    work.page("Survey")
    _write(work, HINGE, "nothing")
    assert f"Nothing protects here: {HINGE}." in work.hand.texts()


def test_a_guard_without_a_hazard_is_a_finding_once_all_is_answered(work) -> None:
    """And not before: the answer may still come."""
    work.page("Survey")
    told = "Inner beam: fitted by the sheet, and no hazard of the survey asks for it."
    rows = work.session.observe().survey
    for row in rows[:-1]:
        _write(work, row.hazard, row.choices[0])
    assert told not in work.hand.texts()
    _write(work, rows[-1].hazard, rows[-1].choices[0])
    assert told in work.hand.texts()
    assert "Stop circuit: fitted" not in work.hand.texts(), "every gate has one"
    work.session.do("set", {"setting": "inner beam", "value": "not fitted"})
    work.frame()
    assert told not in work.hand.texts()


def test_survey_and_sheet_that_do_not_agree_are_told(work) -> None:
    """The guard protects by the survey and is not there by the sheet."""
    work.page("Survey")
    _write(work, HINGE, "inner beam")
    work.session.do("set", {"setting": "inner beam", "value": "not fitted"})
    work.frame()
    assert "Inner beam: protection by the survey, and not fitted by the sheet." in work.hand.texts()


@pytest.mark.parametrize(
    ("group", "told"),
    [
        ("instructed", "Hold-to-run: held by push button, or held by key switch"),
        ("anyone", "Hold-to-run: not allowed"),
        (
            "instructed with public",
            "A press out of sight: limited force with presence detection, or no contact possible",
        ),
    ],
)
def test_what_these_users_need_follows_from_who_they_are(work, group: str, told: str) -> None:
    """Facts 2.1, the table of minimum protection."""
    work.page("Survey")
    assert "the closing edge needs" not in work.hand.texts()
    work.session.do("state user group", {"group": group})
    work.frame()
    assert told in work.hand.texts()


def test_every_row_of_the_table_is_listed() -> None:
    """Each way of setting a gate going, for each group, with every level that is enough."""
    for (way, group), enough in NEEDS.items():
        listed = dict(needs_of(group))[way]
        assert [frozenset(levels) for levels in listed] == list(enough)
    assert needs_of("") == ()


def test_what_is_said_of_the_barriers_is_not_cut(work) -> None:
    """It goes on in a second line where the button leaves too little room."""
    work.page("Survey")
    work.session.do("cordon")
    work.frame()
    told = next(w for w in work.screen.folder.page.walk() if w.value == "Barriers and signs stand round the arc.")
    style = work.app.root.style
    assert told.wish(style, told.rect.width)[1] <= told.rect.height
    lines = style.glyphs.wrap(told.text, told.face, style.px(told.size), told.rect.width)
    assert max(style.width(line, told.size, told.face) for line in lines) <= told.rect.width
