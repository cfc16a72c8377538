"""Force against time at one point: every reading, and the limits as a line that may not be crossed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from sim.instruments.rule_sets import RuleSet
from trainer.reports.drawing import Draw
from trainer.reports.typeface import BLUSH, DANGER, INK, RULE, SHEET, SOFT
from trainer.session.view import Curve

SIZE_IN: Final = (7.1, 3.3)

LINES: Final = (
    (INK, "solid"),
    ("#0072B2", (0, (6, 2))),
    ("#007A5E", (0, (1.5, 1.2))),
    ("#A2497F", (0, (6, 2, 1.5, 2))),
)
"""Colour and dash of each reading, told apart by either alone. Hues after Okabe and Ito, who chose them so that
people with any colour vision tell them apart; darkened for lines on paper."""

_HATCH: Final = "#E2BCB0"

_TURN_S: Final = 1.0
"""Where the time axis changes scale [s]: the blow is over in a tenth of a second, the rules reach to five."""


def force_drawing(curves: Sequence[Curve], rules: RuleSet) -> Draw:
    """A drawing of readings at one point against one rule set."""
    peak = max(curve.peak_n for curve in curves)
    top = 1.12 * max(peak, rules.peak.value)
    end = max(rules.residual_time.value + 1.0, max(curve.time_s[-1] for curve in curves))

    def draw(figure: Any) -> None:
        early, late = figure.subplots(1, 2, sharey=True, width_ratios=(3, 2))
        figure.subplots_adjust(left=0.075, right=0.985, top=0.97, bottom=0.15, wspace=0.04)
        early.set(xlim=(0.0, _TURN_S), ylim=(0.0, top), ylabel="force [N]")
        late.set(xlim=(_TURN_S, end))
        figure.supxlabel("time since the first contact [s]", fontsize=8.5, color=SOFT, y=0.012)
        _limits(early, late, rules, top, end)
        _readings(early, late, curves, top)
        _axes(early, late)

    return draw


def _limits(early: Any, late: Any, rules: RuleSet, top: float, end: float) -> None:
    """What may not be entered, hatched; its edge is the limit, and each piece says what it is."""
    dynamic, until = rules.dynamic.value, rules.residual_time.value
    edge = [(0.0, rules.peak), (dynamic, rules.peak), (dynamic, rules.static), (until, rules.static)]
    edge += [(until, rules.residual), (end, rules.residual)]
    times, forces = [at for at, _ in edge], [figure.value for _, figure in edge]
    for axes in (early, late):
        axes.fill_between(times, forces, top, facecolor=BLUSH, edgecolor=_HATCH, hatch="////", linewidth=0, zorder=1)
        axes.plot(times, forces, color=DANGER, linewidth=1.6, zorder=3, solid_joinstyle="miter")
    early.plot([0.0, dynamic], [rules.static.value] * 2, color=DANGER, linewidth=0.9, dashes=(2, 3), zorder=2)
    gap = 0.018 * top
    room = {"facecolor": BLUSH, "edgecolor": "none", "pad": 1.5}
    words = {"color": DANGER, "va": "bottom", "zorder": 6, "bbox": room}
    early.text(dynamic - 0.01, rules.peak.value + gap, f"peak at most {rules.peak}", ha="right", **words)
    clear = {**words, "bbox": {**room, "facecolor": SHEET}}
    early.text(
        dynamic - 0.01, rules.static.value + gap, f"above {rules.static}: {rules.dynamic} in all", ha="right", **clear
    )
    late.text(_TURN_S + 0.1, rules.static.value + gap, f"at most {rules.static} after {rules.dynamic}", **words)
    late.annotate(
        f"at most {rules.residual} after {rules.residual_time}",
        (until, rules.residual.value),
        (until - 0.25, max(0.22 * top, 2.0 * rules.residual.value)),
        ha="right",
        arrowprops={
            "arrowstyle": "-",
            "color": DANGER,
            "linewidth": 0.7,
            "relpos": (1.0, 0.5),
            "shrinkA": 2,
            "shrinkB": 0,
        },
        **clear,
    )


def _readings(early: Any, late: Any, curves: Sequence[Curve], top: float) -> None:
    """Each reading's line, named beside its peak."""
    order = sorted(range(len(curves)), key=lambda n: -curves[n].peak_n)
    apart = 0.085 * top
    highest = max(min(curves[order[0]].peak_n, 0.9 * top), (len(curves) - 0.3) * apart)
    for rank, n in enumerate(order):
        curve, (colour, dash) = curves[n], LINES[n % len(LINES)]
        for axes in (early, late):
            axes.plot(curve.time_s, curve.force_n, color=colour, linestyle=dash, zorder=4)
        at = curve.time_s[max(range(len(curve.force_n)), key=curve.force_n.__getitem__)]
        label = f"reading {n + 1}: {curve.peak_n:.0f} N" + (", held by hand" if curve.rest != "rigid rest" else "")
        early.annotate(
            label,
            (at, curve.peak_n),
            (at + 0.09, highest - rank * apart),
            color=colour,
            va="center",
            zorder=7,
            bbox={"facecolor": SHEET, "edgecolor": "none", "pad": 1.0},
            arrowprops={
                "arrowstyle": "-",
                "color": colour,
                "linewidth": 0.7,
                "shrinkA": 1,
                "shrinkB": 0,
                "relpos": (0.0, 0.5),
            },
        )


def _axes(early: Any, late: Any) -> None:
    """Ticks, grid, and the mark that says the time scale changes."""
    early.set_xticks([0.0, 0.25, 0.5, 0.75, 1.0])
    early.set_xticklabels(["0", "0.25", "0.5", "0.75", "1"])
    late.set_xticks([at for at in range(2, 60) if at <= late.get_xlim()[1]])
    late.tick_params(left=False)
    late.spines["left"].set_visible(False)
    for axes in (early, late):
        axes.grid(True, axis="y", color=RULE)
        axes.tick_params(length=3)
    mark = {"marker": [(-1, -1.6), (1, 1.6)], "markersize": 9, "linestyle": "none", "color": INK, "clip_on": False}
    early.plot([1], [0], transform=early.transAxes, zorder=8, **mark)
    late.plot([0], [0], transform=late.transAxes, zorder=8, **mark)
