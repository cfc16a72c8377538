"""The debrief's timeline: the whole job from arrival to its end, with every finding pinned to its moment."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

import pygame

from sim.units import SECOND, Us
from trainer.language import _
from trainer.window.kit.canvas import Canvas
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import (
    FIELD,
    GO,
    INK,
    RULE,
    SHEET,
    SMALL,
    SOFT,
    STOP,
    WARN,
    WARN_WASH,
    WIRE,
    Colour,
    Style,
)
from trainer.window.kit.widget import Size, Value
from trainer.window.strip.axis import axis_step
from trainer.window.strip.traces import polyline
from trainer.window.words import moment

if TYPE_CHECKING:
    from trainer.session.view import StripView
    from trainer.window.kit.pen import Pen

COLOURS: Final[dict[str, Colour]] = {"failed": STOP, "marginal": WARN, "skipped": SOFT, "passed": GO}
LANES: Final = 3
"""Rows of pins, so that findings near one another stand apart."""

PIN: Final = 22.0
"""Width and height of a pin [logical px]."""

REACH: Final = 18.0
"""So near to a pin's middle it is meant [logical px]: wider than it is drawn."""


@dataclass(frozen=True, slots=True)
class Pin:
    """One finding at its moment."""

    number: int
    """As it stands in the list beside, counted from 1."""
    at: Us
    outcome: str
    title: str

    @property
    def words(self) -> str:
        """Number, moment, what and how it came out, in one line."""
        return _("{number} · {when} · {title} ({outcome})").format(
            number=self.number, when=moment(self.at), title=_(self.title), outcome=_(self.outcome)
        )


