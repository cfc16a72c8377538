"""A scroll area: shows a part of something higher than its place."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pygame

from trainer.window.kit.style import FIELD, INK, Style
from trainer.window.kit.widget import Size, Value, Widget

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen

BAR = 8.0


class Scroll(Widget):
    """One child, as high as it likes; wheel, drag of the bar, and focus moving below it scroll."""

    role = "scroll area"

    def __init__(self, child: Widget, *, label: str = "", grow: float = 1.0, height: float | None = None) -> None:
        super().__init__(label, grow=grow, height=height)
        self.offset = 0
        self._style: Style | None = None
        self._content = 0
        self._held: int | None = None
        self.fill_with([child])

    @property
    def child(self) -> Widget:
        """What is scrolled."""
        return self.children[0]

    @property
    def value(self) -> Value:
        """How far it is scrolled [px]."""
        return self.offset

    def wish(self, style: Style, width: int) -> Size:
        """As high as the child; whoever holds it gives less."""
        return self.child.measure(style, width)

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """The child is placed at its own height, moved by the offset."""
        super().place(style, rect)
        self._style = style
        inner = rect.width
        self._content = self.child.measure(style, inner)[1]
        if self._content > rect.height:
            inner -= style.px(BAR + 6)
            self._content = self.child.measure(style, inner)[1]
        self.offset = max(0, min(self.offset, self._content - rect.height))
        height = max(self._content, rect.height)
        self.child.place(style, pygame.Rect(rect.left, rect.top - self.offset, inner, height))

    def _move_to(self, offset: int) -> None:
        offset = max(0, min(offset, self._content - self.rect.height))
        if offset != self.offset and self._style is not None:
            self.offset = offset
            self.place(self._style, self.rect)

    def reveal(self, rect: pygame.Rect) -> None:
        """Scroll until the rectangle is in sight, then ask the parent."""
        margin = 12
        if rect.top - margin < self.rect.top:
            self._move_to(self.offset - (self.rect.top - rect.top) - margin)
        elif rect.bottom + margin > self.rect.bottom:
            self._move_to(self.offset + rect.bottom - self.rect.bottom + margin)
        super().reveal(self.rect)

    def draw(self, pen: Pen) -> None:
        """The part in sight, the bar, and a shade where there is more."""
        with pen.clip(self.rect.inflate(pen.style.px(6), 0)):
            super().draw(pen)
        if self._content > self.rect.height:
            pen.box(self._bar(pen.style), INK if self._held is not None else FIELD, None, 3)

    def _bar(self, style: Style) -> pygame.Rect:
        size = max(self.rect.height * self.rect.height // max(self._content, 1), style.px(28))
        span = max(self._content - self.rect.height, 1)
        top = self.rect.top + (self.rect.height - size) * self.offset // span
        return pygame.Rect(self.rect.right - style.px(BAR), top, style.px(BAR) - 2, size)

    def at(self, point: tuple[int, int]) -> Widget | None:
        """The bar first, then what is scrolled, but only where it is in sight."""
        if not self.visible or not self.rect.collidepoint(point):
            return None
        has_bar = self._style is not None and self._content > self.rect.height
        if has_bar and self._style is not None and point[0] >= self.rect.right - self._style.px(BAR + 2):
            return self
        return self.child.at(point) or self

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Hold the bar, or page towards the mouse."""
        if self._style is None or button != 1 or point[0] < self.rect.right - self._style.px(BAR + 2):
            return False
        bar = self._bar(self._style)
        if bar.collidepoint(point):
            self._held = point[1] - bar.top
        else:
            self._move_to(self.offset + (self.rect.height if point[1] > bar.top else -self.rect.height))
        return True

    def drag(self, point: tuple[int, int]) -> None:
        """The bar follows the mouse."""
        if self._held is None or self._style is None:
            return
        free = max(self.rect.height - self._bar(self._style).height, 1)
        span = self._content - self.rect.height
        self._move_to((point[1] - self._held - self.rect.top) * span // free)

    def drop(self, point: tuple[int, int]) -> None:
        """Let the bar go."""
        self._held = None

    def wheel(self, turns: float, point: tuple[int, int]) -> bool:
        """Three lines a click."""
        if self._style is None or self._content <= self.rect.height:
            return False
        self._move_to(self.offset - round(turns * self._style.px(54)))
        return True

    def key(self, event: pygame.event.Event) -> bool:
        """Page up and down, when what has focus below doesn't use them."""
        page = {pygame.K_PAGEDOWN: 1, pygame.K_PAGEUP: -1}.get(event.key)
        if page is None or self._content <= self.rect.height:
            return False
        self._move_to(self.offset + page * (self.rect.height * 4 // 5))
        return True
