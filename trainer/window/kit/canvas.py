"""A canvas: a place for a drawing that keeps its still part as a picture and is redrawn only when that changes."""

from __future__ import annotations

import pygame

from trainer.window.kit.pen import Cut, Pen
from trainer.window.kit.style import SHEET, Style
from trainer.window.kit.widget import Size, Widget


class Canvas(Widget):
    """Subclasses draw what stands still in `paint`, what moves in `draw_over`; `key_of` says when to repaint."""

    role = "drawing"
    ground = SHEET

    def __init__(self, label: str, *, grow: float = 1.0, height: float | None = None, help: str = "") -> None:
        super().__init__(label, grow=grow, height=height, help=help)
        self._picture: pygame.Surface | None = None
        self._painted: object = None
        self._cuts: list[Cut] = []
        self._taken: list[pygame.Rect] = []

    def wish(self, style: Style, width: int) -> Size:
        """All the width; some height."""
        return width, style.px(120)

    def key_of(self) -> object:
        """Equal while the still part looks the same; size, scale and look are looked after here."""
        return None

    def paint(self, pen: Pen) -> None:
        """Draw the still part; the pen's surface is this canvas alone, with (0, 0) at its corner."""

    def add(self, pen: Pen) -> None:
        """Add to the kept picture what has come since; the pen is that of `paint`."""

    def draw_over(self, pen: Pen) -> None:
        """Draw what moves; the pen is the screen's, clipped to this canvas."""

    def draw(self, pen: Pen) -> None:
        """The kept picture, then what moves."""
        key = (self.rect.size, pen.style.scale, pen.style.look.name, self.key_of())
        if key != self._painted or self._picture is None:
            self._picture = pygame.Surface(self.rect.size)
            self._picture.fill(pen.style.seen(self.ground))
            inner = Pen(self._picture, pen.style, pen.sprites)
            self.paint(inner)
            self._painted, self._cuts, self._taken = key, inner.cuts, inner.taken
        else:
            self.add(Pen(self._picture, pen.style, pen.sprites))
        pen.surface.blit(self._picture, self.rect)
        pen.cuts += [(at.move(self.rect.topleft), text) for at, text in self._cuts]
        pen.taken = [at.move(self.rect.topleft) for at in self._taken]
        with pen.clip(self.rect):
            self.draw_over(pen)
        super().draw(pen)
