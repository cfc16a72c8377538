"""One of several: rows of options, fields that open a list, menus."""

from __future__ import annotations

import pygame
import pytest

from trainer.window.kit.choice import Dropdown, RadioRow
from trainer.window.kit.lists import MenuButton

CHOICES = ["reopen", "hold", "back off", "halt", "not fitted"]


@pytest.fixture
def log() -> list[str]:
    """What was chosen, in order."""
    return []


@pytest.mark.parametrize("upright", [False, True])
def test_a_radio_row_is_one_stop_and_arrows_move_the_choice(stage, log, upright) -> None:
    """Arrows go round and each step is a choice."""
    hand = stage(RadioRow("pace", ["slow", "plain", "fast"], "plain", log.append, upright=upright))
    hand.key(pygame.K_TAB, pygame.K_RIGHT, pygame.K_RIGHT, pygame.K_LEFT)
    assert log == ["fast", "slow", "fast"]
    assert hand.find("radio row", "pace")["value"] == "fast"


@pytest.mark.parametrize("upright", [False, True])
def test_a_radio_row_takes_the_option_that_was_clicked(stage, log, upright) -> None:
    """The click lands on the option under it; clicking the chosen one again says nothing."""
    row = RadioRow("pace", ["slow", "plain", "fast"], "plain", log.append, upright=upright)
    hand = stage(row)
    for n in (2, 2, 0):
        hand.click_at(row._cells[n].center)
    assert log == ["fast", "slow"]


def test_a_dropdown_opens_marks_and_takes_by_key(stage, log) -> None:
    """Space opens, arrows mark, Enter takes; the focus comes back to the field."""
    hand = stage(Dropdown("outer beam", CHOICES, "hold", log.append))
    hand.key(pygame.K_TAB)
    hand.key_down(pygame.K_SPACE, unicode=" ")
    hand.root.handle(pygame.event.Event(pygame.TEXTINPUT, text=" "))
    hand.key_up(pygame.K_SPACE)
    assert hand.focus == ("list", "outer beam")
    assert log == []
    hand.key(pygame.K_DOWN, pygame.K_DOWN, pygame.K_RETURN)
    assert log == ["halt"]
    assert hand.focus == ("dropdown", "outer beam")
    assert hand.find("dropdown", "outer beam")["value"] == "halt"


def test_letters_jump_to_the_entry_they_begin(stage, log) -> None:
    """Type-ahead finds the entry that begins with what was typed."""
    hand = stage(Dropdown("outer beam", CHOICES, "reopen", log.append))
    hand.key(pygame.K_TAB, pygame.K_DOWN)
    hand.type("not")
    hand.key(pygame.K_RETURN)
    assert log == ["not fitted"]


def test_esc_and_a_click_elsewhere_close_the_list_and_change_nothing(stage, log) -> None:
    """Opening is never choosing."""
    hand = stage(Dropdown("outer beam", CHOICES, "hold", log.append))
    for close in (lambda: hand.key(pygame.K_ESCAPE), lambda: hand.click_at((590, 490))):
        hand.click("dropdown", "outer beam")
        assert hand.all("list")
        close()
        assert not hand.all("list")
    assert log == []


def test_a_dropdown_takes_the_entry_that_was_clicked(stage, log) -> None:
    """Down marks, up takes."""
    hand = stage(Dropdown("outer beam", CHOICES, "hold", log.append))
    hand.click("dropdown", "outer beam")
    place = pygame.Rect(hand.find("list", "outer beam")["rect"])
    hand.click_at((place.centerx, place.top + place.height * 9 // 10))
    assert log == ["not fitted"]


def test_choosing_what_is_chosen_says_nothing(stage, log) -> None:
    """A choice that changes nothing writes nothing to any journal."""
    hand = stage(Dropdown("outer beam", CHOICES, "hold", log.append))
    hand.key(pygame.K_TAB, pygame.K_DOWN, pygame.K_RETURN)
    assert log == []


def test_a_menu_does_one_of_several_things(stage, log) -> None:
    """Each time it is asked anew."""
    hand = stage(MenuButton("Wait until…", ["it rests", "it moves"], log.append))
    for _ in range(2):
        hand.click("menu", "Wait until…")
        hand.key(pygame.K_DOWN, pygame.K_RETURN)
    assert log == ["it moves", "it moves"]


def test_a_long_list_stays_on_the_screen_and_keeps_the_mark_in_sight(stage, log) -> None:
    """A list of a hundred opens inside the window and scrolls."""
    field = Dropdown("terminal", [f"terminal {n}" for n in range(100)], "", log.append)
    hand = stage(field)
    hand.click("dropdown", "terminal")
    hand.key(pygame.K_END)
    popup = hand.root.layer.top
    assert hand.root.screen.contains(popup.rect)
    assert popup.first <= popup.mark < popup.first + popup._fitting()
    hand.key(pygame.K_RETURN)
    assert log == ["terminal 99"]
