"""The shelf: every tool of one group as a card with its outline; one is in hand, some may be left in place."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import pygame

from trainer.language import _
from trainer.window.folder.outlines import draw_outline
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import GO, INK, SHEET, SMALL, WHITE, WIRE_WASH, Style
from trainer.window.kit.widget import Size, Value, Widget
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen

CARD_HIGH, CARD_WIDE, GAP = 32.0, 160.0, 4.0


class ToolShelf(Widget):
    """One stop for Tab; arrows move the choice."""

    role = "tool shelf"
    takes_focus = True

    def __init__(self, label: str, on_take: Callable[[str], None]) -> None:
        super().__init__(label)
        self.on_take = on_take
        self.tools: tuple[str, ...] = ()
        self.helps: dict[str, str] = {}
        self.chosen = ""
        self.in_place: frozenset[str] = frozenset()
        self._cells: list[pygame.Rect] = []
        self._over = -1
        self._columns = 1

    @property
    def value(self) -> Value:
        """What is in hand."""
        return self.chosen

    def show(self, tools: dict[str, str], chosen: str, in_place: frozenset[str]) -> None:
        """What lies on the shelf, with what each is for."""
        if tuple(tools) != self.tools:
            self.tools, self.helps = tuple(tools), tools
            self.stale()
        self.chosen, self.in_place = chosen, in_place
        self.keys_help = tools.get(chosen, "")

    def tree(self) -> dict[str, Any]:
        """Each tool is told as an option."""
        told = super().tree()
        names = [first_upper(_(tool)) for tool in self.tools]
        told["children"] = self.options(names, first_upper(_(self.chosen)), self._cells)
        return told

    def wish(self, style: Style, width: int) -> Size:
        """As many columns as there is room for."""
        columns = self._count(style, width)
        rows = -(-len(self.tools) // columns)
        return width, max(rows, 1) * style.px(CARD_HIGH + GAP) - style.px(GAP)

    def _count(self, style: Style, width: int) -> int:
        return max((width + style.px(GAP)) // style.px(CARD_WIDE + GAP), 1)

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """A card for each."""
        super().place(style, rect)
        self._columns = self._count(style, rect.width)
        gap, high = style.px(GAP), style.px(CARD_HIGH)
        wide = (rect.width - gap * (self._columns - 1)) // self._columns
        self._cells = [
            pygame.Rect(
                rect.left + (n % self._columns) * (wide + gap),
                rect.top + n // self._columns * (high + gap),
                wide,
                high,
            )
            for n in range(len(self.tools))
        ]

    def draw(self, pen: Pen) -> None:
        """Outline and name; a dot where one is left in place."""
        px = pen.style.px
        for n, (tool, cell) in enumerate(zip(self.tools, self._cells, strict=True)):
            on = tool == self.chosen
            ground = INK if on else (WIRE_WASH if n == self._over and pen.hover is self else SHEET)
            pen.box(cell, ground, INK, 3, 1.2)
            words = WHITE if on else INK
            draw_outline(pen, tool, (cell.left + px(21), cell.centery), words, ground)
            inner = pygame.Rect(cell.left + px(42), cell.top, cell.width - px(58), cell.height)
            pen.text_in(first_upper(_(tool)), inner, SMALL, words, Face.BOLD if on else Face.REGULAR)
            if tool in self.in_place:
                pen.dot((cell.right - px(11), cell.centery), 4, GO, WHITE)
        if pen.focus is self and pen.ring:
            pen.ring_round(self.rect)

    def _cell_at(self, point: tuple[int, int]) -> int:
        return next((n for n, cell in enumerate(self._cells) if cell.collidepoint(point)), -1)

    def hover(self, point: tuple[int, int]) -> None:
        """What each is for."""
        self._over = self._cell_at(point)
        self.help = self.helps[self.tools[self._over]] if self._over >= 0 else ""

    def help_rect(self) -> pygame.Rect:
        """Help stands at the card: the one under the pointer, else the one in hand."""
        at = self._over if self._over >= 0 or self.chosen not in self.tools else self.tools.index(self.chosen)
        return self._cells[at] if 0 <= at < len(self._cells) else self.rect

    def choose(self, tool: str) -> None:
        """Take one in hand."""
        self.chosen = tool
        self.on_take(tool)

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Take what was pressed."""
        n = self._cell_at(point)
        if button == 1 and n >= 0:
            self.choose(self.tools[n])
        return button == 1

    def key(self, event: pygame.event.Event) -> bool:
        """Arrows go from card to card."""
        step = {
            pygame.K_RIGHT: 1,
            pygame.K_LEFT: -1,
            pygame.K_DOWN: self._columns,
            pygame.K_UP: -self._columns,
        }.get(event.key)
        if step is None or not self.tools:
            return False
        now = self.tools.index(self.chosen) if self.chosen in self.tools else -step
        to = now + step
        if 0 <= to < len(self.tools):
            self.choose(self.tools[to])
            self.reveal(self._cells[to])
        return True
