"""What stands in the debrief beside the findings: force curves, the expert's way and one's own."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Final

from sim.units import Us
from trainer.language import _
from trainer.window.folder.curves import CurvePlot
from trainer.window.kit.boxes import Column, Row
from trainer.window.kit.button import Button
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Label, Paragraph
from trainer.window.kit.style import GO, INK, SMALL, SOFT, STOP, WARN, WIRE, Colour
from trainer.window.kit.widget import Widget
from trainer.window.words import first_upper, moment

if TYPE_CHECKING:
    from trainer.session.lookback import Kind, WayRow
    from trainer.session.view import Curve

TIME: Final = 62.0
WATCH: Final = 74.0
"""Widths of columns [logical px]."""

Watch = Callable[[Us], None]


def watch_button(at: Us, on_watch: Watch) -> Button:
    """Leads to the yard as it was then."""
    return Button(
        _("Watch"), lambda: on_watch(at), look="quiet", size=12, width=WATCH, help=_("Shows the yard at that moment")
    )


def forces(curves: Sequence[Curve]) -> Column:
    """The curves of each point against its limits."""
    points: dict[tuple[str, str, float, float], list[Curve]] = {}
    for curve in curves:
        points.setdefault((curve.leaf, curve.direction, curve.gap_mm, curve.height_mm), []).append(curve)
    shown: list[Widget] = []
    for (leaf, direction, gap, height), taken in points.items():
        where = _("{leaf} leaf {direction}, gap {gap:.0f} mm, {height:.0f} mm above ground").format(
            leaf=_(leaf), direction=_(direction), gap=gap, height=height
        )
        plot = CurvePlot()
        plot.show(tuple(taken), gap)
        shown += [
            Paragraph(first_upper(where), face=Face.BOLD),
            plot,
            *(_reading(n, c) for n, c in enumerate(taken, 1)),
        ]
    if not shown:
        shown = [Paragraph(_("No closing force was measured: only a curve on a gauge shows one."))]
    return Column(*shown, gap=6, label=_("force"))


def _reading(number: int, curve: Curve) -> Paragraph:
    words = _("Reading {number}: peak {peak:.0f} N, {above:.2f} s above 150 N, on {rest}; alone it is {verdict}.")
    return Paragraph(
        words.format(
            number=number, peak=curve.peak_n, above=curve.above_150_s, rest=_(curve.rest), verdict=_(curve.verdict)
        ),
        size=13,
        colour=SOFT,
    )


SIGNS: Final[dict[Kind, tuple[str, str, Colour]]] = {
    "both": ("✓", "the same", GO),
    "left out": ("⊘", "left out", STOP),
    "at another time": ("↶", "at another time", WARN),
    "besides": ("+", "besides", WIRE),
}
"""Sign, word and colour of how an act stands to the expert's way."""


def expert_way(way: Sequence[WayRow], on_watch: Watch) -> Column:
    """Act by act: what the expert does, what was done, and how the two stand to each other."""
    if not way:
        return Column(
            Paragraph(_("This job has no solution of its own to be laid beside.")), label=_("the expert's way")
        )
    head = Row(
        Label(_("The expert"), size=SMALL, colour=SOFT, grow=1.0),
        Label("", width=128),
        Label(_("You"), size=SMALL, colour=SOFT, grow=1.0),
        Label("", width=TIME + WATCH + 10),
        gap=10,
    )
    told = Paragraph(_("Waiting, and letting go of what was pressed, are left out."), size=SMALL, colour=SOFT)
    return Column(told, head, *(_act(row, on_watch) for row in way), gap=4, label=_("the expert's way"))


def _act(row: WayRow, on_watch: Watch) -> Row:
    sign, word, colour = SIGNS[row.kind]
    ink = SOFT if row.kind == "both" else INK
    where: list[Widget] = [Label("", width=TIME), Label("", width=WATCH)]
    if row.at is not None:
        where = [Label(moment(row.at), width=TIME, size=SMALL, colour=SOFT), watch_button(row.at, on_watch)]
    return Row(
        Paragraph(first_upper(_(row.expert)), size=13, colour=ink, grow=1.0),
        Label(f"{sign} {_(word)}", width=128, size=SMALL, colour=colour, face=Face.BOLD),
        Paragraph(first_upper(_(row.done)), size=13, colour=ink, grow=1.0),
        *where,
        gap=10,
        role="act",
        label=row.expert or row.done,
    )
