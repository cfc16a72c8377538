"""Lists that open over the screen: of a field, or of a button that does one of several things."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, Any

import pygame

from trainer.language import _
from trainer.window.kit.button import Button, Look
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import FIELD, INK, SMALL, TARGET, WHITE, WIRE_WASH, Style
from trainer.window.kit.widget import Size, Value, Widget

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen


class ChoiceList(Widget):
    """The opened list: arrows, letters, Enter, Esc; scrolls when it is longer than its place."""

    role = "list"
    takes_focus = True
    takes_repeats = True

    def __init__(
        self,
        label: str,
        choices: Sequence[str],
        chosen: str | None,
        on_choose: Callable[[str], None],
        words: Callable[[str], str] = str,
    ) -> None:
        """`words` is what each choice is called."""
        super().__init__(label)
        self.words = words
        self.choices = list(choices)
        self.mark = self.choices.index(chosen) if chosen in self.choices else 0
        self.chosen = chosen
        self.on_choose = on_choose
        self.first = 0
        self._row = 1
        self._typed = ""
        self._typed_at = 0
        self.keys_help = _("Arrows or letters go through the list, Enter takes an entry, Esc closes it.")

    @property
    def value(self) -> Value:
        """The marked entry."""
        return self.choices[self.mark] if self.choices else ""

    def tree(self) -> dict[str, Any]:
        """Entries in sight are told as children."""
        told = super().tree()
        last = min(self.first + self._fitting(), len(self.choices))
        top = self.rect.top + 4
        cells = [pygame.Rect(self.rect.left, top + self._row * n, self.rect.width, self._row) for n in range(last)]
        names = [self.words(choice) for choice in self.choices[self.first : last]]
        told["children"] = self.options(names, self.words(self.chosen) if self.chosen else "", cells)
        return told

    def wish(self, style: Style, width: int) -> Size:
        """All entries."""
        longest = max((style.width(self.words(c), 13, Face.BOLD) for c in self.choices), default=0)
        return min(longest + style.px(34), width), style.px(TARGET) * len(self.choices) + style.px(8)

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """Keep the marked entry in sight."""
        super().place(style, rect)
        self._row = style.px(TARGET)
        self._show_mark()

    def _fitting(self) -> int:
        return max((self.rect.height - 8) // self._row, 1)

    def _show_mark(self) -> None:
        self.first = max(min(self.first, self.mark), self.mark - self._fitting() + 1, 0)

    def draw(self, pen: Pen) -> None:
        """Entries; the marked one on a wash, the present one with a tick."""
        shadow = self.rect.move(pen.style.px(2), pen.style.px(3))
        pen.wash(shadow, INK, 40)
        pen.box(self.rect, WHITE, INK, 3, 1.2)
        y = self.rect.top + pen.style.px(4)
        for n in range(self.first, min(self.first + self._fitting(), len(self.choices))):
            cell = pygame.Rect(self.rect.left + 2, y, self.rect.width - 4, self._row)
            if n == self.mark:
                pen.fill(cell, WIRE_WASH)
                pen.fill(pygame.Rect(cell.left, cell.top, pen.style.px(3), cell.height), INK)
            on = self.choices[n] == self.chosen
            words = pygame.Rect(cell.left + pen.style.px(22), y, cell.width - pen.style.px(28), self._row)
            if on:
                pen.text("✓", (cell.left + pen.style.px(13), cell.centery), 13, INK, anchor="centre")
            pen.text_in(self.words(self.choices[n]), words, 13, INK, Face.BOLD if on else Face.REGULAR)
            y += self._row
        if len(self.choices) > self._fitting():
            self._draw_bar(pen)

    def _draw_bar(self, pen: Pen) -> None:
        track = pygame.Rect(
            self.rect.right - pen.style.px(7), self.rect.top + 4, pen.style.px(4), self.rect.height - 8
        )
        size = max(track.height * self._fitting() // len(self.choices), pen.style.px(16))
        span = max(len(self.choices) - self._fitting(), 1)
        top = track.top + (track.height - size) * self.first // span
        pen.fill(pygame.Rect(track.left, top, track.width, size), FIELD)

    def _row_at(self, point: tuple[int, int]) -> int:
        n = self.first + (point[1] - self.rect.top - 4) // self._row
        return n if 0 <= n < len(self.choices) else -1

    def hover(self, point: tuple[int, int]) -> None:
        """The mouse marks."""
        n = self._row_at(point)
        if n >= 0:
            self.mark = n

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Mark; letting go takes it."""
        n = self._row_at(point)
        if n >= 0:
            self.mark = n
        return True

    def drop(self, point: tuple[int, int]) -> None:
        """Take what the mouse is over."""
        if self.rect.collidepoint(point) and self._row_at(point) >= 0:
            self._take()

    def wheel(self, turns: float, point: tuple[int, int]) -> bool:
        """Scroll."""
        self.first = max(0, min(self.first - round(turns), len(self.choices) - self._fitting()))
        return True

    def key(self, event: pygame.event.Event) -> bool:
        """Arrows move, Home and End jump, Enter takes."""
        moves = {
            pygame.K_DOWN: self.mark + 1,
            pygame.K_UP: self.mark - 1,
            pygame.K_HOME: 0,
            pygame.K_END: len(self.choices) - 1,
            pygame.K_PAGEDOWN: self.mark + self._fitting(),
            pygame.K_PAGEUP: self.mark - self._fitting(),
        }
        if event.key in moves:
            self.mark = max(0, min(moves[event.key], len(self.choices) - 1))
            self._show_mark()
            return True
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            self._take()
            return True
        return False

    def type(self, text: str) -> bool:
        """Letters jump to the entry that begins with them; Space takes when nothing was typed."""
        now = pygame.time.get_ticks()
        if text == " " and not self._typed:
            self._take()
            return True
        self._typed = (self._typed if now - self._typed_at < 900 else "") + text.lower()
        self._typed_at = now
        for n, choice in enumerate(self.choices):
            if self.words(choice).lower().startswith(self._typed):
                self.mark = n
                self._show_mark()
                break
        return True

    def _take(self) -> None:
        root, choice = self.top().root, self.value
        if root is not None:
            root.close_layer()
        if isinstance(choice, str):
            self.on_choose(choice)


