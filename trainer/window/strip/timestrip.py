"""The strip's drawing: angles, currents, guards, commands and marks against time; hover reads, drag looks back."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Final

import pygame

from sim.units import SECOND, Us
from trainer.language import _
from trainer.window.kit.canvas import Canvas
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import (
    FIELD,
    GO,
    GRID,
    INK,
    SHEET,
    SMALL,
    SOFT,
    STOP,
    WARN,
    WARN_WASH,
    WIRE,
    Style,
)
from trainer.window.kit.widget import Size, Value
from trainer.window.strip.axis import Tick, draw_instants, paint_ticks, ticks
from trainer.window.strip.traces import polyline, value_at
from trainer.window.words import moment

if TYPE_CHECKING:
    from trainer.session.view import StripView, View
    from trainer.window.kit.pen import Pen

LABELS: Final = 118.0
"""Room for the names of the rows [logical px]."""

ROWS: Final = (("angle", 3.0), ("current", 2.4), ("supply", 1.7), ("guards", 1.5), ("commands", 1.5))
"""Rows and their shares of the height."""

WIDEST: Final = 320
"""Width of what is read at an instant, at most [logical px]."""

SUPPLY_V: Final = 30.0
"""Top of the row of the supply [V]: a rail of 24 V with its charger stands below."""

MARK: Final = 8.0
"""No mark reaches farther to the side of its instant [logical px]."""

LEAD: Final = 4
"""Columns before the first that is painted anew in which a curve begins [px], so that it comes in as it went out."""

MARK_COLOURS: Final = {"act": INK, "event": WIRE, "danger": STOP}


class TimeStrip(Canvas):
    """Time from left to right; the mark of now wanders to the right and the paper moves on when it nears the edge."""

    role = "time strip"
    takes_focus = True
    takes_repeats = True

    def __init__(self, on_look: Callable[[Us | None], None], view: View) -> None:
        super().__init__(_("time strip"))
        self.keys_help = _("Left and Right look back and on, a second at a time; End goes back to now.")
        self.view = view
        self.on_look = on_look
        self.span_s = 60.0
        self.start_s = 0.0
        self._names = {
            "angle": _("leaf angle °"),
            "current": _("motor current A"),
            "supply": _("supply V"),
            "guards": _("guards"),
            "commands": _("commands"),
        }
        self._label_px = 0
        """Room for them; 0 before there is a place [px]."""
        self._cursor: int | None = None
        self._dragging = False
        self._style: Style | None = None
        self._went_back = 0
        """How often what was recorded has become shorter: somebody went on from earlier."""
        self._drawn = 0
        """The column up to which the kept picture has its curves."""
        self._late: list[tuple[Us, str, str]] = []
        """Marks so near the end of the curves that they reach into what is still to be drawn."""

    @property
    def value(self) -> Value:
        """The instant shown, and what was recorded there, in words."""
        shown = self.strip.shown_s
        return _("now") if shown is None else "; ".join([moment(round(shown * SECOND)), *self.readings(shown)])

    @property
    def strip(self) -> StripView:
        """What is recorded."""
        return self.view.strip

    def wish(self, style: Style, width: int) -> Size:
        """A fixed share of the screen."""
        return width, style.px(104)

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """The style is kept for finding the instant under the mouse."""
        super().place(style, rect)
        self._style = style
        widest = max(style.width(words, SMALL, Face.REGULAR) for words in self._names.values())
        self._label_px = min(max(style.px(LABELS), widest + style.px(20)), rect.width // 3)

    # -- time and pixels

    def _left(self, style: Style) -> int:
        return self._label_px or style.px(LABELS)

    def _width(self, style: Style) -> int:
        return max(self.rect.width - self._left(style) - style.px(14), 10)

    def _per_px(self, style: Style) -> float:
        return self.span_s / self._width(style)

    def show(self, view: View) -> None:
        """Take the newest look; move the paper on when now nears the right edge."""
        before, self.view = self.view.strip.end_s, view
        end = view.strip.end_s
        self._went_back += end < before
        if view.strip.shown_s is None and not self._dragging:
            if end > self.start_s + self.span_s * 0.97:
                self.start_s = end - self.span_s * 0.8
            elif end < self.start_s:
                self.start_s = max(0.0, end - self.span_s * 0.8)
        elif view.strip.shown_s is not None and not self._dragging:
            shown = view.strip.shown_s
            if not self.start_s <= shown <= self.start_s + self.span_s:
                self.start_s = max(0.0, shown - self.span_s * 0.4)

    def set_span(self, span_s: float) -> None:
        """How much time is in sight [s]; 0: all of it."""
        end = self.strip.end_s
        self.span_s = span_s if span_s > 0 else max(end * 1.08, 60.0)
        self.start_s = max(0.0, end - self.span_s * 0.8) if span_s > 0 else 0.0

    # -- drawing

    def key_of(self) -> object:
        """Painted anew when the paper moves and when there is a new mark; what is recorded meanwhile is added."""
        return (self.start_s, self.span_s, len(self.strip.marks), self._went_back)

    def _column(self, style: Style, when_s: float) -> int:
        return int((when_s - self.start_s) / self._per_px(style))

    def paint(self, pen: Pen) -> None:
        """Rows, curves, marks and the axis, as far as something was recorded."""
        self._drawn = self._column(pen.style, self.strip.end_s)
        apart = pen.style.px(MARK) * self._per_px(pen.style)
        self._late = [mark for mark in self.strip.marks if mark[0] / SECOND > self.strip.end_s - apart]
        self._paint_from(pen, 0, self.strip.marks)

    def add(self, pen: Pen) -> None:
        """The curves grow to the right: only the columns that were added are painted, and the last one again."""
        column = self._column(pen.style, self.strip.end_s)
        if column > self._drawn and column <= self._width(pen.style):
            first, self._drawn = max(self._drawn - 1, 0), column
            area = pygame.Rect(self._left(pen.style) + first, 0, self.rect.width, self.rect.height)
            with pen.clip(area):
                pen.fill(area, self.ground)
                self._paint_from(pen, first, self._late)

    def _paint_from(self, pen: Pen, column: int, marks: Sequence[tuple[Us, str, str]]) -> None:
        """Everything of the picture, its curves from a column on."""
        area = pygame.Rect((0, 0), self.rect.size)
        pen.box(area, None, INK, 0, 1.5)
        left, width = self._left(pen.style), self._width(pen.style)
        rows = self._rows(pen.style)
        paint_ticks(pen, self._ticks(pen.style), left, width, rows["axis"][0] + pen.style.px(2))
        if column == 0:
            self._paint_names(pen, rows, left)
        for name, (_top, bottom) in rows.items():
            if name != "axis":
                pen.line((left, bottom), (left + width, bottom), GRID)
        per_px, strip, since = self._per_px(pen.style), self.strip, max(column - LEAD, 0)
        for channel, row, colour, thick, span in self._curves():
            if channel in strip.channels:
                top, bottom = rows[row]
                place, recorded = (bottom - 1, top + 2), strip.channels[channel]
                held = row in ("guards", "commands")
                points = polyline(
                    strip.time_s, recorded, self.start_s, per_px, width, place, span, held, from_px=since
                )
                pen.lines([(x + left, y) for x, y in points], colour, thick)
        self._paint_marks(pen, left, width, rows["axis"], marks)

    def _paint_names(self, pen: Pen, rows: dict[str, tuple[int, int]], left: int) -> None:
        for name, words in self._names.items():
            top, bottom = rows[name]
            room = pygame.Rect(pen.style.px(12), top, left - pen.style.px(16), bottom - top)
            pen.text_in(words, room, SMALL, SOFT)

    def _curves(self) -> tuple[tuple[str, str, tuple[int, int, int], float, tuple[float, float]], ...]:
        open_deg = max(leaf.open_stop_deg for leaf in self.view.leaves) * 1.04
        amps = (-6.0, 6.0)
        return (
            ("inactive angle", "angle", WIRE, 1.0, (0.0, open_deg)),
            ("active angle", "angle", GO, 2.0, (0.0, open_deg)),
            ("inactive current", "current", WIRE, 1.0, amps),
            ("active current", "current", GO, 2.0, amps),
            ("supply", "supply", INK, 1.2, (0.0, SUPPLY_V)),
            ("guards", "guards", STOP, 2.0, (0.0, 1.0)),
            ("commands", "commands", INK, 1.5, (0.0, 1.0)),
        )

    def _rows(self, style: Style) -> dict[str, tuple[int, int]]:
        top, bottom = style.px(8), self.rect.height - style.px(24)
        total, y = sum(share for _name, share in ROWS), float(top)
        rows = {}
        for name, share in ROWS:
            high = (bottom - top) * share / total
            rows[name] = (round(y + style.px(3)), round(y + high - style.px(2)))
            y += high
        rows["axis"] = (bottom, self.rect.height)
        return rows

    def _ticks(self, style: Style) -> list[Tick]:
        return ticks(style, self.start_s, self.span_s, self._per_px(style))

    def _paint_marks(
        self, pen: Pen, left: int, width: int, row: tuple[int, int], marks: Sequence[tuple[Us, str, str]]
    ) -> None:
        y, px = row[0] + pen.style.px(2), pen.style.px
        taken: set[tuple[int, str]] = set()
        for when, kind, _text in marks:
            x = round(left + (when / SECOND - self.start_s) / self._per_px(pen.style))
            if not left <= x <= left + width or (x, kind) in taken:
                continue
            taken.add((x, kind))
            colour = MARK_COLOURS.get(kind, INK)
            if kind == "act":
                pen.line((x, y - px(7)), (x, y), colour, 1.6)
            elif kind == "danger":
                pen.shape([(x - px(5), y), (x + px(5), y), (x, y - px(9))], colour, None)
            else:
                pen.shape([(x, y - px(8)), (x + px(4), y - px(4)), (x, y), (x - px(4), y - px(4))], colour, None)

    def draw_over(self, pen: Pen) -> None:
        """Now, the past instant that is shown, and what the mouse reads."""
        left, width = self.rect.left + self._left(pen.style), self._width(pen.style)
        now = left + (self.strip.end_s - self.start_s) / self._per_px(pen.style)
        shown = self.strip.shown_s
        foot = self.rect.bottom - pen.style.px(22)
        x = None if shown is None else left + (shown - self.start_s) / self._per_px(pen.style)
        needles = [needle - left for needle in (now, x) if needle is not None]
        y = self.rect.top + self._rows(pen.style)["axis"][0] + pen.style.px(2)
        draw_instants(pen, self._ticks(pen.style), needles, left, width, y)
        if left <= now <= left + width:
            near = x is not None and abs(x - now) < self._slip(pen, _("now")) / 2 + self._slip(pen, _("shown")) / 2
            self._needle(pen, now, SOFT if x is not None else STOP, "" if near else _("now"), foot)
        if x is not None:
            self._needle(pen, x, WARN, _("shown"), foot)
        cursor = self._read_at(pen)
        if cursor is not None and left <= cursor <= left + width:
            self._reading(pen, cursor)
        if pen.focus is self and pen.ring:
            pen.ring_round(self.rect.inflate(-pen.style.px(8), -pen.style.px(8)))

    def _read_at(self, pen: Pen) -> int | None:
        """Where values are read [px]: under the mouse; without one, at the instant shown, for who uses the keys."""
        if self._cursor is not None and not self._dragging:
            return self._cursor
        shown = self.strip.shown_s
        if shown is None or pen.focus is not self:
            return None
        return round(self.rect.left + self._left(pen.style) + (shown - self.start_s) / self._per_px(pen.style))

    def _needle(self, pen: Pen, x: float, colour: tuple[int, int, int], word: str, foot: int) -> None:
        px = pen.style.px
        pen.line((x, self.rect.top + px(4)), (x, foot), colour, 1.4)
        pen.shape([(x, foot - px(6)), (x - px(5), foot + px(2)), (x + px(5), foot + px(2))], colour, None)
        if not word:
            return
        wide = self._slip(pen, word)
        slip = pygame.Rect(round(x) - wide // 2, foot + px(4), wide, px(14))
        pen.fill(slip, SHEET)
        pen.text(word, slip.center, 11, colour, Face.BOLD, "centre")

    @staticmethod
    def _slip(pen: Pen, word: str) -> int:
        """Width of the slip under a needle [px]."""
        return max(pen.style.width(word, 11, Face.BOLD), pen.style.px(40)) + pen.style.px(6)

    def _reading(self, pen: Pen, x: int) -> None:
        when = self.instant_at(x)
        if when > self.strip.end_s:
            return
        pen.line((x, self.rect.top + 4), (x, self.rect.bottom - pen.style.px(24)), INK)
        px, glyphs = pen.style.px, pen.style.glyphs
        told = [moment(round(when * SECOND)), *self.readings(when)]
        lines = [line for each in told for line in glyphs.wrap(each, Face.REGULAR, px(11), px(WIDEST))]
        wide = max(pen.style.width(line, 11, Face.REGULAR) for line in lines) + px(14)
        box = pygame.Rect(x + px(8), self.rect.top + px(5), wide, px(15) * len(lines) + px(6))
        if box.right > self.rect.right - 4:
            box.right = x - px(8)
        box.bottom = min(box.bottom, self.rect.bottom - 3)
        pen.box(box, WARN_WASH, FIELD, 2)
        for n, line in enumerate(lines):
            face = Face.BOLD if n == 0 else Face.REGULAR
            pen.text(line, (box.left + px(7), box.top + px(10) + px(15) * n), 11, INK, face)

    def readings(self, when_s: float) -> list[str]:
        """What was recorded at an instant, in words."""
        strip = self.strip

        def read(channel: str) -> float:
            value = value_at(strip.time_s, strip.channels[channel], when_s) if channel in strip.channels else None
            return 0.0 if value is None else value

        told = [
            _("active {angle:.1f}°, {amps:.1f} A").format(angle=read("active angle"), amps=read("active current"))
        ]
        if "inactive angle" in strip.channels:
            told.append(
                _("inactive {angle:.1f}°, {amps:.1f} A").format(
                    angle=read("inactive angle"), amps=read("inactive current")
                )
            )
        if "supply" in strip.channels:
            told.append(_("supply {volts:.1f} V").format(volts=read("supply")))
        near = self.span_s / 200
        marks = [text for at, _kind, text in strip.marks if abs(at / SECOND - when_s) <= near]
        return told + [_(text) for text in marks[-2:]]

    # -- events

    def step(self, way: float, mod: int) -> None:
        """Look a second back (-1) or forth (1) from what is shown: a tenth with Shift, ten with Ctrl."""
        shown = self.strip.shown_s if self.strip.shown_s is not None else self.strip.end_s
        step = 0.1 if mod & pygame.KMOD_SHIFT else 10.0 if mod & pygame.KMOD_CTRL else 1.0
        self.look_at(shown + way * step)

    def instant_at(self, x: int) -> float:
        """The instant under a pixel [s], not before the beginning."""
        if self._style is None:
            return 0.0
        return max(0.0, self.start_s + (x - self.rect.left - self._left(self._style)) * self._per_px(self._style))

    def look_at(self, when_s: float) -> None:
        """Show an instant; at or after now means back to now."""
        live = when_s >= self.strip.end_s
        self.on_look(None if live else Us(round(max(when_s, 0.0) * SECOND)))

    def hover(self, point: tuple[int, int]) -> None:
        """Read the values there."""
        self._cursor = point[0]

    def leave(self) -> None:
        """Nothing is read."""
        self._cursor = None

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Look at the instant under the mouse."""
        if button == 1:
            self._dragging = True
            self.look_at(self.instant_at(point[0]))
        return button == 1

    def drag(self, point: tuple[int, int]) -> None:
        """Look further back or forth; values are read there once it is let go."""
        self._cursor = point[0]
        if self._dragging:
            self.look_at(self.instant_at(point[0]))

    def drop(self, point: tuple[int, int]) -> None:
        """Stay there."""
        self._dragging = False

    def blurred(self) -> None:
        """A drag that was begun ends where it is."""
        self._dragging = False

    def key(self, event: pygame.event.Event) -> bool:
        """Arrows look a second back or forth: a tenth with Shift, ten with Ctrl; End and Esc go back to now."""
        way = {pygame.K_LEFT: -1.0, pygame.K_RIGHT: 1.0}.get(event.key)
        if way is not None:
            self.step(way, event.mod)
        elif event.key == pygame.K_HOME:
            self.look_at(0.0)
        elif event.key == pygame.K_END or (event.key == pygame.K_ESCAPE and self.strip.shown_s is not None):
            self.on_look(None)
        else:
            return False
        return True
