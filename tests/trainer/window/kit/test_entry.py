"""Fields to type in: text comes from the system's text events; Enter commits, Esc puts back."""

from __future__ import annotations

import pygame
import pytest

from trainer.window.kit.entry import Entry, NumberEntry
from trainer.window.kit.glyphs import Face

CTRL, SHIFT = pygame.KMOD_CTRL, pygame.KMOD_SHIFT


@pytest.fixture
def log() -> list[str]:
    """What was committed, in order."""
    return []


def value(hand) -> str:
    return next(told for told in hand.all() if told["role"] in ("text entry", "number entry"))["value"]


def test_text_comes_from_text_events_and_not_from_keys(stage, log) -> None:
    """A key event alone types nothing; accented letters arrive as text."""
    hand = stage(Entry("note", "", log.append))
    hand.key(pygame.K_TAB)
    hand.key_down(pygame.K_a, unicode="a")
    assert value(hand) == ""
    hand.type("gatè öß °")
    hand.key(pygame.K_RETURN)
    assert log == ["gatè öß °"]


def test_editing_moves_selects_erases_and_undoes(stage, log) -> None:
    """Arrows, Home, End, Shift, Backspace, Delete and Ctrl Z do what they do everywhere."""
    hand = stage(Entry("note", "", log.append))
    hand.key(pygame.K_TAB)
    hand.type("abcdef")
    hand.key(pygame.K_LEFT, pygame.K_LEFT, pygame.K_BACKSPACE)
    assert value(hand) == "abcef"
    hand.key(pygame.K_HOME)
    hand.key(pygame.K_RIGHT, pygame.K_RIGHT, mod=SHIFT)
    hand.type("X")
    assert value(hand) == "Xcef"
    hand.key(pygame.K_END, pygame.K_BACKSPACE)
    hand.key(pygame.K_HOME, pygame.K_DELETE)
    assert value(hand) == "ce"
    hand.key(pygame.K_z, mod=CTRL)
    hand.key(pygame.K_z, mod=CTRL)
    assert value(hand) == "Xcef"
    hand.key(pygame.K_a, mod=CTRL)
    hand.type("new")
    assert value(hand) == "new"


def test_focus_selects_all_so_that_typing_replaces(stage, log) -> None:
    """Tab into a field and type: the old value is gone."""
    hand = stage(Entry("note", "old", log.append))
    hand.key(pygame.K_TAB)
    hand.type("n")
    assert value(hand) == "n"


def test_esc_puts_back_what_was_there(stage, log) -> None:
    """What was not committed is forgotten by Esc, and nothing is committed."""
    hand = stage(Entry("note", "old", log.append))
    hand.key(pygame.K_TAB)
    hand.type("new")
    hand.key(pygame.K_ESCAPE)
    assert (value(hand), log) == ("old", [])


def test_letters_typed_into_a_field_are_no_shortcuts(stage, log) -> None:
    """A letter that means something to the screen means only itself in a field."""
    hand = stage(Entry("note", "", log.append))
    asked = []
    hand.root.shortcut = lambda event: bool(asked.append(event.key)) or True
    hand.key(pygame.K_TAB)
    hand.type("p1?")
    assert (value(hand), asked) == ("p1?", [])
    hand.key(pygame.K_F9)
    assert asked == [pygame.K_F9]


def test_a_value_from_outside_never_overwrites_what_is_being_typed(stage, log) -> None:
    """While something is pending the newest value only becomes what Esc goes back to."""
    entry = Entry("note", "one", log.append)
    hand = stage(entry)
    entry.show("two")
    assert value(hand) == "two"
    hand.key(pygame.K_TAB)
    hand.type("mine")
    entry.show("three")
    assert value(hand) == "mine"
    hand.key(pygame.K_ESCAPE)
    assert value(hand) == "three"


def test_a_number_steps_within_its_range(stage, log) -> None:
    """Arrows step by the step and stop at the ends; Enter commits."""
    hand = stage(NumberEntry("delay", "7", log.append, least=0, most=8, step=0.5, unit="s"))
    hand.key(pygame.K_TAB, pygame.K_UP, pygame.K_UP, pygame.K_UP)
    assert value(hand) == "8"
    hand.key(pygame.K_DOWN, pygame.K_RETURN)
    assert log == ["7.5"]


@pytest.mark.parametrize("typed", ["9", "-1", "many", ""])
def test_a_number_that_cant_be_used_is_refused_in_words(stage, log, typed) -> None:
    """Nothing is committed and a message says why."""
    hand = stage(NumberEntry("delay", "2", log.append, least=0, most=8, unit="s"))
    hand.key(pygame.K_TAB, pygame.K_BACKSPACE)
    hand.type(typed)
    hand.key(pygame.K_RETURN)
    assert log == []
    assert hand.find("message", hand.root.toasts.shown[0].text)["value"] == "refused"


def test_a_comma_is_a_decimal_point(stage, log) -> None:
    """Both ways of writing a fraction are read."""
    hand = stage(NumberEntry("delay", "2", log.append, least=0, most=8))
    hand.key(pygame.K_TAB)
    hand.type("2,5")
    hand.key(pygame.K_RETURN)
    assert log == ["2.5"]


def test_the_small_arrows_step_by_mouse(stage, log) -> None:
    """The upper half of the left edge steps up, the lower half down."""
    hand = stage(NumberEntry("delay", "2", log.append, least=0, most=8))
    place = pygame.Rect(hand.find("number entry", "delay")["rect"])
    hand.click_at((place.left + 5, place.top + 5))
    hand.click_at((place.left + 5, place.top + 5))
    hand.click_at((place.left + 5, place.bottom - 5))
    assert value(hand) == "3"


def test_a_click_puts_the_caret_at_the_letter(stage, log) -> None:
    """Typing goes on where the mouse was."""
    entry = Entry("note", "abcd", log.append)
    hand = stage(entry)
    px = hand.root.style.width("ab", 13.0, Face.REGULAR)
    words = entry._words(hand.root.style)
    hand.click_at((words.left + px, words.centery))
    hand.type("-")
    assert value(hand) == "ab-cd"
