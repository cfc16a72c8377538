"""A table of any length: only the rows in sight are drawn, so a hundred thousand cost what twenty do."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import pygame

from trainer.window.kit.glyphs import Face
from trainer.window.kit.pen import Anchor
from trainer.window.kit.style import FIELD, INK, RULE, SOFT, WIRE_WASH, Colour, Style
from trainer.window.kit.widget import Size, Value, Widget

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen


@dataclass(frozen=True)
class Column:
    """A column: its heading, its share of the width or a fixed width [logical px], and how text stands in it."""

    label: str
    share: float = 1.0
    width: float | None = None
    anchor: Anchor = "left"
    mono: bool = False


class Table(Widget):
    """Rows of text; one row may be marked. Arrows move the mark, Enter or a second click takes it."""

    role = "table"
    takes_focus = True
    takes_repeats = True

    def __init__(
        self,
        label: str,
        columns: Sequence[Column],
        *,
        on_take: Callable[[int], None] | None = None,
        on_mark: Callable[[int], None] | None = None,
        row: float = 28.0,
        least_rows: int = 3,
        heads: bool = True,
        grow: float = 0.0,
        empty: str = "",
        colour: Callable[[int], Colour] | None = None,
        follow: bool = False,
        keeps_mark: bool = False,
    ) -> None:
        super().__init__(label, grow=grow)
        self.columns = list(columns)
        self.rows: Sequence[Sequence[str]] = []
        self.mark = -1
        self.first = 0
        self.on_take = on_take
        self.on_mark = on_mark
        self.row = row
        self.least_rows = least_rows
        self.heads = heads
        self.empty = empty
        self.colour = colour
        self.follow = follow
        """Stay at the end while rows are added (a log)."""
        self.keeps_mark = keeps_mark
        """The marked row is seen without the focus as well: something beside the table tells of it."""
        self._row_px = 1
        self._head_px = 0
        self._cells: list[tuple[int, int]] = []

    @property
    def value(self) -> Value:
        """Number of rows."""
        return len(self.rows)

    def show(self, rows: Sequence[Sequence[str]]) -> None:
        """New rows; the mark stays where it can."""
        grown = len(rows) != len(self.rows)
        at_end = self.first >= len(self.rows) - self._fitting()
        self.rows = rows
        self.mark = min(self.mark, len(rows) - 1)
        if grown:
            if not self.grow:
                self.stale()
            if self.follow and at_end:
                self.first = max(len(rows) - self._fitting(), 0)
        self.first = max(0, min(self.first, len(rows) - self._fitting()))

    def tree(self) -> dict[str, Any]:
        """Rows in sight are told as children."""
        told = super().tree()
        told["children"] = [
            {
                "role": "row",
                "label": " · ".join(cell for cell in self.rows[n] if cell),
                "value": n,
                "enabled": self.enabled,
                "rect": tuple(self.row_rect(n)),
            }
            for n in range(self.first, min(self.first + self._fitting(), len(self.rows)))
        ]
        return told

    def wish(self, style: Style, width: int) -> Size:
        """Some rows; more when it may grow."""
        count = self.least_rows if self.grow else max(len(self.rows), 1)
        return width, style.px(self.row) * count + (style.px(24) if self.heads else 0)

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """Columns share the width."""
        super().place(style, rect)
        self._row_px = style.px(self.row)
        self._head_px = style.px(24) if self.heads else 0
        fixed = sum(style.px(c.width) for c in self.columns if c.width is not None)
        total = sum(c.share for c in self.columns if c.width is None) or 1.0
        x, room = rect.left, rect.width - fixed - style.px(10)
        self._cells = []
        for column in self.columns:
            wide = style.px(column.width) if column.width is not None else round(room * column.share / total)
            self._cells.append((x, wide))
            x += wide
        self.first = max(0, min(self.first, len(self.rows) - self._fitting()))

    def _fitting(self) -> int:
        return max((self.rect.height - self._head_px) // max(self._row_px, 1), 1)

    def row_rect(self, n: int) -> pygame.Rect:
        """Where a row is, when it is in sight."""
        top = self.rect.top + self._head_px + (n - self.first) * self._row_px
        return pygame.Rect(self.rect.left, top, self.rect.width, self._row_px)

    def draw(self, pen: Pen) -> None:
        """Headings, rows in sight, bar."""
        if self.heads:
            y = self.rect.top + pen.style.px(11)
            for column, (x, wide) in zip(self.columns, self._cells, strict=True):
                area = pygame.Rect(
                    x + pen.style.px(6), y - pen.style.px(10), wide - pen.style.px(12), pen.style.px(20)
                )
                pen.text_in(column.label, area, 11, SOFT, Face.BOLD, column.anchor)
            y = self.rect.top + self._head_px - 1
            pen.line((self.rect.left, y), (self.rect.right, y), INK)
        if not self.rows and self.empty:
            area = pygame.Rect(self.rect.left + 6, self.rect.top + self._head_px, self.rect.width - 12, self._row_px)
            pen.text_in(self.empty, area, 13, SOFT, Face.ITALIC)
        with pen.clip(self.rect):
            for n in range(self.first, min(self.first + self._fitting(), len(self.rows))):
                self._draw_row(pen, n)
        if len(self.rows) > self._fitting():
            self._draw_bar(pen)
        if pen.focus is self and pen.ring:
            pen.ring_round(self.rect)

    def _draw_row(self, pen: Pen, n: int) -> None:
        cell = self.row_rect(n)
        if n == self.mark and (self.keeps_mark or pen.focus is self):
            pen.fill(cell, WIRE_WASH)
            pen.fill(pygame.Rect(cell.left, cell.top, pen.style.px(3), cell.height), INK)
        ink = self.colour(n) if self.colour is not None else INK
        for column, (x, wide), text in zip(self.columns, self._cells, self.rows[n], strict=False):
            area = pygame.Rect(x + pen.style.px(6), cell.top, wide - pen.style.px(12), cell.height)
            pen.text_in(text, area, 13, ink, Face.MONO if column.mono else Face.REGULAR, column.anchor)
        pen.line((cell.left, cell.bottom - 1), (cell.right, cell.bottom - 1), RULE)

    def _draw_bar(self, pen: Pen) -> None:
        track = pygame.Rect(self.rect.right - pen.style.px(6), self.rect.top + self._head_px + 2, pen.style.px(5), 0)
        track.height = self.rect.bottom - track.top - 2
        size = max(track.height * self._fitting() // len(self.rows), pen.style.px(16))
        top = track.top + (track.height - size) * self.first // max(len(self.rows) - self._fitting(), 1)
        pen.fill(pygame.Rect(track.left, top, track.width, size), FIELD)

    def go_to(self, n: int) -> None:
        """Mark a row and bring it into sight, as the arrows do."""
        n = max(0, min(n, len(self.rows) - 1))
        if not self.rows:
            return
        self.first = max(min(self.first, n), n - self._fitting() + 1, 0)
        if n != self.mark:
            self.mark = n
            if self.on_mark is not None:
                self.on_mark(n)

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Mark a row; a marked one is taken."""
        n = self.first + (point[1] - self.rect.top - self._head_px) // max(self._row_px, 1)
        if button != 1 or point[1] < self.rect.top + self._head_px or not 0 <= n < len(self.rows):
            return button == 1
        if n == self.mark and self.on_take is not None:
            self.on_take(n)
        else:
            self.go_to(n)
        return True

    def wheel(self, turns: float, point: tuple[int, int]) -> bool:
        """Scroll when there is more."""
        if len(self.rows) <= self._fitting():
            return False
        self.first = max(0, min(self.first - round(turns * 2), len(self.rows) - self._fitting()))
        return True

    def key(self, event: pygame.event.Event) -> bool:
        """Arrows, pages, ends; Enter takes."""
        to = {
            pygame.K_DOWN: self.mark + 1,
            pygame.K_UP: self.mark - 1,
            pygame.K_PAGEDOWN: self.mark + self._fitting(),
            pygame.K_PAGEUP: self.mark - self._fitting(),
            pygame.K_HOME: 0,
            pygame.K_END: len(self.rows) - 1,
        }.get(event.key)
        if to is not None:
            self.go_to(to)
            return True
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER, pygame.K_SPACE):
            if self.on_take is not None and 0 <= self.mark < len(self.rows):
                self.on_take(self.mark)
            return True
        return False
