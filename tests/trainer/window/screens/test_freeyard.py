"""The free yard at the front desk: a gate, what ails it, and no job; by mouse and by keys alone."""

from __future__ import annotations

from types import SimpleNamespace

import pygame
import pytest

from sim.errors import ScenarioError
from trainer.window.app import App
from trainer.window.canned import CannedDesk


@pytest.fixture
def yard(stage):
    """The app on the page of the free yard, all faults tried."""

    def make(scale: float = 1.0, left: str = ""):
        canned = CannedDesk()
        canned.left = left
        app = App(canned, (1280, 800), scale=scale)
        hand = stage()
        hand.root = app.root
        app.frame(0.0)
        hand.click("option", "Free yard")
        for _ in range(8):
            app.frame(0.0)
        return SimpleNamespace(app=app, desk=canned, hand=hand)

    return make


def rows(hand) -> list[str]:
    """Rows of the list of faults."""
    table = next(told for told in hand.all("table", "faults"))
    return [row["label"] for row in table["children"]]


def focus_on(hand, role: str, label: str) -> None:
    """Tab until it has the focus."""
    for _ in range(40):
        if hand.focus == (role, label):
            return
        hand.key(pygame.K_TAB)
    raise AssertionError(f"Tab never came to {role} {label}")


def test_a_yard_is_opened_by_keys_alone(yard) -> None:
    """Find a fault, put it on, say how grave, choose how the gate is found, type a draw, Enter."""
    at = yard()
    focus_on(at.hand, "text entry", "find a fault")
    at.hand.type("brushes")
    assert len(rows(at.hand)) == 1
    focus_on(at.hand, "table", "faults")
    at.hand.key(pygame.K_RETURN)
    assert rows(at.hand)[0].startswith("✓")
    focus_on(at.hand, "radio row", "how it is found")
    at.hand.key(pygame.K_RIGHT)
    focus_on(at.hand, "radio row", "how grave: worn brushes")
    at.hand.key(pygame.K_LEFT)
    focus_on(at.hand, "number entry", "draw")
    at.hand.type("7")
    at.hand.key(pygame.K_RETURN)
    assert at.desk.yards == [("sites/orchard_row.yaml", (("worn brushes", 0.5),), False, 7)]
    assert at.app.work is not None


def test_a_fault_is_put_on_and_taken_off_with_the_mouse(yard) -> None:
    """A click marks and tells, the button puts it on; on the other side it can be taken off again."""
    at = yard()
    table = at.hand.find("table", "faults")
    at.hand.click_at(pygame.Rect(table["children"][3]["rect"]).center)
    assert "Seized hinge: “It groans" in at.hand.texts()
    at.hand.click("button", "Put it on the gate")
    at.app.frame(0.0)
    assert at.hand.all("radio row", "how grave: seized hinge")
    at.hand.click("button", "Take off")
    assert "Nothing: it is sound." in at.hand.texts()


def test_another_gate_drops_what_it_cant_have(yard) -> None:
    """A fault of a part that isn't there is neither listed nor kept."""
    at = yard()
    focus_on(at.hand, "table", "faults")
    at.hand.key(pygame.K_DOWN, pygame.K_DOWN, pygame.K_RETURN)
    assert at.hand.all("radio row", "how grave: edge wet")
    at.hand.click("dropdown", "site")
    at.hand.click("option", "Bellows Passage")
    for _ in range(8):
        at.app.frame(0.0)
    assert not at.hand.all("radio row", "how grave: edge wet")
    assert len(rows(at.hand)) == 4
    at.hand.click("button", "Open the yard")
    assert at.desk.yards == [("sites/bellows_passage.yaml", (), True, 0)]


def test_a_site_file_of_ones_own_is_taken_and_a_broken_one_is_told(yard) -> None:
    """The complaint of the file stands on the screen, and the gate that was chosen stays."""
    at = yard()
    focus_on(at.hand, "text entry", "site file")
    at.hand.type("broken")
    at.hand.key(pygame.K_RETURN)
    assert any("name: read 7" in told["label"] for told in at.hand.all("message"))
    assert at.hand.find("dropdown", "site")["value"] == "Orchard Row"
    at.hand.key(pygame.K_ESCAPE)
    at.hand.type("mine")
    at.hand.click("button", "Read")
    assert at.hand.find("dropdown", "site")["value"] == "My own gate"