class Timeline(Canvas):
    """Left and Right go from pin to pin, Enter or a click watches what happened there."""

    role = "timeline"
    takes_focus = True
    takes_repeats = True

    def __init__(
        self, strip: StripView, open_deg: float, pins: Sequence[Pin], on_watch: Callable[[Us], None]
    ) -> None:
        """`open_deg` is the top of the row of angles."""
        super().__init__(_("what happened when"), grow=0.0)
        self.keys_help = _("Left and right go from finding to finding, Enter watches what led to it.")
        self.strip = strip
        self.open_deg = open_deg
        self.pins = sorted(pins, key=lambda pin: pin.at)
        self.on_watch = on_watch
        self.chosen = 0
        self._over: int | None = None
        self._near = 0
        """`REACH` in screen px."""
        self._spots: list[tuple[int, int]] = []
        """Middle of each pin, from the corner of this drawing."""
        self._end_s = max([strip.end_s, 1.0, *(pin.at / SECOND for pin in self.pins)])

    @property
    def value(self) -> Value:
        """The chosen pin in words."""
        return self.pins[self.chosen].words if self.pins else _("no finding has a moment")

    def tree(self) -> dict[str, Any]:
        """Each pin is told as a child."""
        told = super().tree()
        half = round(PIN / 2)
        told["children"] = [
            {
                "role": "pin",
                "label": pin.words,
                "value": n == self.chosen,
                "enabled": self.enabled,
                "rect": (self.rect.left + x - half, self.rect.top + y - half, 2 * half, 2 * half),
            }
            for n, (pin, (x, y)) in enumerate(zip(self.pins, self._spots, strict=False))
        ]
        return told

    def wish(self, style: Style, width: int) -> Size:
        """Lanes of pins above a low row of angles and the axis."""
        return width, style.px(PIN + 3) * LANES + style.px(62)

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """Each pin in the first lane that has room for it; when none has, as near as the emptiest lane allows."""
        super().place(style, rect)
        self._near = style.px(REACH)
        step, high = style.px(PIN + 2), style.px(PIN + 3)
        taken = [-step] * LANES
        self._spots = []
        for pin in self.pins:
            x = self._x(style, pin.at / SECOND)
            free = (n for n, last in enumerate(taken) if x - last >= step)
            lane = next(free, min(range(LANES), key=taken.__getitem__))
            x = min(max(x, taken[lane] + step), rect.width - style.px(PIN / 2 + 4))
            taken[lane] = x
            self._spots.append((x, style.px(6) + high * lane + high // 2))

    def _x(self, style: Style, when_s: float) -> int:
        left, right = style.px(20), self.rect.width - style.px(34)
        return round(left + (right - left) * when_s / self._end_s)

    def key_of(self) -> object:
        """Nothing of it changes but which pin is chosen."""
        return len(self.pins)

    # -- drawing

    def paint(self, pen: Pen) -> None:
        """Angles of the leaves, the axis, a thread from each pin down to it, the pins."""
        px, style = pen.style.px, pen.style
        foot = self.rect.height - px(24)
        top = px(10) + px(PIN + 3) * LANES
        left, right = self._x(style, 0.0), self._x(style, self._end_s)
        for channel, colour in (("inactive angle", WIRE), ("active angle", GO)):
            if channel in self.strip.channels and right > left:
                recorded, per_px = self.strip.channels[channel], self._end_s / (right - left)
                points = polyline(
                    self.strip.time_s, recorded, 0.0, per_px, right - left, (foot, top), (0.0, self.open_deg)
                )
                pen.lines([(x + left, y) for x, y in points], colour, 1.2)
        self._axis(pen, left, right, foot)
        for pin, (x, y) in zip(self.pins, self._spots, strict=True):
            at = self._x(style, pin.at / SECOND)
            pen.line((x, y), (at, foot), RULE)
            pen.dot((at, foot), 2.5, COLOURS[pin.outcome])
        for pin, spot in zip(self.pins, self._spots, strict=True):
            _draw_pin(pen, pin, spot)
        pen.box(pygame.Rect((0, 0), self.rect.size), None, INK, 0, 1.5)

    def _axis(self, pen: Pen, left: int, right: int, foot: int) -> None:
        px = pen.style.px
        pen.line((left, foot), (right, foot), FIELD, 1.4)
        per_px = self._end_s / max(right - left, 1)
        step = axis_step(per_px, px(84))
        at = 0.0
        while at <= self._end_s:
            x = self._x(pen.style, at)
            pen.line((x, foot - px(3)), (x, foot + px(3)), FIELD)
            pen.text(moment(round(at * SECOND)), (x, foot + px(13)), 11, SOFT, anchor="centre")
            at += step

    def draw_over(self, pen: Pen) -> None:
        """The chosen pin's frame while it has the focus, and the words of the one under the mouse or chosen."""
        px, focused = pen.style.px, pen.focus is self and pen.ring
        shown = self._over if self._over is not None else self.chosen if focused and self.pins else None
        if focused:
            pen.ring_round(self.rect.inflate(-px(6), -px(6)))
        if shown is None:
            return
        x, y = self.rect.left + self._spots[shown][0], self.rect.top + self._spots[shown][1]
        pen.box(pygame.Rect(x - px(14), y - px(14), px(28), px(28)), None, INK, 14, 2.0)
        words = self.pins[shown].words
        wide = pen.style.width(words, SMALL, Face.REGULAR) + px(16)
        slip = pygame.Rect(x + px(18), y - px(12), wide, px(24))
        if slip.right > self.rect.right - px(6):
            slip.right = x - px(18)
        slip.left = max(slip.left, self.rect.left + px(6))
        pen.box(slip, WARN_WASH, FIELD, 2)
        pen.text_in(words, slip.inflate(-px(14), 0), SMALL)

    # -- events

    def _pin_at(self, point: tuple[int, int]) -> int | None:
        """The pin that is meant at a place on the screen."""
        x, y = point[0] - self.rect.left, point[1] - self.rect.top
        apart = [((x - at[0]) ** 2 + (y - at[1]) ** 2, n) for n, at in enumerate(self._spots)]
        best = min(apart, default=(float("inf"), 0))
        return best[1] if best[0] <= self._near**2 else None

    def hover(self, point: tuple[int, int]) -> None:
        """The words of the pin there."""
        self._over = self._pin_at(point)

    def leave(self) -> None:
        """No words."""
        self._over = None

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Watch the moment of the pin there."""
        found = self._pin_at(point) if button == 1 else None
        if found is not None:
            self.chosen = found
            self.on_watch(self.pins[found].at)
        return button == 1

    def key(self, event: pygame.event.Event) -> bool:
        """From pin to pin; Enter or Space watches."""
        if not self.pins:
            return False
        if event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            way = 1 if event.key == pygame.K_RIGHT else -1
            self.chosen = min(max(self.chosen + way, 0), len(self.pins) - 1)
        elif event.key in (pygame.K_HOME, pygame.K_END):
            self.chosen = 0 if event.key == pygame.K_HOME else len(self.pins) - 1
        elif event.key in (pygame.K_RETURN, pygame.K_KP_ENTER, pygame.K_SPACE):
            self.on_watch(self.pins[self.chosen].at)
        else:
            return False
        return True


def _draw_pin(pen: Pen, pin: Pin, spot: tuple[int, int]) -> None:
    """A shape for each outcome, so that colour is never alone: square failed, triangle marginal, round passed."""
    px, (x, y), colour = pen.style.px, spot, COLOURS[pin.outcome]
    half = px(PIN / 2)
    if pin.outcome == "failed":
        pen.fill(pygame.Rect(x - half, y - half, 2 * half, 2 * half), colour)
    elif pin.outcome == "marginal":
        pen.shape([(x - half - px(2), y + half), (x + half + px(2), y + half), (x, y - half - px(2))], colour, None)
    elif pin.outcome == "passed":
        pen.dot((x, y), PIN / 2, colour)
    else:
        pen.dot((x, y), PIN / 2, SHEET, colour)
    ink = colour if pin.outcome == "skipped" else SHEET
    low = px(3) if pin.outcome == "marginal" else 0
    pen.text(str(pin.number), (x, y + low), 11, ink, Face.BOLD, "centre")
