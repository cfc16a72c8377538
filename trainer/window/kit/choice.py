"""One of several: a row of options side by side, or a field that opens a list (with type-ahead)."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, Any

import pygame

from trainer.window.kit.button import ACT_KEYS
from trainer.window.kit.glyphs import Face
from trainer.window.kit.lists import open_list
from trainer.window.kit.pen import block
from trainer.window.kit.style import (
    FAINT,
    FIELD,
    INK,
    PAPER,
    RULE,
    SHEET,
    SMALL,
    SOFT,
    TARGET,
    TEXT,
    WHITE,
    WIRE_WASH,
    Colour,
    Style,
)
from trainer.window.kit.widget import Size, Value, Widget

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen


BESIDE = 28.0
"""Room of the ring before an option that stands under another [logical px]."""


class RadioRow(Widget):
    """Options side by side (or under one another); one is on. One stop for Tab; arrows move the choice."""

    role = "radio row"
    takes_focus = True

    def __init__(
        self,
        label: str,
        choices: Sequence[str],
        value: str,
        on_choose: Callable[[str], None],
        *,
        upright: bool = False,
        help: str = "",
        size: float = 13.0,
        acts: Iterable[str] = (),
        words: Callable[[str], str] = str,
        grow: float = 0.0,
    ) -> None:
        super().__init__(label, help=help, acts=acts, grow=grow)
        self.choices = list(choices)
        self.chosen = value
        self.on_choose = on_choose
        self.upright = upright
        self.size = size
        self.words = words
        self._cells: list[pygame.Rect] = []
        self._over = -1

    @property
    def value(self) -> Value:
        """The choice that is on."""
        return self.chosen

    def tree(self) -> dict[str, Any]:
        """Each option is told as a child, in the words that are shown."""
        told = super().tree()
        names = [self.words(choice) for choice in self.choices]
        told["children"] = self.options(names, self.words(self.chosen) if self.chosen else "", self._cells)
        return told

    def wish(self, style: Style, width: int) -> Size:
        """All options."""
        if self.upright:
            widest = max(self._widths(style), default=0)
            return min(widest + style.px(24), width), sum(self._heights(style, width))
        return min(sum(self._widths(style)), width), style.px(TARGET) * len(self._lines(style, width))

    def _widths(self, style: Style) -> list[int]:
        """Of the options side by side: none is smaller than a target."""
        words = [style.width(self.words(c), self.size, Face.BOLD) for c in self.choices]
        return [max(wide + style.px(18), style.px(TARGET)) for wide in words]

    def _heights(self, style: Style, width: int) -> list[int]:
        """Of the options under one another."""
        room = width - style.px(BESIDE)
        each = [block(style, self.words(c), TEXT, Face.BOLD, room)[1] for c in self.choices]
        return [max(style.px(TARGET), high + style.px(8)) for high in each]

    def _lines(self, style: Style, width: int) -> list[list[int]]:
        """Widths of the options side by side, in as many lines as they need."""
        lines: list[list[int]] = [[]]
        for wide in self._widths(style):
            if lines[-1] and sum(lines[-1]) + wide > width:
                lines.append([])
            lines[-1].append(wide)
        return lines

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """A cell for each option."""
        super().place(style, rect)
        self._cells, y = [], rect.top
        if self.upright:
            for high in self._heights(style, rect.width):
                self._cells.append(pygame.Rect(rect.left, y, rect.width, high))
                y += high
            return
        lines = self._lines(style, rect.width)
        for line in lines:
            total, x, high = max(sum(line), 1), rect.left, rect.height // len(lines)
            for n in range(len(line)):
                right = rect.left + round(rect.width * sum(line[: n + 1]) / total)
                self._cells.append(pygame.Rect(x, y, right - x, high))
                x = right
            y += high

    def draw(self, pen: Pen) -> None:
        """The options; the one that is on is filled and bold."""
        draw = self._draw_upright if self.upright else self._draw_row
        draw(pen)
        if pen.focus is self and pen.ring:
            pen.ring_round(self.rect)

    def _draw_row(self, pen: Pen) -> None:
        pen.box(self.rect, SHEET if self.enabled else PAPER, INK if self.enabled else RULE, 3, 1.2)
        for n, (choice, cell) in enumerate(zip(self.choices, self._cells, strict=True)):
            on = choice == self.chosen
            words = (WHITE if on else INK) if self.enabled else FAINT
            if on:
                pen.box(cell, INK if self.enabled else RULE, None, 3)
            elif n == self._over and pen.hover is self and self.enabled:
                pen.box(cell.inflate(-4, -4), WIRE_WASH, None, 2)
            pen.text_in(
                self.words(choice), cell.inflate(-6, 0), self.size, words, Face.BOLD if on else Face.REGULAR, "centre"
            )

    def _draw_upright(self, pen: Pen) -> None:
        for choice, cell in zip(self.choices, self._cells, strict=True):
            on = choice == self.chosen
            ink = INK if self.enabled else FAINT
            centre = (cell.left + pen.style.px(11), cell.centery)
            pen.dot(centre, 8, WHITE, ink)
            if on:
                pen.dot(centre, 4, ink)
            words = pygame.Rect(
                cell.left + pen.style.px(BESIDE), cell.top, cell.width - pen.style.px(BESIDE), cell.height
            )
            pen.text_in(self.words(choice), words, TEXT, ink, Face.BOLD if on else Face.REGULAR)

    def choose(self, choice: str) -> None:
        """Turn one on and say so."""
        if self.enabled and choice != self.chosen:
            self.chosen = choice
            self.on_choose(choice)

    def _cell_at(self, point: tuple[int, int]) -> int:
        return next((n for n, cell in enumerate(self._cells) if cell.collidepoint(point)), -1)

    def hover(self, point: tuple[int, int]) -> None:
        """Which option the mouse is over."""
        self._over = self._cell_at(point)

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Choose what was pressed."""
        cell = self._cell_at(point)
        if button == 1 and cell >= 0:
            self.choose(self.choices[cell])
        return button == 1

    def key(self, event: pygame.event.Event) -> bool:
        """Arrows move the choice."""
        step = {pygame.K_RIGHT: 1, pygame.K_DOWN: 1, pygame.K_LEFT: -1, pygame.K_UP: -1}.get(event.key)
        if step is None or not self.choices:
            return False
        at = self.choices.index(self.chosen) if self.chosen in self.choices else (-1 if step > 0 else 0)
        self.choose(self.choices[(at + step) % len(self.choices)])
        return True


