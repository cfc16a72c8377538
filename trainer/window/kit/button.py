"""Things to press: a button, a button that is held, a tick box, a button that opens a list."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Literal

import pygame

from trainer.window.kit.glyphs import Face
from trainer.window.kit.pen import block
from trainer.window.kit.style import (
    FAINT,
    FIELD,
    GO,
    INK,
    INK_OVER,
    PAPER,
    RULE,
    SHEET,
    STOP,
    STOP_OVER,
    TARGET,
    TEXT,
    WHITE,
    WIRE,
    WIRE_WASH,
    Colour,
    Style,
)
from trainer.window.kit.widget import Size, Value, Widget

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen

Look = Literal["plain", "main", "danger", "quiet", "on"]
ACT_KEYS = (pygame.K_RETURN, pygame.K_KP_ENTER, pygame.K_SPACE)


LOOSE = 12.0
"""So much less room beside the words is enough where there is no more [logical px]."""


class Button(Widget):
    """Does something once when it is pressed and let go over it, or by Enter or Space."""

    role = "button"
    takes_focus = True
    margin = 22.0
    """Room beside the words [logical px]."""

    def __init__(
        self,
        label: str,
        on_press: Callable[[], None],
        *,
        look: Look = "plain",
        help: str = "",
        width: float | None = None,
        grow: float = 0.0,
        acts: Iterable[str] = (),
        size: float = 13.0,
    ) -> None:
        super().__init__(label, width=width, grow=grow, help=help, acts=acts)
        self.on_press = on_press
        self.look: Look = look
        self.size = size
        self.tint: Colour | None = None
        """Colour of words and edge of a plain button, where the words tell a state."""
        self.down = False

    def relabel(self, label: str) -> None:
        """Change what it says."""
        if label != self.label:
            self.label = label
            self.stale()

    def wish(self, style: Style, width: int) -> Size:
        """The words and a margin, at least a target high."""
        least = style.px(self.margin - LOOSE)
        wide, high = block(style, self.label, self.size, self._face(), width - least)
        target = style.px(TARGET)
        return max(min(wide + style.px(self.margin), width), target), max(target, high + style.px(10))

    def _face(self) -> Face:
        return Face.BOLD if self.look in ("main", "on") else Face.REGULAR

    def colours(self, pen: Pen) -> tuple[Colour, Colour, Colour | None]:
        """Ground, words and edge as it stands now."""
        if not self.enabled:
            return PAPER, FAINT, RULE
        over = pen.hover is self
        table: dict[Look, tuple[Colour, Colour, Colour | None]] = {
            "plain": (WIRE_WASH if over else SHEET, self.tint or INK, self.tint or INK),
            "main": (INK_OVER if over else INK, WHITE, INK),
            "danger": (STOP_OVER if over else STOP, WHITE, STOP),
            "quiet": (WIRE_WASH if over else SHEET, WIRE, None),
            "on": (INK, WHITE, INK),
        }
        ground, words, edge = table[self.look]
        if self.down and self.look in ("plain", "quiet"):
            ground, words = INK, WHITE
        return ground, words, edge

    def draw(self, pen: Pen) -> None:
        """Box and words."""
        ground, words, edge = self.colours(pen)
        pen.box(self.rect, ground, edge, 3, 1.2)
        inner = self.rect.inflate(-pen.style.px(10), 0)
        pen.text_in(self.label, inner, self.size, words, self._face(), "centre")
        if pen.focus is self and pen.ring:
            pen.ring_round(self.rect)

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Down with the left button."""
        self.down = button == 1
        return self.down

    def drag(self, point: tuple[int, int]) -> None:
        """Moving off it takes the press back."""
        self.down = self.rect.collidepoint(point)

    def drop(self, point: tuple[int, int]) -> None:
        """Let go over it: done."""
        done, self.down = self.down and self.rect.collidepoint(point), False
        if done:
            self.on_press()

    def key(self, event: pygame.event.Event) -> bool:
        """Enter and Space do it."""
        if event.key in ACT_KEYS:
            self.on_press()
            return True
        return False

    def blurred(self) -> None:
        """A press that was begun is forgotten."""
        self.down = False


