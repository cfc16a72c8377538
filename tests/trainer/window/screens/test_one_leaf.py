"""The window before a gate with one leaf: the other is neither drawn nor told nor offered."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from sim.controller.settings import CATALOGUE
from trainer.grading.judge import Grader
from trainer.session.desk import Desk
from trainer.window.app import App
from trainer.window.folder.folder import PAGES

OF_THE_BOARD = {
    *(name for name in CATALOGUE if "inactive" in name),
    "inactive edge, line",
    "inactive edge, common",
    "inactive leaf motor, plus",
    "inactive leaf motor, minus",
}
"""What the board and its sheet have whatever hangs before it."""

Said = Callable[[], set[str]]


@pytest.fixture
def app(tmp_path: Path) -> Iterator[Any]:
    """The commissioning of the side entrance, open in the real window."""
    desk = Desk(Grader(), tmp_path)
    shown = App(desk, (1600, 1000))
    shown.open(desk.start("side_entrance", "practice", 0))
    shown.frame(0.0)
    yield shown
    shown.leave_session()


@pytest.fixture
def of_the_other(app: Any) -> Said:
    """Everything on the screen that speaks of an inactive leaf."""

    def found() -> set[str]:
        app.frame(0.0)
        app.frame(0.0)
        told: set[str] = set()
        nodes = [app.root.tree()]
        while nodes:
            node = nodes.pop()
            nodes += node.get("children", ())
            said = [node.get("label"), node.get("value"), *(node.get("choices") or ())]
            told |= {text for text in said if isinstance(text, str) and "inactive" in text.lower()}
        return told

    return found


@pytest.mark.parametrize("page", PAGES)
def test_no_page_offers_a_second_leaf(app: Any, of_the_other: Said, page: str) -> None:
    """Only what belongs to the board itself bears its name."""
    app.work.open_page(page)
    assert {text.lower() for text in of_the_other()} <= OF_THE_BOARD


def test_the_plan_has_one_leaf_and_its_jogs(app: Any) -> None:
    """One leaf is drawn between two posts, with one pair of jog buttons and one row of motor leads."""
    assert [name for kind, name in app.work.plan.places if kind == "leaf"] == ["active"]
    jogs = {held: button for held, button in app.work.controls.held.items() if held.startswith("jog")}
    assert set(jogs) == {"jog active open", "jog active close", "jog inactive open", "jog inactive close"}
    rows = app.work.controls._of_leaf
    assert (rows["active"].visible, rows["inactive"].visible) == (True, False)
    assert not [choice for choice in app.work.controls.leaves.choices if "nactive" in choice]


def test_forms_offer_the_leaf_there_is(app: Any) -> None:
    """An act that names a leaf is made for the one that hangs."""
    from trainer.window.form import ActionForm

    form = ActionForm(app.work.hands, "prop leaf")
    assert form.given == {"leaf": "active"}
    named = [child for row in form.children for child in row.children if getattr(child, "choices", None)]
    assert [list(child.choices) for child in named] == [["active"]]


def test_the_strip_reads_one_leaf(app: Any) -> None:
    """Readings at an instant are of one leaf and the supply."""
    readings = app.work.time.strip.readings(0.0)
    assert readings[0].startswith("active 20.0°")
    assert readings[1].startswith("supply")


def test_the_gauge_can_be_drawn_where_no_other_leaf_is(app: Any) -> None:
    """Set before the open leaf, which has no counterpart whose edge the drawing could measure from."""
    app.work.hands.do("restore", {})
    app.work.hands.do("release drive", {"leaf": "active"})
    app.work.hands.do("push leaf", {"leaf": "active", "to_deg": 90.0})
    app.work.hands.do(
        "place force gauge", {"leaf": "active", "gap_mm": 300.0, "height_mm": 950.0, "rest": "rigid rest"}
    )
    for _ in range(400):
        app.frame(1 / 60)
    assert app.work.hands.view.gauge == ("active", 300.0, 950.0)
    assert app.trouble is None