def test_a_site_that_isnt_usable_is_not_offered(yard) -> None:
    """The list of sites holds those that can be opened."""
    at = yard()
    at.hand.click("dropdown", "site")
    assert [told["label"] for told in at.hand.find("list", "site")["children"]] == ["Orchard Row", "Bellows Passage"]


def test_a_yard_that_was_left_is_offered_first(yard) -> None:
    """With the name of its place."""
    at = yard(left="Mill Lane")
    assert "You left a free yard at Mill Lane." in at.hand.texts()
    at.hand.click("button", "Go on where it was left")
    assert at.desk.yards == [("Mill Lane", (), True, 0)]


def test_what_the_desk_cant_read_is_told_in_the_list(yard) -> None:
    """A site whose faults can't be tried leaves the page standing."""
    at = yard()

    def broken(site: str):
        raise ScenarioError([f"{site}:1 nothing here"])
        yield

    at.desk.faults = broken
    at.hand.click("dropdown", "site")
    at.hand.click("option", "Bellows Passage")
    for _ in range(3):
        at.app.frame(0.0)
    assert "nothing here" in at.hand.texts()


def test_in_a_free_yard_there_is_no_job_to_end(yard) -> None:
    """Neither in the menu nor in the folder; the brief says what it is."""
    at = yard()
    at.hand.click("button", "Open the yard")
    at.app.frame(0.0)
    menu = next(w for w in at.app.root.layer.top.walk() if w.role == "menu" and w.label == "More")
    assert {"Finish as it stands…", "Debrief"} & set(menu.choices) == set()
    assert "Leave; resume later" in menu.choices
    assert "nothing is graded" in at.hand.texts()
    assert at.hand.all("heading", "Free yard")
    at.app.work.open_page("Acceptance")
    at.app.frame(0.0)
    assert at.hand.all("heading", "Closing force")
    assert not at.hand.all("heading", "Hand over")


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_everything_of_the_page_can_be_reached_at_any_size_of_text(yard, scale) -> None:
    """Each stop comes into sight when it gets the focus, and is high enough to be pressed."""
    at = yard(scale)
    for _ in range(len(at.app.root.stops())):
        at.hand.key(pygame.K_TAB)
        at.app.frame(0.0)
        focus = at.app.root.focus
        assert focus is not None
        assert at.app.root.screen.colliderect(focus.rect), focus.label
        assert focus.rect.height >= 32 * scale, focus.label


def test_drawing_takes_no_fault_in_and_each_frame_one(stage) -> None:
    """The list fills as frames go by, however often it is drawn, and it goes on behind a dialog."""
    app = App(CannedDesk(), (1280, 800))
    hand = stage()
    hand.root = app.root
    app.frame(0.0)
    hand.click("option", "Free yard")
    faults = app.root.layers[0].top._made["Free yard"].faults
    there = len(faults.fitting)
    for _ in range(3):
        app.root.draw(app.window)
    assert len(faults.fitting) == there
    app.open_settings()
    app.frame(0.0)
    app.frame(0.0)
    assert len(faults.fitting) == there + 2


def test_a_word_counts_for_faults_that_still_come_in(stage) -> None:
    """What is typed while faults come in narrows those that come later too, and the first listed is marked."""
    app = App(CannedDesk(), (1280, 800))
    hand = stage()
    hand.root = app.root
    app.frame(0.0)
    hand.click("option", "Free yard")
    faults = app.root.layers[0].top._made["Free yard"].faults
    last = list(CannedDesk().faults(""))[-1].name
    assert last not in [card.name for card in faults.fitting]
    faults.words.text = last
    faults.words.on_change(last)
    assert rows(hand) == []
    for _ in range(8):
        app.frame(0.0)
    assert [card.name for card in faults.listed] == [last]
    assert len(rows(hand)) == 1
    assert faults.table.mark == 0
    assert last in faults.told.text.lower()
