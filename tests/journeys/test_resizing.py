"""The window is made larger and small again while somebody works: all is where it is shown, at every size."""

from __future__ import annotations

from typing import Any

import pytest

from tests.journeys.sight import leaves_are_drawn_where_they_are

pytestmark = [pytest.mark.display, pytest.mark.slow]

SIZES = ((1920, 1080), (3840, 2160), (1280, 800))


def test_the_window_grows_and_shrinks_while_the_gate_moves(person: Any) -> None:
    """Nothing sticks out, text grows with a large window, and what is clicked is what is there."""
    person.open_job("Meet the gate")
    person.until(lambda: person.view().board_on, "a gate with power")
    person.hold("Open", 0.5)
    person.until(lambda: person.view().leaves[0].angle_deg > 15, "the active leaf opens", 3000)
    at_first = _heights(person)
    for size, page in zip(SIZES, ("Notebook", "Sheet", "Brief"), strict=True):
        before = person.view().leaves[0].angle_deg
        person.resize(size)
        leaves_are_drawn_where_they_are(person)
        assert person.view().leaves[0].angle_deg >= before, "it goes on meanwhile"
        _inside(person, size)
        person.tab(page)
        person.until(lambda p=page: person.find("folder", "tabs")["value"] == p, page)
        person.choose("Guards", "Outer beam: Hold a card before it")
        person.until(lambda: person.view().guards[0].tripped, "the beam is covered")
        person.choose("Guards", "Outer beam: Uncover it")
        person.picture(f"{size[0]}")
        if size == (3840, 2160):
            assert _heights(person) == pytest.approx(2 * at_first, abs=2)
    assert _heights(person) == at_first
    person.until(lambda: person.view().leaves[0].angle_deg > 85, "it opens", 4000)
    leaves_are_drawn_where_they_are(person)


def _heights(person: Any) -> int:
    """How high the open button is [px]."""
    return int(person.find("Open", "hold button")["rect"][3])


def _inside(person: Any, size: tuple[int, int]) -> None:
    """The screen fills the window, and what always stands in sight lies within it."""
    screen = person.find("work", "screen")
    assert screen["rect"] == (0, 0, *size)
    for label, role in (
        ("Pause", "button"),
        ("More", "menu"),
        ("plan of the yard", "drawing"),
        ("Open", "hold button"),
        ("Stop", "hold button"),
        ("folder", "tabs"),
        ("time strip", "time strip"),
    ):
        x, y, wide, high = person.find(label, role)["rect"]
        assert 0 <= x < x + wide <= size[0], label
        assert 0 <= y < y + high <= size[1], label
        assert min(wide, high) >= 32, label
