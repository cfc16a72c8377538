"""Force against time at one point: every reading, and the limits as a line that may not be crossed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, Final

from sim.instruments.rule_sets import RuleSet
from sim.said import said
from trainer.language import _
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


_LATE_S: Final = 3.0
"""How far the plot reaches at least beyond the residual time [s]."""

_ROW_IN: Final = 0.19
"""Height of a line of words above the plot [in]."""


def force_drawing(curves: Sequence[Curve], rules: RuleSet, title: str = "") -> Draw:
    """A drawing of readings at one point against one rule set; `title` for one that stands alone."""
    peak = max(curve.peak_n for curve in curves)
    top = 1.12 * max(peak, rules.peak.value)
    end = max(rules.residual_time.value + _LATE_S, max(curve.time_s[-1] for curve in curves))

    def draw(figure: Any) -> None:
        early, late = figure.subplots(1, 2, sharey=True, width_ratios=(3, 2))
        early.set(xlim=(0.0, _TURN_S), ylim=(0.0, top), ylabel=_("force [N]"))
        late.set(xlim=(_TURN_S, end))
        figure.supxlabel(_("time since the first contact [s]"), fontsize=8.5, color=SOFT, y=0.012)
        _limits(early, late, rules, top, end)
        for axes in (early, late):
            for n, curve in enumerate(curves):
                axes.plot(curve.time_s, curve.force_n, **_line(n), zorder=4)
        _axes(early, late)
        room = _heading(figure, curves, title)
        figure.subplots_adjust(left=0.085, right=0.985, top=1.0 - room, bottom=0.15, wspace=0.04)

    return draw


def _line(n: int) -> dict[str, Any]:
    """Colour and dash of the reading numbered `n` from 0."""
    colour, dash = LINES[n % len(LINES)]
    return {"color": colour, "linestyle": dash}


def _heading(figure: Any, curves: Sequence[Curve], title: str) -> float:
    """Title, and each reading's line with its name and peak, above the plot where nothing can lie on them; returns
    the share of the height that they take."""
    from matplotlib.lines import Line2D

    named = [
        _(
            said(
                "reading {n}: {peak_n:.0f} N"
                if curve.rest == "rigid rest"
                else "reading {n}: {peak_n:.0f} N, held by hand",
                n=n,
                peak_n=curve.peak_n,
            )
        )
        for n, curve in enumerate(curves, start=1)
    ]
    columns = 2 if any(curve.rest != "rigid rest" for curve in curves) else 3
    row = _ROW_IN / float(figure.get_size_inches()[1])
    used = 0.3 * row
    if title:
        figure.text(0.085, 1.0 - used - 0.5 * row, title, weight="bold", va="center")
        used += 1.1 * row
    figure.legend(
        [Line2D([], [], **_line(n)) for n in range(len(curves))],
        named,
        loc="upper left",
        bbox_to_anchor=(0.085, 1.0 - used),
        ncols=columns,
        frameon=False,
        borderpad=0.0,
        borderaxespad=0.0,
        labelspacing=0.35,
        handlelength=3.2,
        columnspacing=2.2,
    )
    return used + row * math.ceil(len(curves) / columns) + 0.25 * row


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

    def words(ground: str) -> dict[str, Any]:
        """On a ground that lets a curve shine through."""
        room = {"facecolor": ground, "edgecolor": "none", "pad": 1.0, "alpha": 0.75}
        return {"color": DANGER, "va": "bottom", "zorder": 6, "bbox": room}

    early.text(
        dynamic - 0.01,
        rules.peak.value + gap,
        _(said("peak at most {limit}", limit=str(rules.peak))),
        ha="right",
        **words(BLUSH),
    )
    text = _(said("above {static}: {dynamic} in all", static=str(rules.static), dynamic=str(rules.dynamic)))
    early.text(dynamic - 0.01, rules.static.value + gap, text, ha="right", **words(SHEET))
    text = _(said("at most {static} after {dynamic}", static=str(rules.static), dynamic=str(rules.dynamic)))
    late.text(_TURN_S + 0.1, rules.static.value + gap, text, **words(BLUSH))
    late_words = (
        _(said("after {residual_time}", residual_time=str(rules.residual_time))),
        _(said("at most {residual}", residual=str(rules.residual))),
    )
    for line, text in enumerate(late_words):
        at = rules.residual.value + gap + line * 0.075 * top
        late.text(end - 0.05, at, text, ha="right", **words(BLUSH))


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
