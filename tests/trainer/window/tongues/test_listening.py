"""The ear, the made-up language and the rules can each find what they are for."""

from __future__ import annotations

import pygame
import pytest

from tests.trainer.window.tongues.listening import Ear, clipped, crossed, cut_short
from tests.trainer.window.tongues.pseudo import CLOSE, OPEN, pseudo, untranslated
from trainer.window.kit.boxes import Column
from trainer.window.kit.canvas import Canvas
from trainer.window.kit.label import Label
from trainer.window.kit.table import Column as TableColumn
from trainer.window.kit.table import Table
from trainer.window.kit.widget import Widget


class Written(Widget):
    """Words at places."""

    def __init__(self, *words: tuple[str, tuple[int, int]]) -> None:
        super().__init__(grow=1.0)
        self.words = words

    def draw(self, pen) -> None:
        for words, at in self.words:
            pen.text(words, at)


@pytest.fixture
def listen(ear: Ear, stage):
    """Put widgets on a screen and hear them."""

    def hear(*widgets: Widget):
        hand = stage(*widgets)
        ear.begin()
        hand.root.draw(pygame.display.get_surface())
        return hand

    return hear


def test_the_made_up_language_keeps_gaps_and_makes_words_longer() -> None:
    """Numbers and gaps stay as they are."""
    made = pseudo("Set {name:.1f} to 3 now")
    assert made.startswith(OPEN)
    assert made.endswith(CLOSE)
    assert "{name:.1f}" in made
    assert len(made) >= 1.35 * len("Set to now")
    assert pseudo("{a}, {b}") == "{a}, {b}"


def test_a_word_that_went_through_no_catalogue_is_found() -> None:
    """Alone, and in a gap of a translated sentence."""
    told = pseudo("The {guard} is open").format(guard="outer beam")
    assert untranslated(told, frozenset()) == ["outer", "beam"]
    assert untranslated(pseudo("By hand, 3"), frozenset()) == []
    assert untranslated("3 mm", frozenset({"mm"})) == []


def test_words_over_others_are_found(ear, listen) -> None:
    """Side by side is right, one over the other is not."""
    listen(Written(("one", (20, 50)), ("two", (300, 50))))
    assert crossed(ear.lines) == []
    listen(Written(("one", (20, 50)), ("two", (28, 52))))
    assert len(crossed(ear.lines)) == 1


def test_words_that_leave_their_window_are_found(ear, listen) -> None:
    """Beyond the right edge of the screen."""
    listen(Written(("within", (20, 50)), ("beyond the edge", (1240, 50))))
    assert ["beyond" in told for told in clipped(ear.lines, frozenset())] == [True]


def test_words_that_something_is_drawn_over_are_found(ear, listen) -> None:
    """On one drawing, the later over the earlier."""

    class Smeared(Canvas):
        def paint(self, pen) -> None:
            pen.text("covered", (20, 20))
            pen.fill(pygame.Rect(30, 10, 200, 20), (0, 0, 0))

    listen(Smeared("drawing"))
    assert len(ear.smeared) == 1


def test_words_cut_short_are_found_and_told_whole(ear, listen) -> None:
    """By the pointer, and of the marked row by the keyboard."""
    words = "a name that is much too long for the little room that a narrow column has for it"
    table = Table("names", [TableColumn("name", width=90), TableColumn("rest")])
    table.show([[words, "short"]])
    hand = listen(Column(table))
    assert list(cut_short(ear.lines)) == [words]
    hand.move(cut_short(ear.lines)[words].center)
    hand.root.advance(1.0)
    assert hand.root.bubble.text == words
    hand.move((599, 499))
    hand.key(pygame.K_TAB)
    hand.root.advance(1.0)
    assert hand.root.bubble.text == words


def test_a_label_takes_as_many_lines_as_it_needs(ear, listen) -> None:
    """It grows where it has no room, also when its words come later."""
    label = Label("short", width=120)
    hand = listen(label)
    before = label.rect.height
    label.show("words that need more than the one line of a hundred and twenty pixels")
    ear.begin()
    hand.root.draw(pygame.display.get_surface())
    assert label.rect.height >= 3 * before
    assert cut_short(ear.lines) == {}
    assert len(ear.lines) > 2
