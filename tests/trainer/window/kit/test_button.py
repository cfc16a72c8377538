"""Buttons: done once on letting go over them; hold buttons act while held and let go whatever happens."""

from __future__ import annotations

import pygame
import pytest

from trainer.window.kit.button import Button, HoldButton, Toggle
from trainer.window.kit.dialog import Dialog
from trainer.window.kit.label import Label


@pytest.fixture
def log() -> list[str]:
    """What happened, in order."""
    return []


@pytest.fixture
def held(log: list[str]) -> HoldButton:
    """A hold button that writes to the log."""

    def begin() -> bool:
        log.append("down")
        return True

    return HoldButton("open", begin, lambda: log.append("up"))


def test_a_button_is_done_on_letting_go_over_it(stage, log) -> None:
    """Down does nothing yet; up over it does it, once."""
    hand = stage(Button("do", lambda: log.append("done")))
    place = hand.middle(hand.find("button", "do"))
    hand.down(place)
    assert log == []
    hand.up(place)
    assert log == ["done"]


def test_moving_off_takes_the_press_back(stage, log) -> None:
    """A press that ends elsewhere did not happen."""
    hand = stage(Button("do", lambda: log.append("done")))
    hand.down(hand.middle(hand.find("button", "do")))
    hand.move((590, 490))
    hand.up((590, 490))
    assert log == []


@pytest.mark.parametrize("key", [pygame.K_RETURN, pygame.K_KP_ENTER, pygame.K_SPACE])
def test_enter_and_space_do_it_and_a_held_key_does_it_once(stage, log, key) -> None:
    """A key that repeats presses a button only once."""
    hand = stage(Button("do", lambda: log.append("done")))
    hand.key(pygame.K_TAB)
    hand.key_down(key)
    hand.key_down(key)
    hand.key_up(key)
    assert log == ["done"]


def test_a_disabled_button_does_nothing(stage, log) -> None:
    """It can't be clicked or reached by Tab, and says so."""
    button = Button("do", lambda: log.append("done"))
    hand = stage(button)
    button.enabled = False
    hand.click("button", "do")
    hand.key(pygame.K_TAB, pygame.K_RETURN)
    assert log == []
    assert hand.find("button", "do")["enabled"] is False


def test_a_hold_button_acts_from_down_to_up(stage, log, held) -> None:
    """Mouse down presses, mouse up lets go."""
    hand = stage(held)
    place = hand.middle(hand.find("hold button", "open"))
    hand.down(place)
    assert (log, hand.find("hold button", "open")["value"]) == (["down"], True)
    hand.up(place)
    assert (log, hand.find("hold button", "open")["value"]) == (["down", "up"], False)


def test_a_held_key_presses_once_until_it_is_let_go(stage, log, held) -> None:
    """Repeats of the key change nothing; key up lets go."""
    hand = stage(held)
    hand.key(pygame.K_TAB)
    for _ in range(5):
        hand.key_down(pygame.K_SPACE)
    assert log == ["down"]
    hand.key_up(pygame.K_SPACE)
    assert log == ["down", "up"]


def _slide_off(hand, held) -> None:
    hand.move((590, 490))


def _leave_window(hand, held) -> None:
    hand.root.handle(pygame.event.Event(pygame.WINDOWLEAVE))


def _lose_focus(hand, held) -> None:
    hand.root.handle(pygame.event.Event(pygame.WINDOWFOCUSLOST))


def _minimise(hand, held) -> None:
    hand.root.handle(pygame.event.Event(pygame.WINDOWMINIMIZED))


def _tab_away(hand, held) -> None:
    hand.key(pygame.K_TAB)


def _open_dialog(hand, held) -> None:
    hand.root.open_dialog(Dialog("?", [], [("Close", "plain", lambda: None)]))


def _hide(hand, held) -> None:
    held.visible = False


def _disable(hand, held) -> None:
    held.enabled = False


def _other_screen(hand, held) -> None:
    hand.root.show(Label("another"))


@pytest.mark.parametrize(
    "happens",
    [
        _slide_off,
        _leave_window,
        _lose_focus,
        _minimise,
        _tab_away,
        _open_dialog,
        _hide,
        _disable,
        _other_screen,
    ],
)
def test_nothing_stays_held(stage, log, held, happens) -> None:
    """Whatever takes finger, focus, widget or window away lets go at once, and only once."""
    hand = stage(held, Button("other", lambda: None))
    place = hand.middle(hand.find("hold button", "open"))
    hand.down(place)
    happens(hand, held)
    assert log == ["down", "up"]
    hand.up(place)
    assert log == ["down", "up"]


def test_a_refused_press_is_not_held(stage, log) -> None:
    """When pressing is refused there is nothing to let go."""

    def refuse() -> bool:
        log.append("refused")
        return False

    hand = stage(HoldButton("open", refuse, lambda: log.append("up")))
    hand.click("hold button", "open")
    assert log == ["refused"]


def test_losing_the_window_is_told_once_to_whoever_listens(stage, log) -> None:
    """The root tells the app, which releases everything in the session."""
    hand = stage(Label("x"))
    hand.root.on_let_go = lambda: log.append("let go")
    hand.root.handle(pygame.event.Event(pygame.WINDOWFOCUSLOST))
    assert log == ["let go"]


def test_a_tick_box_flips_by_mouse_and_key(stage, log) -> None:
    """Each click or Space turns it over and says how it is now."""
    hand = stage(Toggle("shown", False, lambda on: log.append(on)))
    hand.click("tick box", "shown")
    hand.key(pygame.K_SPACE)
    assert log == [True, False]
    assert hand.find("tick box", "shown")["value"] is False


def test_one_tap_that_arrives_as_touch_and_mouse_counts_once(stage, log) -> None:
    """Some screens send a press twice; the twin at the same place is dropped (practice 3.2)."""
    hand = stage(Toggle("shown", False, lambda on: log.append(on)))
    place = hand.middle(hand.find("tick box", "shown"))
    for touch in (True, False):
        hand.root.handle(pygame.event.Event(pygame.MOUSEBUTTONDOWN, pos=place, button=1, touch=touch))
        hand.root.handle(pygame.event.Event(pygame.MOUSEBUTTONUP, pos=place, button=1, touch=touch))
    assert log == [True]
