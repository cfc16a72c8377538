"""A measured plan of closing force as a page: the table of its points, every curve against its limits, the rules.

`write_force_plan` writes the page, which needs nothing beside it, and each point's curves as a PNG of its own.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Final

from sim.bench.force_result import Plan, PointResult
from sim.instruments.force_gauge import judge, mean_verdict
from sim.instruments.rule_sets import ForceRules
from sim.said import begun, joined, said
from trainer.language import _
from trainer.reports.drawing import png
from trainer.reports.force_plot import SIZE_IN, force_drawing
from trainer.reports.force_record import ForcePoint
from trainer.reports.page import Heading, page
from trainer.session.view import Curve

PAGE: Final = "force.html"

STAMPS: Final = {
    "within limits": "passed",
    "marginal": "marginal",
    "over the limit": "failed",
    "not measured": "yet",
    "met": "passed",
    "not met": "failed",
}
"""How an outcome is stamped on the sheet."""


@dataclass(frozen=True, slots=True)
class WrittenPlan:
    """Where everything is."""

    page: Path
    pictures: tuple[Path, ...]


def write_force_plan(
    plan: Plan, rules: ForceRules, folder: Path, told: Callable[[int, int], None] | None = None
) -> WrittenPlan:
    """Write a plan that was measured under `rules`; the folder is made if need be. `told` hears how many pictures of
    how many are done. Raises OSError if the folder can't be written."""
    folder.mkdir(parents=True, exist_ok=True)
    drawn = [point for point in plan.points if point.readings]
    pictures = []
    for done, point in enumerate(drawn, start=1):
        picture = folder / picture_name(point)
        title = said("{site}: {point}. {outcome}", site=plan.site, point=point.title, outcome=begun(point.outcome))
        picture.write_bytes(png(force_drawing(curves_of(point, rules), rules.at(point.gap_mm), _(title)), SIZE_IN))
        pictures.append(picture)
        if told is not None:
            told(done, len(drawn))
    written = folder / PAGE
    written.write_text(force_html(plan, rules), encoding="utf-8")
    return WrittenPlan(written, tuple(pictures))


def force_html(plan: Plan, rules: ForceRules) -> str:
    """The page as one file that needs nothing beside it."""
    drawn = [point for point in plan.points if point.readings]
    anchors = {point.title: f"plan-{place}" for place, point in enumerate(drawn, start=1)}
    parts = [
        (name, [(point, rules.at(point.gap_mm)) for point in points])
        for name, points in groupby(plan.points, key=_part)
    ]
    return page(
        "force_plan.html",
        _("Force measurement"),
        Heading(plan.site, plan.setting, grade="", mode="", seed=plan.seed, time=""),
        plan=plan,
        parts=parts,
        anchors=anchors,
        stamps=STAMPS,
        used=rules.crush,
        force_points=[_force_point(point, rules) for point in drawn],
    )


def picture_name(point: PointResult) -> str:
    """The file name of a point's curves."""
    return f"force-{point.leaf}-{point.direction}-{point.gap_mm:g}mm-{point.height}.png"


def curves_of(point: PointResult, rules: ForceRules) -> tuple[Curve, ...]:
    """A point's readings as the plots take them."""
    return tuple(
        Curve(
            leaf=point.leaf,
            gap_mm=point.gap_mm,
            height_mm=point.height_mm,
            rest="rigid rest",
            time_s=reading.time_s,
            force_n=reading.force_n,
            peak_n=reading.figures.peak_n,
            above_150_s=reading.figures.above_static_s,
            static_n=reading.figures.static_n,
            residual_s=reading.figures.above_residual_s,
            verdict=judge(reading.figures, rules.at(point.gap_mm)).outcome,
        )
        for reading in point.readings
    )


def _part(point: PointResult) -> str:
    return said("{leaf} leaf, closing" if point.direction == "closing" else "{leaf} leaf, opening", leaf=point.leaf)


def _force_point(point: PointResult, rules: ForceRules) -> ForcePoint:
    used = rules.at(point.gap_mm)
    speed = sum(reading.edge_speed_m_s for reading in point.readings) / len(point.readings)
    start, back = point.latest_start_s, point.shortest_back_mm
    why = begun(point.because)
    if any(reading.figures.is_over_range for reading in point.readings):
        beyond = said("the gauge was pushed beyond its range, the true peak was higher than it shows")
        why = joined([why, beyond], "; ")
    met = said(
        "The edge met the gauge at {speed:.3f} m/s and went back by {back:.0f} mm."
        if start is None
        else "The edge met the gauge at {speed:.3f} m/s and began to go back {start:.2f} s later, by {back:.0f} mm.",
        speed=speed,
        back=back,
        start=start,
    )
    at_rest = joined(dict.fromkeys(reading.controller.rstrip(".") for reading in point.readings), "; ")
    panel = said("The controller's words at rest: {words}.", words=at_rest)
    return ForcePoint(
        leaf=point.leaf,
        gap_mm=point.gap_mm,
        height_mm=point.height_mm,
        rules=used,
        curves=curves_of(point, rules),
        mean=point.mean,
        verdict=mean_verdict([reading.figures for reading in point.readings], used),
        named=point.title,
        note=joined([joined([why, met], ". "), panel]),
    )
