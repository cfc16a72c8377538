"""Force readings as a report shows them: by point, each reading, their mean, and what the rules say to the mean."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from sim.instruments.force_gauge import Reading, Verdict, evaluate, mean_of, mean_verdict
from sim.instruments.rule_sets import RuleSet, rules_at
from sim.said import said
from trainer.language import _
from trainer.reports.drawing import svg
from trainer.reports.force_plot import SIZE_IN, force_drawing
from trainer.reports.page import drawn
from trainer.session.view import Curve


@dataclass(frozen=True, slots=True)
class ForcePoint:
    """One point of the plan that was measured."""

    leaf: str
    gap_mm: float
    height_mm: float
    rules: RuleSet
    curves: tuple[Curve, ...]
    mean: Reading | None
    """Mean of the readings that count; None if none does."""
    verdict: Verdict
    named: str = ""
    """What its plan calls it, where there is a plan."""
    note: str = ""
    """What else was seen at this point."""
    direction: str = "closing"

    @property
    def title(self) -> str:
        """Where it is, in words."""
        return self.named or said(
            "{leaf} leaf, gap {gap_mm:.0f} mm, {height_mm:.0f} mm above ground"
            if self.direction == "closing"
            else "{leaf} leaf, opening, gap {gap_mm:.0f} mm, {height_mm:.0f} mm above ground",
            leaf=self.leaf,
            gap_mm=self.gap_mm,
            height_mm=self.height_mm,
        )

    @property
    def drawn_as(self) -> str:
        """What its curves are called."""
        return said("Force against time: {point}", point=self.title)

    def drawing(self, name: str) -> Markup:
        """Its curves, to stand in a page."""
        title = said("{curves}. {verdict}", curves=self.drawn_as, verdict=str(self.verdict))
        return drawn(svg(name, _(title), force_drawing(self.curves, self.rules), SIZE_IN, inline=True))


def points(curves: Sequence[Curve]) -> tuple[ForcePoint, ...]:
    """Readings by the point they were taken at, in the order in which the points were first measured."""
    at: dict[tuple[str, str, float, float], list[Curve]] = {}
    for curve in curves:
        at.setdefault((curve.leaf, curve.direction, curve.gap_mm, curve.height_mm), []).append(curve)
    return tuple(_point(*where, tuple(taken)) for where, taken in at.items())


def _point(leaf: str, direction: str, gap_mm: float, height_mm: float, curves: tuple[Curve, ...]) -> ForcePoint:
    """One point. A reading held by hand is shown, and does not count."""
    rules = rules_at(gap_mm)
    counting = [_reading(curve, rules) for curve in curves if curve.rest == "rigid rest"]
    mean = mean_of(counting) if counting else None
    return ForcePoint(
        leaf, gap_mm, height_mm, rules, curves, mean, mean_verdict(counting, rules), direction=direction
    )


def _reading(curve: Curve, rules: RuleSet) -> Reading:
    """The figures as they were judged at the gate; the late force is read off the curve."""
    kept = evaluate(curve.time_s, curve.force_n, rules)
    return Reading(
        curve.peak_n,
        curve.above_150_s,
        curve.static_n,
        curve.residual_s,
        kept.late_n,
        kept.is_whole,
        kept.is_over_range,
    )
