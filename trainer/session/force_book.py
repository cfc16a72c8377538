"""The force readings of a session as a screen sees them, and the plan of points they belong to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from sim.instruments.force_gauge import mean_of, mean_verdict
from sim.instruments.measuring_points import Point, impossible, points
from sim.instruments.rule_sets import CRUSH, rules_at
from trainer.session.view import Curve

if TYPE_CHECKING:
    from sim.instruments.force_stand import ForceRecord
    from sim.site import Site
    from sim.world.world import World

GAP_NEAR_MM: Final = 25.0
HEIGHT_NEAR_MM: Final = 60.0
"""A reading this near belongs to a point of the plan: half a gauge's face. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class PlanPoint:
    """One point of the plan: where the gauge stands, and what was read there."""

    leaf: str
    gap_mm: float
    height_mm: float
    """Above the ground."""
    place: str
    """The height, in words."""
    limit_n: float
    """Highest peak that the rules allow at this opening [N]."""
    readings: tuple[int, ...] = ()
    """Which of the curves were taken here."""
    counting: int = 0
    """How many of them count."""
    asked: int = int(CRUSH.repeats.value)
    """How many are needed; their mean is judged."""
    mean_peak_n: float | None = None
    """Mean of the peaks of those that count [N]; None without one."""
    verdict: str = ""
    """`within limits`, `marginal`, `over the limit`, `not judged`; '' without a reading."""
    told: str = ""
    """The verdict on the mean with its reason, in words."""


class ForceBook:
    """Keeps what was built, and builds again only what a new reading or another gate changes."""

    def __init__(self) -> None:
        self._curves: tuple[Curve, ...] = ()
        self._plan: tuple[PlanPoint, ...] = ()
        self._stamp: tuple[int, tuple[bool, ...], Site] | None = None

    def curves(self, records: list[ForceRecord]) -> tuple[Curve, ...]:
        """Every stored reading, in the order in which they were stored."""
        if len(records) != len(self._curves):
            self._curves += tuple(map(curve_of, records[len(self._curves) :]))
        return self._curves

    def plan(self, world: World, records: list[ForceRecord], counts: tuple[bool, ...]) -> tuple[PlanPoint, ...]:
        """Every point at which a closing leaf of this gate is measured. Facts 1.4: three openings, three heights."""
        stamp = len(records), counts, world.site
        old = self._stamp
        if old is None or old[:2] != stamp[:2] or old[2] is not stamp[2]:
            self._stamp = stamp
            self._plan = tuple(
                _with_readings(point, records, counts)
                for leaf in world.site.leaves.fitted
                for point in points(world.site, leaf, "closing")
                if not impossible(world.site, point)
            )
        return self._plan


def _with_readings(point: Point, records: list[ForceRecord], counts: tuple[bool, ...]) -> PlanPoint:
    here = [n for n, record in enumerate(records) if _belongs(record, point)]
    rules = rules_at(point.gap_mm)
    counting = [records[n].figures for n in here if n >= len(counts) or counts[n]]
    verdict = mean_verdict(counting, rules)
    return PlanPoint(
        leaf=point.leaf,
        gap_mm=point.gap_mm,
        height_mm=point.height_mm,
        place=point.place,
        limit_n=rules.peak.value,
        readings=tuple(here),
        counting=len(counting),
        mean_peak_n=mean_of(counting).peak_n if counting else None,
        verdict=verdict.outcome if here else "",
        told=str(verdict) if here else "",
    )


def _belongs(record: ForceRecord, point: Point) -> bool:
    return (
        (record.leaf, record.direction) == (point.leaf, point.direction)
        and abs(record.gap_mm - point.gap_mm) <= GAP_NEAR_MM
        and abs(record.height_mm - point.height_mm) <= HEIGHT_NEAR_MM
    )


def curve_of(record: ForceRecord) -> Curve:
    """A stored reading in base types."""
    return Curve(
        leaf=record.leaf,
        gap_mm=record.gap_mm,
        height_mm=record.height_mm,
        rest=record.rest,
        time_s=tuple(float(t) for t in record.time_s),
        force_n=tuple(float(f) for f in record.force_n),
        peak_n=record.figures.peak_n,
        above_150_s=record.figures.above_static_s,
        static_n=record.figures.static_n,
        residual_s=record.figures.above_residual_s,
        verdict=record.verdict,
        direction=record.direction,
    )
