"""A slider: a knob on a line, with its value in words beside it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pygame

from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import FAINT, FIELD, INK, TARGET, WHITE, WIRE_WASH, Style
from trainer.window.kit.widget import Size, Value, Widget

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen


class Slider(Widget):
    """A number between two ends; arrows step it, Home and End go to the ends, the mouse drags it."""

    role = "slider"
    takes_focus = True
    takes_repeats = True

    def __init__(
        self,
        label: str,
        value: float,
        least: float,
        most: float,
        step: float,
        on_change: Callable[[float], None],
        *,
        words: Callable[[float], str] = "{:g}".format,
        help: str = "",
        width: float | None = None,
        grow: float = 0.0,
    ) -> None:
        super().__init__(label, help=help, width=width, grow=grow)
        self.number = value
        self.least = least
        self.most = most
        self.step = step
        self.on_change = on_change
        self.words = words
        self._line = pygame.Rect(0, 0, 0, 0)

    @property
    def value(self) -> Value:
        """The number."""
        return self.number

    def wish(self, style: Style, width: int) -> Size:
        """Line and words."""
        return min(style.px(220), width), style.px(TARGET)

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """The line, and room for the widest value at its right."""
        super().place(style, rect)
        room = max(style.width(self.words(v), 13, Face.REGULAR) for v in (self.least, self.most)) + style.px(18)
        self._line = pygame.Rect(rect.left + style.px(8), rect.centery, max(rect.width - room - style.px(8), 10), 0)

    def draw(self, pen: Pen) -> None:
        """Line, part up to the knob, knob, words."""
        ink = INK if self.enabled else FAINT
        line, x = self._line, self._knob()
        pen.line((line.left, line.top), (line.right, line.top), FIELD, 2)
        pen.line((line.left, line.top), (x, line.top), ink, 3)
        pen.dot((x, line.top), 7, WIRE_WASH if pen.hover is self else WHITE, ink)
        pen.text(self.words(self.number), (self.rect.right, self.rect.centery), 13, ink, anchor="right")
        if pen.focus is self and pen.ring:
            pen.ring_round(self.rect)

    def _knob(self) -> int:
        span = (self.number - self.least) / (self.most - self.least)
        return self._line.left + round(span * self._line.width)

    def set(self, number: float) -> None:
        """Take the nearest step and say so when it changed."""
        steps = round((number - self.least) / self.step)
        number = min(max(round(self.least + steps * self.step, 9), self.least), self.most)
        if number != self.number:
            self.number = number
            self.on_change(number)

    def press(self, point: tuple[int, int], button: int) -> bool:
        """The knob jumps to the mouse."""
        if button == 1:
            self.drag(point)
        return button == 1

    def drag(self, point: tuple[int, int]) -> None:
        """The knob follows the mouse."""
        span = (point[0] - self._line.left) / max(self._line.width, 1)
        self.set(self.least + span * (self.most - self.least))

    def key(self, event: pygame.event.Event) -> bool:
        """Arrows step."""
        to = {
            pygame.K_RIGHT: self.number + self.step,
            pygame.K_UP: self.number + self.step,
            pygame.K_LEFT: self.number - self.step,
            pygame.K_DOWN: self.number - self.step,
            pygame.K_HOME: self.least,
            pygame.K_END: self.most,
        }.get(event.key)
        if to is not None:
            self.set(to)
        return to is not None
