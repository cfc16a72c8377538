"""Force against time: the readings of one point over each other, with the limits they are judged by."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import pygame

from sim.instruments.rule_sets import RuleSet, rules_at
from trainer.language import _
from trainer.window.kit.canvas import Canvas
from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import FIELD, GO, INK, RULE, SMALL, SOFT, STOP, WIRE, Style
from trainer.window.kit.widget import Size

if TYPE_CHECKING:
    from trainer.session.view import Curve
    from trainer.window.kit.pen import Pen

LINES: Final = (INK, WIRE, GO, FIELD)


class CurvePlot(Canvas):
    """Readings over each other, with the limits of their opening."""

    def __init__(self) -> None:
        super().__init__(_("force against time"), grow=0.0)
        self.curves: tuple[Curve, ...] = ()
        self.gap_mm = 0.0

    def wish(self, style: Style, width: int) -> Size:
        """A picture in proportion."""
        return width, style.px(190)

    def show(self, curves: tuple[Curve, ...], gap_mm: float) -> None:
        """Readings of one point; the limits are those of its opening [mm]."""
        self.curves = curves
        self.gap_mm = gap_mm

    def key_of(self) -> object:
        """The readings by identity: they are frozen."""
        return self.gap_mm, *map(id, self.curves)

    def paint(self, pen: Pen) -> None:
        """Axes, limits, curves; the first three quarters of a second are drawn wider than the rest."""
        px = pen.style.px
        area = pygame.Rect(px(40), px(12), self.rect.width - px(52), self.rect.height - px(56))
        rules = rules_at(self.gap_mm)
        shown_s = rules.residual_time.value
        peak = max([rules.peak.value * 1.15, *(c.peak_n * 1.1 for c in self.curves)])

        def spot(time_s: float, force_n: float) -> tuple[float, float]:
            return area.left + _along(time_s, rules) * area.width, area.bottom - force_n / peak * area.height

        for newton in range(0, int(peak) + 1, 100 if peak < 900 else 400):
            y = spot(0, newton)[1]
            pen.line((area.left, y), (area.right, y), RULE)
            pen.text(str(newton), (area.left - px(6), y), 11, SOFT, anchor="right")
        for second in (0.0, 0.25, 0.5, rules.dynamic.value, 2.0, 3.5, shown_s):
            x = spot(second, 0)[0]
            pen.line((x, area.bottom), (x, area.bottom + px(4)), SOFT)
            pen.text(f"{second:g}", (x, area.bottom + px(13)), 11, SOFT, anchor="centre")
        pen.text("N", (px(6), area.top - px(2)), 11, SOFT)
        pen.text(_("seconds after contact"), (area.centerx, self.rect.height - px(11)), 11, SOFT, anchor="centre")
        self._limits(pen, spot, rules)
        for n, curve in enumerate(self.curves[-len(LINES) :]):
            step = max(len(curve.time_s) // 400, 1)
            begins = next(
                (t for t, f in zip(curve.time_s, curve.force_n, strict=True) if f > rules.residual.value), 0.0
            )
            points = [
                spot(t - begins, f)
                for t, f in zip(curve.time_s[::step], curve.force_n[::step], strict=True)
                if 0.0 <= t - begins <= shown_s
            ]
            pen.lines(points, LINES[n % len(LINES)], 1.6)
        pen.box(area, None, INK, 0, 1.2)
        if not self.curves:
            pen.text(_("no reading yet"), area.center, SMALL, SOFT, Face.ITALIC, "centre")

    def _limits(self, pen: Pen, spot: object, rules: RuleSet) -> None:
        assert callable(spot)
        limit, lasting, dynamic_s = rules.peak.value, rules.static.value, rules.dynamic.value
        top, knee, foot = spot(0, limit), spot(dynamic_s, limit), spot(dynamic_s, lasting)
        end = spot(rules.residual_time.value, lasting)
        for a, b in ((top, knee), (knee, foot), (foot, end)):
            pen.dashes(a, b, STOP, 1.4, 6, 4)
        pen.text(str(rules.peak), (top[0] + pen.style.px(6), top[1] - pen.style.px(9)), 11, STOP)
        pen.text(str(rules.static), (end[0] - pen.style.px(6), end[1] - pen.style.px(9)), 11, STOP, anchor="right")


def _along(time_s: float, rules: RuleSet) -> float:
    """Share of the width for an instant: the dynamic time takes the first six tenths."""
    dynamic_s, end_s = rules.dynamic.value, rules.residual_time.value
    if time_s <= dynamic_s:
        return 0.6 * time_s / dynamic_s
    return 0.6 + 0.4 * (time_s - dynamic_s) / (end_s - dynamic_s)
