"""Fields to type in: a line of text, and a number with its unit, steps and range."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

import pygame

from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import (
    FAINT,
    FIELD,
    INK,
    PAPER,
    PICKED,
    RULE,
    SOFT,
    STOP,
    TARGET,
    WHITE,
    WIRE,
    WIRE_WASH,
    Style,
)
from trainer.window.kit.widget import Size, Value, Widget

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen

SIZE = 13.0


class Entry(Widget):
    """A line of text: caret, selection, undo, copy and paste. Enter commits, Esc puts back what was there."""

    role = "text entry"
    takes_focus = True
    takes_repeats = True

    def __init__(
        self,
        label: str,
        value: str,
        on_commit: Callable[[str], None],
        *,
        empty: str = "",
        help: str = "",
        width: float | None = None,
        grow: float = 0.0,
        most: int = 2000,
        right: bool = False,
        acts: Iterable[str] = (),
        on_change: Callable[[str], None] | None = None,
    ) -> None:
        super().__init__(label, help=help, width=width, grow=grow, acts=acts)
        self.text = value
        self.committed = value
        self.on_commit = on_commit
        self.on_change = on_change
        self.empty = empty
        self.most = most
        self.right = right
        self.caret = len(value)
        self.mark = len(value)
        """The other end of the selection."""
        self._undo: list[tuple[str, int]] = []
        self._offset = 0
        self._style: Style | None = None

    @property
    def value(self) -> Value:
        """What is typed."""
        return self.text

    @property
    def pending(self) -> bool:
        """Whether what is typed has not been committed."""
        return self.text != self.committed

    def show(self, value: str) -> None:
        """A new value from outside; while the person is typing it only becomes what Esc goes back to."""
        if value == self.committed:
            return
        if not self.pending:
            self.text = value
            self.caret = self.mark = len(value)
        self.committed = value

    def empty_out(self) -> None:
        """Begin anew."""
        self.text = self.committed = ""
        self.caret = self.mark = 0
        self._undo.clear()

    def wish(self, style: Style, width: int) -> Size:
        """A modest field; usually told its width or to grow."""
        return min(style.px(160), width), style.px(TARGET)

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """The style is kept for finding the letter under the mouse."""
        super().place(style, rect)
        self._style = style

    def _words(self, pen_style: Style) -> pygame.Rect:
        return self.rect.inflate(-pen_style.px(16), -pen_style.px(6))

    def draw(self, pen: Pen) -> None:
        """Field, selection, text, caret."""
        has = pen.focus is self
        edge = WIRE if self.pending else (INK if has or pen.hover is self else FIELD)
        pen.box(self.rect, WHITE if self.enabled else PAPER, edge if self.enabled else RULE, 3, 1.4 if has else 1)
        area, glyphs, px = self._words(pen.style), pen.style.glyphs, pen.style.px(SIZE)
        if not has:
            shown, ink = (self.text, WIRE if self.pending else INK) if self.text else (self.empty, SOFT)
            pen.text_in(shown, area, SIZE, ink if self.enabled else FAINT, anchor="right" if self.right else "left")
            return
        at = glyphs.width(self.text[: self.caret], Face.REGULAR, px)
        whole = glyphs.width(self.text, Face.REGULAR, px)
        self._offset = self._scrolled(at, whole, area.width)
        left = area.left - self._offset
        with pen.clip(area.inflate(2, 0)):
            if self.caret != self.mark:
                low, high = sorted((self.caret, self.mark))
                x0 = left + glyphs.width(self.text[:low], Face.REGULAR, px)
                x1 = left + glyphs.width(self.text[:high], Face.REGULAR, px)
                pen.fill(pygame.Rect(x0, area.top, x1 - x0, area.height), PICKED)
            pen.text(self.text or self.empty, (left, area.centery), SIZE, INK if self.text else FAINT)
            if pen.calm or pen.now % 1.0 < 0.6:
                pen.fill(pygame.Rect(left + at, area.top + 2, pen.style.px(1), area.height - 4), INK)
        if pen.ring:
            pen.ring_round(self.rect)

    def _scrolled(self, at: int, whole: int, room: int) -> int:
        if whole <= room:
            return whole - room if self.right else 0
        return max(0, min(max(self._offset, at - room), at, whole - room))

    # typing

    def _replace(self, text: str) -> None:
        low, high = sorted((self.caret, self.mark))
        new = (self.text[:low] + text + self.text[high:])[: self.most]
        if new == self.text:
            # The same letters typed over a selection: the caret still moves on.
            self.caret = self.mark = min(low + len(text), len(new))
            return
        self._undo.append((self.text, self.caret))
        del self._undo[:-100]
        self.text = new
        self.caret = self.mark = min(low + len(text), len(new))
        if self.on_change is not None:
            self.on_change(new)

    def type(self, text: str) -> bool:
        """Put in what was typed."""
        self._replace("".join(letter for letter in text if letter.isprintable()))
        return True

    def key(self, event: pygame.event.Event) -> bool:
        """Editing keys."""
        if event.mod & pygame.KMOD_CTRL:
            return self._control(event.key)
        keep = bool(event.mod & pygame.KMOD_SHIFT)
        moves = {
            pygame.K_LEFT: self.caret - 1,
            pygame.K_RIGHT: self.caret + 1,
            pygame.K_HOME: 0,
            pygame.K_END: len(self.text),
        }
        if event.key in moves:
            self._move(moves[event.key], keep)
        elif event.key == pygame.K_BACKSPACE:
            self._erase(-1)
        elif event.key == pygame.K_DELETE:
            self._erase(1)
        elif event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            self.commit()
        elif event.key == pygame.K_ESCAPE and self.pending:
            self.revert()
        else:
            # Letters arrive as text; as keys they must not reach the shortcuts of the screen.
            letter = str(getattr(event, "unicode", ""))
            return letter.isprintable() and letter != ""
        return True

    def _control(self, key: int) -> bool:
        low, high = sorted((self.caret, self.mark))
        if key == pygame.K_a:
            self.mark, self.caret = 0, len(self.text)
        elif key == pygame.K_z and self._undo:
            self.text, self.caret = self._undo.pop()
            self.mark = self.caret
        elif key in (pygame.K_c, pygame.K_x) and low != high:
            pygame.scrap.put_text(self.text[low:high])
            if key == pygame.K_x:
                self._replace("")
        elif key == pygame.K_v:
            self.type(pygame.scrap.get_text())
        else:
            return False
        return True

    def _move(self, to: int, keep: bool) -> None:
        self.caret = max(0, min(to, len(self.text)))
        if not keep:
            self.mark = self.caret

    def _erase(self, way: int) -> None:
        if self.caret == self.mark:
            self.mark = max(0, min(self.caret + way, len(self.text)))
        self._replace("")

    def commit(self) -> None:
        """Hand over what is typed."""
        self.on_commit(self.text)

    def revert(self) -> None:
        """Put back what was there."""
        changed, self.text = self.text != self.committed, self.committed
        self.caret = self.mark = len(self.text)
        if changed and self.on_change is not None:
            self.on_change(self.text)

    # mouse

    def _letter_at(self, x: int) -> int:
        style = self._style
        if style is None:
            return self.caret
        left = self._words(style).left - self._offset
        px = style.px(SIZE)
        ends = [left + style.glyphs.width(self.text[:n], Face.REGULAR, px) for n in range(len(self.text) + 1)]
        return min(range(len(ends)), key=lambda n: abs(ends[n] - x))

    def press(self, point: tuple[int, int], button: int) -> bool:
        """The caret goes where the mouse is."""
        if button == 1:
            self._move(self._letter_at(point[0]), keep=False)
        return button == 1

    def drag(self, point: tuple[int, int]) -> None:
        """Select."""
        self.caret = self._letter_at(point[0])

    def focused(self) -> None:
        """All is selected, so that typing replaces it."""
        self.mark, self.caret = 0, len(self.text)


class NumberEntry(Entry):
    """A number: arrows and the two small buttons step it, Enter commits it; outside the range it says so."""

    role = "number entry"

    def __init__(
        self,
        label: str,
        value: str,
        on_commit: Callable[[str], None],
        *,
        least: float | None = None,
        most: float | None = None,
        step: float = 1.0,
        unit: str = "",
        help: str = "",
        width: float | None = None,
        acts: Iterable[str] = (),
        on_change: Callable[[str], None] | None = None,
    ) -> None:
        super().__init__(
            label, value, on_commit, help=help, width=width, most=12, right=True, acts=acts, on_change=on_change
        )
        self.least = least
        self.highest = most
        self.step = step
        self.unit = unit

    def number(self) -> float | None:
        """What is typed as a number, or None when it is none."""
        try:
            return float(self.text.replace(",", "."))
        except ValueError:
            return None

    def trouble(self) -> str:
        """Why the number can't be used, else empty."""
        number = self.number()
        if number is None:
            return f"‘{self.text}’ is not a number"
        low = self.least is not None and number < self.least
        high = self.highest is not None and number > self.highest
        if low or high:
            return f"{self.text} is outside {_plain(self.least)} to {_plain(self.highest)} {self.unit}".strip()
        return ""

    def commit(self) -> None:
        """Hand over the number if it can be used; else say why not."""
        trouble = self.trouble()
        root = self.top().root
        if trouble and root is not None:
            root.toast(trouble, bad=True)
        elif not trouble:
            self.on_commit(self.text.replace(",", "."))

    def by(self, steps: float) -> None:
        """Step the number, staying in the range."""
        number = self.number()
        if number is None:
            return
        number += steps * self.step
        if self.least is not None:
            number = max(number, self.least)
        if self.highest is not None:
            number = min(number, self.highest)
        self.mark, self.caret = 0, len(self.text)
        self._replace(_plain(round(number, 6)))

    def key(self, event: pygame.event.Event) -> bool:
        """Arrows up and down step."""
        if event.key in (pygame.K_UP, pygame.K_DOWN):
            self.by(1 if event.key == pygame.K_UP else -1)
            return True
        return super().key(event)

    def _steppers(self, style: Style) -> tuple[pygame.Rect, pygame.Rect]:
        wide = style.px(18)
        half = self.rect.height // 2
        return (
            pygame.Rect(self.rect.left, self.rect.top, wide, half),
            pygame.Rect(self.rect.left, self.rect.top + half, wide, self.rect.height - half),
        )

    def _words(self, pen_style: Style) -> pygame.Rect:
        area = super()._words(pen_style)
        cut = pen_style.px(14)
        return pygame.Rect(area.left + cut, area.top, area.width - cut, area.height)

    def draw(self, pen: Pen) -> None:
        """The field and two small arrows."""
        super().draw(pen)
        if not self.enabled:
            return
        up, down = self._steppers(pen.style)
        if pen.hover is self:
            pen.fill(up.union(down).inflate(-2, -4), WIRE_WASH)
        x, mid = up.centerx + pen.style.px(1), self.rect.centery
        reach, near, far = pen.style.px(3.5), pen.style.px(3), pen.style.px(7)
        pen.shape([(x - reach, mid - near), (x + reach, mid - near), (x, mid - far)], SOFT, None)
        pen.shape([(x - reach, mid + near), (x + reach, mid + near), (x, mid + far)], SOFT, None)
        if self.pending and self.trouble():
            pen.box(self.rect, None, STOP, 3, 2)

    def press(self, point: tuple[int, int], button: int) -> bool:
        """The small arrows step; elsewhere the caret moves."""
        if self._style is not None and button == 1:
            up, down = self._steppers(self._style)
            for area, steps in ((up, 1), (down, -1)):
                if area.collidepoint(point):
                    self.by(steps)
                    return True
        return super().press(point, button)

    def wheel(self, turns: float, point: tuple[int, int]) -> bool:
        """Not by the wheel: scrolling a page must never change a number."""
        return False


def _plain(number: float | None) -> str:
    return "…" if number is None else f"{number:g}"