def open_list(
    owner: Widget,
    choices: Sequence[str],
    chosen: str | None,
    on_choose: Callable[[str], None],
    anchor: pygame.Rect | None = None,
    words: Callable[[str], str] = str,
) -> None:
    """Open a list of choices under (or over) its owner, or at a part of it; `words` is what each is called."""
    root = owner.top().root
    if root is not None and choices:
        root.open_popup(ChoiceList(owner.label, choices, chosen, on_choose, words), owner, anchor)


class MenuButton(Button):
    """Opens a short list under it; choosing an entry does something once."""

    role = "menu"
    margin = 36.0

    def __init__(
        self,
        label: str,
        choices: Sequence[str],
        on_choose: Callable[[str], None],
        *,
        look: Look = "plain",
        help: str = "",
        width: float | None = None,
        acts: Iterable[str] = (),
    ) -> None:
        super().__init__(label, self.open, look=look, help=help, width=width, acts=acts)
        self.choices = list(choices)
        self.on_choose = on_choose

    def draw(self, pen: Pen) -> None:
        """Words and an arrow."""
        ground, words, edge = self.colours(pen)
        pen.box(self.rect, ground, edge, 3, 1.2)
        inner = pygame.Rect(
            self.rect.left + pen.style.px(9), self.rect.top, self.rect.width - pen.style.px(28), self.rect.height
        )
        pen.text_in(self.label, inner, self.size, words)
        pen.text("▼", (self.rect.right - pen.style.px(9), self.rect.centery), SMALL - 3, words, anchor="right")
        if pen.focus is self and pen.ring:
            pen.ring_round(self.rect)

    def open(self) -> None:
        """Show the list."""
        open_list(self, self.choices, None, self.on_choose)

    def key(self, event: pygame.event.Event) -> bool:
        """The arrow down opens it too."""
        if event.key == pygame.K_DOWN:
            self.open()
            return True
        return super().key(event)
