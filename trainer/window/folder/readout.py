"""The face of an instrument: our own, one for all: a window, what it is set to, where its leads are."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pygame

from trainer.language import _
from trainer.window.folder.outlines import draw_outline
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import GO_WASH, INK, SHEET, SMALL, SOFT, STOP, TAB, WARN, Style
from trainer.window.kit.widget import Size, Value, Widget
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen

HIGH = 124.0
NOTHING = "– – –"


class Readout(Widget):
    """Reading and unit large enough to be read from the ladder; least and most; the places of its leads."""

    role = "reading"

    def __init__(self, label: str) -> None:
        super().__init__(label)
        self.reading = ""
        self.about = ""
        self.places: tuple[str, str] = ("", "")
        self.extremes: tuple[str, str] = ("", "")
        self.state = ""
        self.has_leads = False
        self.placed = False

    @property
    def value(self) -> Value:
        """The reading in words."""
        return self.reading

    def show(self, reading: str, about: str, places: tuple[str, str], extremes: tuple[str, str] = ("", "")) -> None:
        """Take the newest reading."""
        self.reading, self.about, self.places, self.extremes = reading or NOTHING, about, places, extremes

    def wish(self, style: Style, width: int) -> Size:
        """A body as wide as the page."""
        return width, style.px(HIGH)

    def draw(self, pen: Pen) -> None:
        """Body, name, window, sockets."""
        px = pen.style.px
        body = self.rect.inflate(-2, -2)
        pen.box(body, TAB, INK, 14, 1.8)
        draw_outline(pen, self.label, (body.left + px(26), body.top + px(18)), INK, TAB)
        title = pygame.Rect(body.left + px(48), body.top + px(4), body.width - px(62), px(26))
        pen.text_in(first_upper(_(self.label)), title, 14, INK, Face.BOLD)
        if self.state:
            pen.text_in(_(self.state), title, SMALL, STOP, Face.BOLD, "right")
        elif self.placed:
            pen.text_in(_("in place"), title, SMALL, INK, anchor="right")
        window = pygame.Rect(body.left + px(14), body.top + px(32), body.width - px(28), px(64))
        pen.box(window, GO_WASH, INK, 5, 1.4)
        inner = window.inflate(-px(20), 0)
        pen.text_in(self.about, pygame.Rect(inner.left, window.top + px(4), inner.width, px(16)), SMALL, SOFT)
        self._reading(pen, pygame.Rect(inner.left, window.top + px(16), inner.width, px(30)))
        least, most = self.extremes
        if least or most:
            foot = pygame.Rect(inner.left, window.bottom - px(18), inner.width, px(16))
            words = _("least {least} · most {most}").format(least=least or "–", most=most or "–")
            pen.text_in(words, foot, SMALL, WARN, anchor="right")
        self._sockets(pen, body)

    def _reading(self, pen: Pen, area: pygame.Rect) -> None:
        """As large as there is room for: words are longer than figures."""
        size = 26.0
        while size > 13.0 and pen.style.width(self.reading, size, Face.BOLD) > area.width:
            size -= 2.0
        if pen.style.width(self.reading, size, Face.BOLD) > area.width:
            pen.paragraph(self.reading, area.inflate(0, pen.style.px(8)), 13, INK, Face.BOLD, most=3)
            return
        pen.text_in(self.reading, area, size, INK, Face.BOLD, "right")

    def _sockets(self, pen: Pen, body: pygame.Rect) -> None:
        """Where its leads, or it itself, have been put."""
        px = pen.style.px
        foot = pygame.Rect(body.left + px(18), body.bottom - px(25), body.width - px(32), px(18))
        if not self.has_leads:
            told = " · ".join(first_upper(_(place)) for place in self.places if place)
            pen.text_in(told, foot, SMALL, INK)
            return
        half = foot.width // 2
        for n, (place, colour) in enumerate(zip(self.places, (STOP, INK), strict=True)):
            socket = (foot.left + n * half + px(7), foot.centery)
            pen.dot(socket, 6, colour)
            pen.dot(socket, 2, SHEET)
            words = pygame.Rect(socket[0] + px(13), foot.top, half - px(26), foot.height)
            pen.text_in(first_upper(_(place)) or "…", words, 11, INK if place else SOFT)
