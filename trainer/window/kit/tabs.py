"""Index tabs along the right edge of a page, as on a ring binder."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

import pygame

from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import GO, INK, SHEET, STOP, TAB, WHITE, WIRE_WASH, Style
from trainer.window.kit.widget import Size, Value, Widget

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen

SIZE = 13.0


class IndexTabs(Widget):
    """One tab is on; arrows up and down move it. A tab may carry a short badge."""

    role = "tabs"
    takes_focus = True

    def __init__(self, label: str, names: Sequence[str], on_choose: Callable[[str], None]) -> None:
        super().__init__(label)
        self.names = list(names)
        self.chosen = self.names[0]
        self.on_choose = on_choose
        self.badges: dict[str, tuple[str, bool]] = {}
        """Tab: (few letters, whether it calls for attention)."""
        self.helps: dict[str, str] = {}
        """Tab: what it is for."""
        self._cells: list[pygame.Rect] = []
        self._over = -1

    @property
    def value(self) -> Value:
        """The tab that is on."""
        return self.chosen

    def tree(self) -> dict[str, Any]:
        """Each tab is told as a child."""
        told = super().tree()
        told["children"] = self.options(self.names, self.chosen, self._cells)
        return told

    def wish(self, style: Style, width: int) -> Size:
        """The longest name; tabs share the height up to a limit."""
        longest = max(style.width(name, SIZE, Face.BOLD) for name in self.names)
        return longest + style.px(24), style.px(34) * len(self.names)

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """Tabs from the top, a little apart."""
        super().place(style, rect)
        step = min(style.px(46), rect.height // max(len(self.names), 1))
        gap = style.px(3)
        self._cells = [
            pygame.Rect(rect.left, rect.top + n * step, rect.width, step - gap) for n in range(len(self.names))
        ]

    def draw(self, pen: Pen) -> None:
        """The tab that is on opens into the page."""
        thick = pen.style.px(1.4)
        for n, (name, cell) in enumerate(zip(self.names, self._cells, strict=True)):
            on = name == self.chosen
            ground = SHEET if on else (WIRE_WASH if n == self._over and pen.hover is self else TAB)
            card = pygame.Rect(cell.left - pen.style.px(6), cell.top, cell.width + pen.style.px(6), cell.height)
            with pen.clip(pygame.Rect(cell.left, cell.top, cell.width, cell.height)):
                pen.box(card, ground, INK, 5, 1.4)
            if on:
                pen.fill(pygame.Rect(cell.left - thick, cell.top + thick, thick + 1, cell.height - 2 * thick), SHEET)
            badge = self.badges.get(name)
            words = cell.inflate(-pen.style.px(18), 0)
            pen.text_in(name, words, SIZE, INK, Face.BOLD if on else Face.REGULAR)
            if badge is not None:
                self._draw_badge(pen, cell, *badge)
            if on and pen.focus is self and pen.ring:
                pen.ring_round(cell.inflate(-pen.style.px(6), -pen.style.px(6)))

    def _draw_badge(self, pen: Pen, cell: pygame.Rect, text: str, loud: bool) -> None:
        width = pen.style.width(text, 10, Face.BOLD) + pen.style.px(8)
        box = pygame.Rect(0, 0, width, pen.style.px(15))
        box.topright = (cell.right - pen.style.px(3), cell.top + pen.style.px(3))
        pen.box(box, STOP if loud else GO, None, 7)
        pen.text(text, box.center, 10, WHITE, Face.BOLD, "centre")

    def cell(self, name: str) -> pygame.Rect:
        """Where a tab is."""
        return self._cells[self.names.index(name)]

    def choose(self, name: str) -> None:
        """Turn a tab on and say so."""
        if name != self.chosen:
            self.chosen = name
            self.on_choose(name)

    def _cell_at(self, point: tuple[int, int]) -> int:
        return next((n for n, cell in enumerate(self._cells) if cell.collidepoint(point)), -1)

    def hover(self, point: tuple[int, int]) -> None:
        """Which tab the mouse is over, and what that one is for."""
        self._over = self._cell_at(point)
        self.help = self.helps.get(self.names[self._over], "") if self._over >= 0 else ""

    def leave(self) -> None:
        """What the keyboard is on counts again."""
        self._over, self.help = -1, ""

    def help_rect(self) -> pygame.Rect:
        """Help stands at the tab under the pointer, else at the one that is on."""
        at = self._over if self._over >= 0 else self.names.index(self.chosen)
        return self._cells[at] if at < len(self._cells) else self.rect

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Turn on what was pressed."""
        cell = self._cell_at(point)
        if button == 1 and cell >= 0:
            self.choose(self.names[cell])
        return button == 1

    def key(self, event: pygame.event.Event) -> bool:
        """Arrows move."""
        step = {pygame.K_DOWN: 1, pygame.K_RIGHT: 1, pygame.K_UP: -1, pygame.K_LEFT: -1}.get(event.key)
        if step is None:
            return False
        self.choose(self.names[(self.names.index(self.chosen) + step) % len(self.names)])
        return True