class HoldButton(Button):
    """Acts while it is held, by mouse or by key: leaving it, losing focus or the window lets it go."""

    role = "hold button"

    def __init__(
        self,
        label: str,
        on_down: Callable[[], bool],
        on_up: Callable[[], None],
        *,
        look: Look = "plain",
        help: str = "",
        width: float | None = None,
        grow: float = 0.0,
        acts: Iterable[str] = (),
    ) -> None:
        super().__init__(label, lambda: None, look=look, help=help, width=width, grow=grow, acts=acts)
        self.on_down = on_down
        self.on_up = on_up
        self.lit = False
        """Shown as held because the session says it is."""

    @property
    def value(self) -> Value:
        """Whether it is held."""
        return self.down

    def colours(self, pen: Pen) -> tuple[Colour, Colour, Colour | None]:
        """Filled while it is held."""
        if self.enabled and (self.down or self.lit):
            return (STOP if self.look == "danger" else GO), WHITE, INK
        return super().colours(pen)

    def draw(self, pen: Pen) -> None:
        """A bar along the foot says that this one acts only while it is held; it fills when held."""
        super().draw(pen)
        held = self.enabled and (self.down or self.lit)
        foot = pygame.Rect(
            self.rect.left + pen.style.px(6),
            self.rect.bottom - pen.style.px(6),
            self.rect.width - pen.style.px(12),
            pen.style.px(2),
        )
        quiet = FAINT if not self.enabled else (WHITE if self.look == "danger" else FIELD)
        pen.fill(foot, WHITE if held else quiet)

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Held from now on."""
        if button == 1:
            self._begin()
        return button == 1

    def drag(self, point: tuple[int, int]) -> None:
        """The finger slid off: let go."""
        if not self.rect.collidepoint(point):
            self._end()

    def drop(self, point: tuple[int, int]) -> None:
        """Let go."""
        self._end()

    def key(self, event: pygame.event.Event) -> bool:
        """Held from now on; the key's repeats change nothing."""
        if event.key in ACT_KEYS:
            self._begin()
            return True
        return False

    def key_up(self, event: pygame.event.Event) -> None:
        """Let go."""
        if event.key in ACT_KEYS:
            self._end()

    def blurred(self) -> None:
        """Let go."""
        self._end()

    def _begin(self) -> None:
        # Held only once it was accepted: a question that comes up instead must not look like a press let go.
        if not self.down:
            self.down = self.on_down()

    def _end(self) -> None:
        if self.down:
            self.down = False
            self.on_up()


class Toggle(Widget):
    """A box with a tick and a sentence."""

    role = "tick box"
    takes_focus = True

    def __init__(
        self, label: str, value: bool, on_change: Callable[[bool], None], *, help: str = "", grow: float = 0.0
    ) -> None:
        super().__init__(label, help=help, grow=grow)
        self.on = value
        self.on_change = on_change

    @property
    def value(self) -> Value:
        """Ticked or not."""
        return self.on

    def wish(self, style: Style, width: int) -> Size:
        """Box and sentence."""
        margin = style.px(30)
        wide, high = block(style, self.label, TEXT, Face.REGULAR, width - margin)
        return wide + margin, max(style.px(TARGET), high + style.px(8))

    def draw(self, pen: Pen) -> None:
        """Box, tick, sentence."""
        side = pen.style.px(18)
        box = pygame.Rect(self.rect.left + pen.style.px(2), self.rect.centery - side // 2, side, side)
        ink = INK if self.enabled else FAINT
        pen.box(box, WHITE if self.enabled else PAPER, ink, 2, 1.2)
        if self.on:
            pen.text("✓", box.center, 15, ink, Face.BOLD, "centre")
        words = pygame.Rect(
            box.right + pen.style.px(8),
            self.rect.top,
            self.rect.right - box.right - pen.style.px(8),
            self.rect.height,
        )
        pen.text_in(self.label, words, TEXT, ink)
        if pen.focus is self and pen.ring:
            pen.ring_round(self.rect)

    def _flip(self) -> None:
        self.on = not self.on
        self.on_change(self.on)

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Flip."""
        if button == 1:
            self._flip()
        return button == 1

    def key(self, event: pygame.event.Event) -> bool:
        """Space and Enter flip it."""
        if event.key in ACT_KEYS:
            self._flip()
            return True
        return False
