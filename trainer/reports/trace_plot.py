"""What the gate did over the whole job: angles, currents, guards and commands above one time axis."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from sim.said import said
from trainer.language import _
from trainer.reports.drawing import Draw
from trainer.reports.typeface import CLEAR, DANGER, INK, RULE, WIRE
from trainer.session.view import StripView

SIZE_IN: Final = (7.1, 3.9)

TRACE: Final = said("Leaf angles, motor currents, guards and commands over the whole job")
"""What the drawing is, for whoever can't see it."""

ROWS: Final = (said("guard tripped"), said("control pressed"))
"""What the two rows of bars are called, at their left."""

LEFT: Final = 0.125
"""Where the drawing begins [share of its width], where the names of its rows leave it room."""

LETTER: Final = 0.0083
"""What a letter of such a name takes [share of the width]; a little above the mean of the typeface."""

MOST_POINTS: Final = 2_500
"""A line with more points is drawn as its extremes."""

LEAVES: Final = (("active", CLEAR, "solid"), ("inactive", WIRE, (0, (5, 2))))
"""Name, colour and dash, as on the screen."""


def has_trace(strip: StripView) -> bool:
    """Whether anything was recorded."""
    return len(np.asarray(strip.time_s)) > 1


def trace_drawing(strip: StripView) -> Draw:
    """A drawing of everything the strip holds."""
    time = np.asarray(strip.time_s, dtype=float)
    channels = {name: np.asarray(values, dtype=float) for name, values in strip.channels.items()}
    end = max(float(strip.end_s), float(time[-1]), 1.0)

    def draw(figure: Any) -> None:
        angle, current, levels = figure.subplots(3, 1, sharex=True, height_ratios=(4, 3, 1.6))
        longest = max(map(len, map(_, ROWS)))
        figure.subplots_adjust(left=max(LEFT, LETTER * longest), right=0.905, top=0.965, bottom=0.115, hspace=0.16)
        for axes, what, unit in ((angle, "angle", _("leaf angle [°]")), (current, "current", _("motor current [A]"))):
            _every_leaf(axes, time, channels, what, unit, end)
        _levels(levels, time, channels, end)
        _dangers(angle, strip)
        levels.set_xlim(0.0, end)
        ticks = _ticks(end)
        levels.set_xticks(ticks, [f"{int(at) // 60}:{int(at) % 60:02d}" for at in ticks])
        levels.set_xlabel(_("time at the job [min:s]"), labelpad=2)

    return draw


def _thinned(time: Any, values: Any) -> tuple[Any, Any]:
    """A long recording as its extremes: what a line of this width can show, at a tenth of the size."""
    if len(time) <= MOST_POINTS:
        return time, values
    kept = {0, len(time) - 1}
    place = np.minimum((time - time[0]) / (time[-1] - time[0]) * (MOST_POINTS / 4), MOST_POINTS / 4 - 1).astype(int)
    edges = np.flatnonzero(np.diff(place, prepend=-1))
    for first, end in zip(edges, [*edges[1:], len(time)], strict=True):
        piece = values[first:end]
        kept |= {int(first), int(end) - 1, int(first + piece.argmin()), int(first + piece.argmax())}
    rows = np.array(sorted(kept))
    return time[rows], values[rows]


def _every_leaf(axes: Any, time: Any, channels: dict[str, Any], what: str, unit: str, end: float) -> None:
    """One quantity of every leaf, each line named at its end."""
    leaves = [leaf for leaf in LEAVES if f"{leaf[0]} {what}" in channels]
    ends = [float(channels[f"{name} {what}"][-1]) for name, _colour, _dash in leaves]
    for name, colour, dash in leaves:
        times, values = _thinned(time, channels[f"{name} {what}"])
        # the last value holds to the end: a rest is recorded as its two ends
        times, values = np.append(times, end), np.append(values, values[-1])
        axes.plot(times, values, color=colour, linestyle=dash, linewidth=1.2)
    low, high = axes.get_ylim()
    apart = 0.13 * (high - low)
    middle = (ends[0] + ends[-1]) / 2
    tie = len(leaves) > 1 and abs(ends[0] - ends[1]) < apart
    for k, (name, colour, _dash) in enumerate(leaves):
        sign = 1 if (ends[k], -k) >= (ends[-1 - k], k - 1) else -1
        height = middle + sign * apart / 2 if tie else ends[k]
        axes.annotate(_(name), (1.012, height), xycoords=("axes fraction", "data"), color=colour, va="center")
    axes.set_ylabel(unit)
    axes.yaxis.set_label_coords(-0.075, 0.5)
    axes.grid(True, axis="y", color=RULE)
    axes.tick_params(length=3)


def _levels(axes: Any, time: Any, channels: dict[str, Any], end: float) -> None:
    """When any guard was tripped, when any control was pressed: bars in two rows."""
    rows = (("guards", _(ROWS[0]), DANGER, "////"), ("commands", _(ROWS[1]), INK, None))
    for row, (name, label, colour, hatch) in enumerate(rows):
        base = 1 - row
        spans = _on(time, channels[name] > 0.5, end)
        axes.broken_barh(
            spans,
            (base + 0.18, 0.64),
            hatch=hatch,
            linewidth=0.8,
            facecolor="none" if hatch else colour,
            edgecolor=colour,
        )
        axes.annotate(
            label, (0.0, base + 0.5), xycoords=("axes fraction", "data"), xytext=(-4, 0), textcoords="offset points",
            ha="right", va="center", fontsize=7.5, color=colour, annotation_clip=False,
        )  # fmt: skip
        axes.axhline(base, color=RULE, linewidth=0.6)
    axes.set_ylim(0.0, 2.0)
    axes.set_yticks([])
    axes.spines["left"].set_visible(False)
    axes.tick_params(length=3)


def _on(time: Any, on: Any, end: float) -> list[tuple[float, float]]:
    """When a level was on: (start, length) [s]. A sample holds until the next, the last one to the end."""
    turns = np.flatnonzero(np.diff(on, prepend=False))
    edges = np.append(time[turns], end) if on[-1] else time[turns]
    return [(float(start), float(stop - start)) for start, stop in zip(edges[::2], edges[1::2], strict=True)]


def _dangers(axes: Any, strip: StripView) -> None:
    """A red mark at each dangerous moment; what it was stands in the findings."""
    moments = [at / 1e6 for at, kind, _ in strip.marks if kind == "danger"]
    for at in moments:
        axes.axvline(at, color=DANGER, linewidth=0.9, zorder=1)
    if moments:
        axes.plot(
            moments, [1.0] * len(moments), "v", color=DANGER, transform=axes.get_xaxis_transform(), clip_on=False
        )
        axes.annotate(
            _("danger"), (moments[0], 1.0), xycoords=axes.get_xaxis_transform(), xytext=(6, -1),
            textcoords="offset points", color=DANGER, va="top",
        )  # fmt: skip


def _ticks(end: float) -> list[float]:
    """Round times, at most nine of them [s]."""
    step = next(s for s in (5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 86_400) if end / s <= 8)
    return [float(at) for at in range(0, int(end) + 1, step)]
