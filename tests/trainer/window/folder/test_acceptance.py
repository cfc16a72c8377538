"""The acceptance page: what is shown so far, and the force plan with its points, means and curves."""

from __future__ import annotations

import pygame
import pytest


def _cells(work) -> list[dict[str, object]]:
    """The points of the plan that are on the page."""
    return work.hand.all("force point")


def _see(work, cell: dict[str, object]) -> dict[str, object]:
    """Bring a point into sight; answers it where it is then."""
    index = _cells(work).index(cell)
    work.screen.folder.page.reveal(pygame.Rect(cell["rect"]))
    work.frame()
    return _cells(work)[index]


def test_checks_say_what_is_shown_and_why_not_yet(work) -> None:
    """Below the name, in words; passed ones tell when."""
    work.page("Acceptance")
    texts = work.hand.texts()
    assert "Pressed while closing, both leaves halted. Last shown at 1:35." in texts
    assert "0 of 3 readings at one point that count." in texts
    way = next(w for w in work.screen.folder.walk() if w.label == "active edge: not yet")
    assert way.help == "Press it on the closing leaf."


def test_readings_fill_their_point_and_its_curves_come_up(work) -> None:
    """Two of three, then the mean with a sign and the word."""
    work.page("Acceptance")
    assert {cell["label"] for cell in _cells(work)} == {"–"}
    for label in ("1 of 3", "2 of 3", "✓ 285 N"):
        work.session.do("read force gauge")
        work.frame()
        assert [cell["label"] for cell in _cells(work) if cell["label"] != "–"] == [label]
    plan = work.screen.folder.page.plan
    assert plan.chosen == ("active", 500.0, 860.0)
    assert len(plan.plot.curves) == 3
    assert "Within limits." in plan.told.text


def test_a_point_is_chosen_by_mouse_and_by_key_and_the_gauge_set_up_there(work) -> None:
    """The plot is empty there, its limits stand; the act gets the point's own place."""
    work.page("Acceptance")
    work.session.do("read force gauge")
    work.frame()
    cell = _see(work, _cells(work)[0])
    work.hand.click_at(work.hand.middle(cell))
    work.frame()
    plan = work.screen.folder.page.plan
    assert (plan.chosen, plan.plot.curves) == (("active", 50.0, 1360.0), ())
    assert "Nothing was read here yet; the peak may be 400 N." in plan.told.text
    work.hand.key(pygame.K_TAB, pygame.K_SPACE)
    work.frame()
    assert plan.chosen == ("active", 300.0, 1360.0)
    work.app.root.set_focus(plan.stand)
    work.hand.key(pygame.K_RETURN)
    work.frame()
    assert work.acts("place force gauge") == [
        {"leaf": "active", "direction": "closing", "gap_mm": 300.0, "height_mm": 1360.0, "rest": "rigid rest"}
    ]
    assert not plan.stand.enabled, "the gauge stands already"


@pytest.mark.parametrize(("size", "scale"), [((1280, 800), 1.0), ((1280, 800), 2.0), ((1920, 1080), 1.5)])
def test_the_words_of_a_cell_are_not_cut(open_job, size: tuple[int, int], scale: float) -> None:
    """Neither in a cell nor over a column, at any size of text."""
    work = open_job(size, scale=scale)
    for _ in range(3):
        work.session.do("read force gauge")
    work.page("Acceptance")
    style = work.app.root.style
    grid = work.screen.folder.page.plan.grid
    for widget in grid.walk():
        text = getattr(widget, "text", "") or (widget.label if widget.role == "force point" else "")
        if text:
            face = widget.face if hasattr(widget, "face") else widget._face()
            assert style.width(text, widget.size, face) <= widget.rect.width, text
