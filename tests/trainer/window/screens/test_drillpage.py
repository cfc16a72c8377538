"""The instructor's page: drills are chosen and begun; what the instructor says is said on the screen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import pygame
import pytest

from trainer.drills.shelf import DrillCard
from trainer.window.app import App
from trainer.window.canned import CannedDesk, CannedSession


@dataclass
class Shelf:
    """Two drills, one of them broken."""

    started: list[str] = field(default_factory=list)
    gone_on: list[str] = field(default_factory=list)
    left: bool = False

    def drills(self) -> list[DrillCard]:
        about = "Since this morning it opens again."
        return [
            DrillCard("drills/dark.yaml", "The beam goes dark", "Meet the gate", 30, about, unfinished=self.left),
            DrillCard("drills/broken.yaml", "broken", "", 0, "drills/broken.yaml:2 job: missing", usable=False),
        ]

    def start(self, file: str, say: Callable[[str], None]) -> CannedSession:
        self.started.append(file)
        say("Go ahead, try it.")
        return CannedSession()

    def resume(self, file: str, say: Callable[[str], None]) -> CannedSession:
        self.gone_on.append(file)
        return CannedSession()


@pytest.fixture
def instructor(stage):
    """An instructor at the front desk: app, hand, shelf."""
    app = App(CannedDesk(), (1280, 800))
    app.shelf = shelf = Shelf()
    app.appearance.prefer(who="instructor")
    app.show_desk()
    app.frame(0.0)
    hand = stage()
    hand.root = app.root
    return app, hand, shelf


def test_an_instructor_finds_drills_first_and_begins_one_by_keys(instructor) -> None:
    """Tab to the list, Enter; the work screen opens and the instructor's word stands on it."""
    app, hand, shelf = instructor
    while hand.focus != ("table", "drills"):
        hand.key(pygame.K_TAB)
    hand.key(pygame.K_RETURN)
    assert shelf.started == ["drills/dark.yaml"]
    assert app.work is not None
    assert [told["label"] for told in hand.all("message")] == ["Go ahead, try it."]


def test_a_broken_drill_says_why_and_cant_be_begun(instructor) -> None:
    """Its reason in the place of the customer's words."""
    _app, hand, shelf = instructor
    while hand.focus != ("table", "drills"):
        hand.key(pygame.K_TAB)
    hand.key(pygame.K_DOWN, pygame.K_RETURN)
    assert "drills/broken.yaml:2 job: missing" in hand.texts()
    assert hand.find("button", "Start the drill")["enabled"] is False
    assert shelf.started == []


def test_without_a_shelf_there_is_nothing_to_choose(stage) -> None:
    """Said, not hidden."""
    app = App(CannedDesk(), (1280, 800))
    app.appearance.prefer(who="instructor")
    app.show_desk()
    app.frame(0.0)
    hand = stage()
    hand.root = app.root
    assert hand.find("table", "drills")["value"] == 0
    assert hand.find("button", "Start the drill")["enabled"] is False


def test_a_drill_that_was_left_is_unfinished_and_enter_goes_on_with_it(instructor) -> None:
    """The list says so, and what was the start begins anew."""
    app, hand, shelf = instructor
    shelf.left = True
    app.show_desk()
    app.frame(0.0)
    assert "unfinished" in hand.texts()
    assert hand.find("button", "Start anew")["enabled"]
    while hand.focus != ("table", "drills"):
        hand.key(pygame.K_TAB)
    hand.key(pygame.K_RETURN)
    app.frame(0.0)
    assert (shelf.started, shelf.gone_on) == ([], ["drills/dark.yaml"])
    app.show_desk()
    app.frame(0.0)
    hand.click("button", "Go on where it was left")
    app.frame(0.0)
    assert shelf.gone_on == ["drills/dark.yaml"] * 2
