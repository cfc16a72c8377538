"""The face of an instrument: a reading large enough to be read from the ladder."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pygame

from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import GO_WASH, INK, LARGE, SMALL, SOFT, Style
from trainer.window.kit.widget import Size, Value, Widget

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen


class Readout(Widget):
    """Reading, what it is a reading of, and between which places."""

    role = "reading"

    def __init__(self, label: str) -> None:
        super().__init__(label)
        self.reading = ""
        self.about = ""
        self.places = ""

    @property
    def value(self) -> Value:
        """The reading in words."""
        return self.reading

    def show(self, reading: str, about: str, places: str) -> None:
        """Take the newest reading."""
        self.reading, self.about, self.places = reading, about, places

    def wish(self, style: Style, width: int) -> Size:
        """A band."""
        return width, style.px(74)

    def draw(self, pen: Pen) -> None:
        """A pale window with the reading, words under it."""
        px = pen.style.px
        pen.box(self.rect, GO_WASH, INK, 6, 1.4)
        inner = self.rect.inflate(-px(24), 0)
        upper = pygame.Rect(inner.left, self.rect.top + px(6), inner.width, px(34))
        pen.text_in(self.reading, upper, LARGE, INK, Face.BOLD, "right")
        pen.text_in(self.label, upper, SMALL, SOFT)
        lower = pygame.Rect(inner.left, self.rect.top + px(40), inner.width, px(16))
        pen.text_in(self.about, lower, SMALL, INK, anchor="right")
        pen.text_in(self.places, lower.move(0, px(14)), 11, SOFT, anchor="right")
