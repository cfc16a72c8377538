"""Force against time: the readings of one point over each other, with the limits they are judged by."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import pygame

from trainer.window.kit.canvas import Canvas
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import FIELD, GO, INK, RULE, SMALL, SOFT, STOP, WIRE, Style
from trainer.window.kit.widget import Size
from trainer.window.words import _

if TYPE_CHECKING:
    from trainer.session.view import Curve
    from trainer.window.kit.pen import Pen

# Facts 1.2 (closing edge, gap up to 500 mm; EN 12453): peak, force after the dynamic time, and that time.
PEAK_N: Final = 400.0
FREE_PEAK_N: Final = 1400.0
CRUSH_GAP_MM: Final = 500.0
LASTING_N: Final = 150.0
DYNAMIC_S: Final = 0.75
RESIDUAL_N: Final = 25.0
SHOWN_S: Final = 5.0
LINES: Final = (INK, WIRE, GO, FIELD)


class CurvePlot(Canvas):
    """All readings taken at the point of the newest one."""

    def __init__(self) -> None:
        super().__init__(_("force against time"), grow=0.0)
        self.curves: tuple[Curve, ...] = ()

    def wish(self, style: Style, width: int) -> Size:
        """A picture in proportion."""
        return width, style.px(190)

    def show(self, curves: tuple[Curve, ...]) -> None:
        """Only readings that belong to one point are drawn together."""
        if curves:
            last = curves[-1]
            curves = tuple(
                c for c in curves if (c.leaf, c.gap_mm, c.height_mm) == (last.leaf, last.gap_mm, last.height_mm)
            )
        self.curves = curves

    def key_of(self) -> object:
        """The readings by identity: they are frozen."""
        return tuple(map(id, self.curves))

    def paint(self, pen: Pen) -> None:
        """Axes, limits, curves; the first three quarters of a second are drawn wider than the rest."""
        px = pen.style.px
        area = pygame.Rect(px(40), px(12), self.rect.width - px(52), self.rect.height - px(56))
        limit = PEAK_N if not self.curves or self.curves[0].gap_mm <= CRUSH_GAP_MM else FREE_PEAK_N
        peak = max([limit * 1.15, *(c.peak_n * 1.1 for c in self.curves)])

        def spot(time_s: float, force_n: float) -> tuple[float, float]:
            return area.left + _along(time_s) * area.width, area.bottom - force_n / peak * area.height

        for newton in range(0, int(peak) + 1, 100 if peak < 900 else 400):
            y = spot(0, newton)[1]
            pen.line((area.left, y), (area.right, y), RULE)
            pen.text(str(newton), (area.left - px(6), y), 11, SOFT, anchor="right")
        for second in (0.0, 0.25, 0.5, DYNAMIC_S, 2.0, 3.5, 5.0):
            x = spot(second, 0)[0]
            pen.line((x, area.bottom), (x, area.bottom + px(4)), SOFT)
            pen.text(f"{second:g}", (x, area.bottom + px(13)), 11, SOFT, anchor="centre")
        pen.text("N", (px(6), area.top - px(2)), 11, SOFT)
        pen.text(_("seconds after contact"), (area.centerx, self.rect.height - px(11)), 11, SOFT, anchor="centre")
        self._limits(pen, spot, limit)
        for n, curve in enumerate(self.curves[-len(LINES) :]):
            step = max(len(curve.time_s) // 400, 1)
            begins = next((t for t, f in zip(curve.time_s, curve.force_n, strict=True) if f > RESIDUAL_N), 0.0)
            points = [
                spot(t - begins, f)
                for t, f in zip(curve.time_s[::step], curve.force_n[::step], strict=True)
                if 0.0 <= t - begins <= SHOWN_S
            ]
            pen.lines(points, LINES[n % len(LINES)], 1.6)
        pygame.draw.rect(pen.surface, INK, area, px(1.2))
        if not self.curves:
            pen.text(_("no reading yet"), area.center, SMALL, SOFT, Face.ITALIC, "centre")

    def _limits(self, pen: Pen, spot: object, limit: float) -> None:
        assert callable(spot)
        top, knee, foot = spot(0, limit), spot(DYNAMIC_S, limit), spot(DYNAMIC_S, LASTING_N)
        end = spot(SHOWN_S, LASTING_N)
        for a, b in ((top, knee), (knee, foot), (foot, end)):
            pen.dashes(a, b, STOP, 1.4, 6, 4)
        pen.text(
            _("{limit:.0f} N").format(limit=limit), (top[0] + pen.style.px(6), top[1] - pen.style.px(9)), 11, STOP
        )
        pen.text(_("150 N"), (end[0] - pen.style.px(6), end[1] - pen.style.px(9)), 11, STOP, anchor="right")


def _along(time_s: float) -> float:
    """Share of the width for an instant: the dynamic time takes the first six tenths."""
    if time_s <= DYNAMIC_S:
        return 0.6 * time_s / DYNAMIC_S
    return 0.6 + 0.4 * (time_s - DYNAMIC_S) / (SHOWN_S - DYNAMIC_S)