class Dropdown(Widget):
    """A field that shows the choice and opens a list; arrows change it in place, letters jump."""

    role = "dropdown"
    takes_focus = True

    def __init__(
        self,
        label: str,
        choices: Sequence[str],
        value: str,
        on_choose: Callable[[str], None],
        *,
        help: str = "",
        width: float | None = None,
        grow: float = 0.0,
        empty: str = "",
        colour: Colour = INK,
        acts: Iterable[str] = (),
        anchor_right: bool = False,
        words: Callable[[str], str] = str,
    ) -> None:
        """`words` is what each choice is called."""
        super().__init__(label, help=help, width=width, grow=grow, acts=acts)
        self.choices = list(choices)
        self.chosen = value
        self.on_choose = on_choose
        self.empty = empty
        """Shown while nothing is chosen."""
        self.colour = colour
        self.anchor_right = anchor_right
        self.words = words

    @property
    def value(self) -> Value:
        """The choice."""
        return self.chosen

    def wish(self, style: Style, width: int) -> Size:
        """Room for the longest choice."""
        names = [*map(self.words, self.choices), self.empty]
        longest = max((style.width(name, 13, Face.REGULAR) for name in names), default=0)
        return min(longest + style.px(38), width), style.px(TARGET)

    def draw(self, pen: Pen) -> None:
        """The field, the choice, the arrow."""
        over = pen.hover is self and self.enabled
        edge = self.colour if self.enabled and self.colour != INK else (INK if over else FIELD)
        pen.box(self.rect, (WIRE_WASH if over else WHITE) if self.enabled else PAPER, edge if self.enabled else RULE)
        inner = pygame.Rect(
            self.rect.left + pen.style.px(8), self.rect.top, self.rect.width - pen.style.px(28), self.rect.height
        )
        ink = FAINT if not self.enabled else (self.colour if self.chosen else SOFT)
        shown = self.words(self.chosen) if self.chosen else self.empty
        pen.text_in(shown, inner, 13, ink, anchor="right" if self.anchor_right else "left")
        if self.enabled:
            pen.text("▼", (self.rect.right - pen.style.px(8), self.rect.centery), SMALL - 3, SOFT, anchor="right")
        if pen.focus is self and pen.ring:
            pen.ring_round(self.rect)

    def choose(self, choice: str) -> None:
        """Take a choice and say so."""
        if choice != self.chosen:
            self.chosen = choice
            self.on_choose(choice)

    def open(self) -> None:
        """Show the list."""
        open_list(self, self.choices, self.chosen, self.choose, words=self.words)

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Open the list."""
        if button == 1:
            self.open()
        return button == 1

    def key(self, event: pygame.event.Event) -> bool:
        """Enter, Space and the arrows open the list; nothing changes before a choice is made there."""
        if event.key in ACT_KEYS or event.key in (pygame.K_DOWN, pygame.K_UP):
            self.open()
            return True
        return False
