"""The one focus: Tab order, traps, regions, and what happens to focus when a widget goes."""

from __future__ import annotations

import pygame

from trainer.window.kit.boxes import Column
from trainer.window.kit.button import Button
from trainer.window.kit.dialog import Dialog
from trainer.window.kit.entry import Entry
from trainer.window.kit.label import Label

TAB = pygame.K_TAB


def button(label: str) -> Button:
    return Button(label, lambda: None)


def test_tab_goes_through_what_can_be_used_in_reading_order_and_round(stage) -> None:
    """Tab visits enabled, visible widgets in the order they are read and begins anew after the last."""
    off, hidden = button("off"), button("hidden")
    hand = stage(
        button("one"), Label("words"), off, hidden, Column(button("two"), Entry("three", "", lambda _t: None))
    )
    off.enabled, hidden.visible = False, False
    seen = []
    for _ in range(4):
        hand.key(TAB)
        seen.append(hand.focus)
    assert seen == [("button", "one"), ("button", "two"), ("text entry", "three"), ("button", "one")]


def test_shift_tab_goes_back(stage) -> None:
    """Shift-Tab visits the same stops the other way."""
    hand = stage(button("one"), button("two"), button("three"))
    seen = []
    for _ in range(4):
        hand.key(TAB, mod=pygame.KMOD_SHIFT)
        seen.append(hand.focus[1])
    assert seen == ["three", "two", "one", "three"]


def test_a_dialog_keeps_the_focus_and_gives_it_back(stage) -> None:
    """While a dialog is open nothing below can be focused or clicked; afterwards focus is where it was."""
    below: list[str] = []
    hand = stage(Button("below", lambda: below.append("clicked")), button("other"))
    place = hand.middle(hand.find("button", "below"))
    hand.key(TAB)
    answers = []
    dialog = Dialog(
        "Sure?",
        [Label("about it")],
        [("Yes", "danger", lambda: answers.append("yes")), ("No", "plain", lambda: answers.append("no"))],
    )
    hand.root.open_dialog(dialog)
    assert hand.focus == ("button", "No")
    seen = set()
    for _ in range(5):
        hand.key(TAB)
        seen.add(hand.focus)
    assert seen == {("button", "Yes"), ("button", "No")}
    hand.click_at(place)
    assert below == []
    hand.key(pygame.K_ESCAPE)
    assert answers == ["no"]
    assert hand.focus == ("button", "below")


def test_a_dialogs_answer_closes_it_first(stage) -> None:
    """An answer may open another dialog: the first is closed by then."""
    hand = stage(button("below"))
    second = Dialog("Second", [], [("Close", "plain", lambda: None)])
    hand.root.open_dialog(Dialog("First", [], [("Go on", "main", lambda: hand.root.open_dialog(second))]))
    hand.click("button", "Go on")
    assert [told["label"] for told in hand.all("dialog")] == ["Second"]


def test_a_widget_that_goes_gives_up_the_focus(stage) -> None:
    """A hidden, disabled or removed widget has no focus, and Tab begins at the first stop again."""
    one, two = button("one"), button("two")
    column = Column(one, two)
    hand = stage(column)
    for spoil in (lambda: setattr(two, "enabled", False), lambda: column.fill_with([one])):
        two.enabled = True
        hand.root.set_focus(two, shows=True)
        assert hand.focus == ("button", "two")
        spoil()
        assert hand.focus is None
    hand.key(TAB)
    assert hand.focus == ("button", "one")


def test_regions_are_stepped_by_one_key(stage) -> None:
    """F6 goes to the first stop of the next part of the screen, Shift-F6 to the one before."""
    left = Column(button("a"), button("b"), role="region", label="left")
    right = Column(button("c"), button("d"), role="region", label="right")
    hand = stage(left, right)
    seen = []
    for mod in (0, 0, 0, pygame.KMOD_SHIFT):
        hand.key(pygame.K_F6, mod=mod)
        seen.append(hand.focus[1])
    assert seen == ["a", "c", "a", "c"]


def test_the_ring_shows_only_after_the_keyboard_moved_focus(stage) -> None:
    """A click focuses without a ring; Tab shows it."""
    hand = stage(button("one"), button("two"))
    hand.click("button", "one")
    assert not hand.root.focus_shows
    hand.key(TAB)
    assert hand.root.focus_shows


def test_help_comes_on_hover_and_on_keyboard_focus_and_goes_on_a_key(stage) -> None:
    """Help needs no mouse: it comes up for whatever was focused by key."""
    hand = stage(Button("one", lambda: None, help="what one does"), Button("two", lambda: None, help="what two does"))
    hand.move(hand.middle(hand.find("button", "one")))
    hand.root.advance(1.0)
    assert [told["label"] for told in hand.all("help")] == ["what one does"]
    hand.move((590, 490))
    hand.root.advance(1.0)
    assert hand.all("help") == []
    hand.key(TAB, TAB)
    hand.root.advance(1.0)
    assert [told["label"] for told in hand.all("help")] == ["what two does"]
    hand.key(pygame.K_LSHIFT)
    assert hand.all("help") == []
