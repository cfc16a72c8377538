"""The force plan: every opening at every height, what was read there, and the curves of the chosen point."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Final

from trainer.language import _
from trainer.window.folder.curves import CurvePlot
from trainer.window.folder.page import Section
from trainer.window.kit.boxes import Column, Row, Spacer
from trainer.window.kit.button import Button
from trainer.window.kit.label import Label, Paragraph
from trainer.window.kit.style import GO, SMALL, SOFT, STOP, WARN, Colour
from trainer.window.kit.widget import Value, Widget
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.session.force_book import PlanPoint
    from trainer.session.view import View
    from trainer.window.hands import Hands

HEIGHT_WIDE: Final = 112.0
VERDICTS: Final[dict[str, tuple[str, Colour]]] = {
    "within limits": ("✓", GO),
    "marginal": ("⚠", WARN),
    "over the limit": ("⊘", STOP),
}

Place = tuple[str, float, float]
"""Leaf, gap, height [mm]."""


def place_of(point: PlanPoint) -> Place:
    """What tells one point from another."""
    return point.leaf, point.gap_mm, point.height_mm


class PointCell(Button):
    """One point of the plan: pressed, its curves are shown below."""

    role = "force point"

    def __init__(self, point: PlanPoint, choose: ForcePlan) -> None:
        self.point = point
        super().__init__(_label(point), lambda: choose.choose(place_of(point)), grow=1.0, help=_words(point))
        self.tint = VERDICTS.get(point.verdict, ("", SOFT))[1]
        self.look = "on" if place_of(point) == choose.chosen else "plain"

    @property
    def value(self) -> Value:
        """Where it is and how it stands, in sentences."""
        return self.help


def _label(point: PlanPoint) -> str:
    """Short words for a cell: a sign and the mean, or how many readings are still wanted."""
    sign = VERDICTS.get(point.verdict, ("", SOFT))[0]
    if sign and point.mean_peak_n is not None:
        return _("{sign} {force:.0f} N").format(sign=sign, force=point.mean_peak_n)
    if not point.readings:
        return "–"
    return _("{count} of {asked}").format(count=point.counting, asked=point.asked)


def _words(point: PlanPoint) -> str:
    """A point and how it stands, in whole sentences."""
    where = _("{leaf} leaf, closing, opening {gap:.0f} mm, {place} ({height:.0f} mm above the ground).")
    told = first_upper(
        where.format(leaf=_(point.leaf), gap=point.gap_mm, place=_(point.place), height=point.height_mm)
    )
    if not point.readings:
        return told + " " + _("Nothing was read here yet; the peak may be {limit:.0f} N.").format(limit=point.limit_n)
    lost = len(point.readings) - point.counting
    if lost:
        told += " " + _("Readings that do not count, held by hand, bridged or outdated: {lost}.").format(lost=lost)
    if point.mean_peak_n is None:
        return told
    told += " " + _("Readings that count: {count}. Mean of the peaks: {mean:.0f} N of {limit:.0f} N.").format(
        count=point.counting, mean=point.mean_peak_n, limit=point.limit_n
    )
    if point.counting < point.asked:
        return told + " " + _("Three make a point; one is not a verdict.")
    return told + " " + first_upper(_(point.told)) + "."


class ForcePlan(Column):
    """The grid of points, what is known of the chosen one, and its curves against the limits."""

    def __init__(self, hands: Hands) -> None:
        self.hands = hands
        self.chosen: Place | None = None
        self._seen: object = None
        self.grid = Section(self._grid, gap=4)
        self.told = Paragraph("", size=13, colour=SOFT)
        self.plot = CurvePlot()
        self.stand = Button(
            _("Set the gauge up here"),
            self._stand,
            help=_("On a rigid rest, before the closing leaf."),
            acts=("place force gauge",),
        )
        super().__init__(self.grid, self.told, Row(Spacer(grow=1.0), self.stand), self.plot, gap=8)

    def show(self, view: View) -> None:
        """Points and readings follow the session; a new reading brings its point up."""
        looked = (view.force_plan, len(view.curves), view.gauge, view.finished)
        if looked == self._seen:
            return
        if self._seen is not None and len(view.curves) > self._seen[1]:  # type: ignore[index]
            fresh = len(view.curves) - 1
            self.chosen = next((place_of(p) for p in view.force_plan if fresh in p.readings), self.chosen)
        self._seen = looked
        if self._point() is None and view.force_plan:
            read = [point for point in view.force_plan if point.readings]
            self.chosen = place_of((read or list(view.force_plan))[-1 if read else 0])
        self._renew()

    def choose(self, place: Place) -> None:
        """Show a point."""
        self.chosen = place
        self._renew()
        root = self.top().root
        if root is not None:
            root.set_focus(
                next(w for w in self.grid.walk() if isinstance(w, PointCell) and place_of(w.point) == place)
            )

    def _point(self) -> PlanPoint | None:
        return next((p for p in self.hands.view.force_plan if place_of(p) == self.chosen), None)

    def _renew(self) -> None:
        view, point = self.hands.view, self._point()
        self.grid.rebuild()
        self.stand.visible = self.told.visible = point is not None
        if point is None:
            self.plot.show(view.curves, view.curves[-1].gap_mm if view.curves else 0.0)
            return
        self.told.show(_words(point))
        self.stand.enabled = view.gauge is None and not view.finished
        self.plot.show(tuple(view.curves[n] for n in point.readings), point.gap_mm)

    def _stand(self) -> None:
        point = self._point()
        if point is not None:
            where: dict[str, object] = {"leaf": point.leaf, "gap_mm": point.gap_mm, "height_mm": point.height_mm}
            self.hands.do("place force gauge", {**where, "direction": "closing", "rest": "rigid rest"})

    def _grid(self) -> list[Widget]:
        """For each leaf, openings across and heights down, the highest on top."""
        rows: list[Widget] = []
        for leaf, group in groupby(self.hands.view.force_plan, key=lambda point: point.leaf):
            points = list(group)
            gaps = sorted({point.gap_mm for point in points})
            head = Label(first_upper(_("{leaf} leaf").format(leaf=_(leaf))), width=HEIGHT_WIDE, size=13)
            across = [Label(_("{gap:.0f} mm").format(gap=gap), grow=1.0, size=SMALL, colour=SOFT) for gap in gaps]
            rows.append(Row(head, *across, gap=4))
            for height in sorted({point.height_mm for point in points}, reverse=True):
                at = {point.gap_mm: point for point in points if point.height_mm == height}
                name = Label(
                    _("{height:.0f} mm high").format(height=height), width=HEIGHT_WIDE, size=SMALL, colour=SOFT
                )
                cells = [PointCell(at[gap], self) if gap in at else Spacer(grow=1.0) for gap in gaps]
                rows.append(Row(name, *cells, gap=4))
        return rows
