"""The force gauge as it stands in the opening: where it is put, what it wrote, the readings that were kept.

It is a thing in the leaf's way and not a probe: placing it puts a spring before an edge, reading keeps a curve.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from sim.errors import Refused
from sim.instruments.force_gauge import Floats, Reading, as_kept, evaluate, judge
from sim.instruments.measuring_points import gap_at_angle, touch_angle
from sim.instruments.rule_sets import EN, ForceRules
from sim.mechanics.obstacle import GAUGE_STIFFNESS, force_gauge
from sim.mechanics.standing import GaugeCurve
from sim.said import said
from sim.units import LEAVES, Direction

if TYPE_CHECKING:
    from sim.world.world import World

HAND_STIFFNESS: Final = 15_000.0
"""How an arm that holds the gauge gives way [N/m]. CP, no source."""

GAUGE_SLOT: Final = 3
"""The slot of a leaf that is kept for the gauge."""


@dataclass(frozen=True, slots=True)
class ForceRecord:
    """One stored force reading."""

    leaf: str
    gap_mm: float
    height_mm: float
    rest: str
    time_s: Floats
    force_n: Floats
    figures: Reading
    verdict: str
    direction: Direction = "closing"


class ForceStand:
    """The force gauge of one bag; `rules` is what a reading is judged by."""

    def __init__(self, world: World, rules: ForceRules = EN) -> None:
        self._world = world
        self._rules = rules
        self.gauge: tuple[str, float, float] | None = None
        """(leaf, gap [mm], height [mm]) while it stands."""
        self.direction: Direction = "closing"
        """Which movement it is set to measure."""
        self._rest = ""
        self.records: list[ForceRecord] = []

    def check(self, leaf: int, gap_mm: float, height_mm: float, direction: Direction = "closing") -> None:
        """Raise Refused where the gauge can't stand."""
        if self.gauge is not None:
            raise Refused("the force gauge stands already; take it away first")
        site, name = self._world.site, LEAVES[leaf]
        model = site.leaves.pair[leaf]
        low, high = model.ground_clearance_m * 1000, (model.ground_clearance_m + model.height_m) * 1000
        if not low <= height_mm <= high:
            raise Refused(
                said(
                    "the {leaf} leaf reaches from {low:.0f} to {high:.0f} mm above ground",
                    leaf=name,
                    low=low,
                    high=high,
                )
            )
        left = gap_at_angle(site, leaf, direction, self._world.plant.angle(leaf)) * 1000
        if left <= gap_mm:
            raise Refused(
                said(
                    "the {leaf} leaf is closed further than that gap; open it first"
                    if direction == "closing"
                    else "the {leaf} leaf is opened further than that gap; shut it first",
                    leaf=name,
                )
            )

    def place(self, leaf: int, gap_mm: float, height_mm: float, rest: str, direction: Direction = "closing") -> str:
        """Set the gauge before a closing edge, or before the leaf's open side at its edge."""
        self.check(leaf, gap_mm, height_mm, direction)
        self.gauge = (LEAVES[leaf], gap_mm, height_mm)
        self._rest, self.direction = rest, direction
        self._arm(leaf)
        return said(
            "The force gauge stands at the {leaf} leaf, gap {gap_mm:.0f} mm, height {height_mm:.0f} mm."
            if direction == "closing"
            else "The force gauge stands in front of the opening side of the {leaf} leaf, gap {gap_mm:.0f} mm, "
            "height {height_mm:.0f} mm.",
            leaf=LEAVES[leaf],
            gap_mm=gap_mm,
            height_mm=height_mm,
        )

    def _arm(self, leaf: int) -> None:
        assert self.gauge is not None
        _name, gap_mm, height_mm = self.gauge
        spring = GAUGE_STIFFNESS
        if self._rest == "by hand":
            spring = 1.0 / (1.0 / GAUGE_STIFFNESS + 1.0 / HAND_STIFFNESS)
        thing = force_gauge(
            touch_angle(self._world.site, leaf, self.direction, gap_mm / 1000),
            self._world.site.leaves.pair[leaf].width_m,
            height_m=height_mm / 1000,
            stiffness_n_m=spring,
            opening=self.direction == "opening",
        )
        self._world.plant.place_obstacle(leaf, GAUGE_SLOT, thing)

    def read(self) -> str:
        """Store the last curve as a reading, judge it alone, and make the gauge ready for the next."""
        if self.gauge is None:
            raise Refused("no force gauge stands; place it first")
        curve = self._curve()
        name, gap_mm, height_mm = self.gauge
        rules = self._rules.at(gap_mm)
        point = f"{name}, {self.direction}, {gap_mm:g}, {height_mm:g}"
        index = 1 + sum((r.leaf, r.gap_mm, r.height_mm) == self.gauge for r in self._here())
        force = as_kept(curve.force_n, seed=self._world.seed, where=point, index=index)
        figures = evaluate(curve.time_s, force, rules)
        if not figures.is_whole:
            raise Refused(
                said(
                    "the record is {time_s:.1f} s long; leave the gauge until {residual_time}",
                    time_s=float(curve.time_s[-1]),
                    residual_time=str(rules.residual_time),
                )
            )
        verdict = judge(figures, rules)
        self.records.append(
            ForceRecord(
                name,
                gap_mm,
                height_mm,
                self._rest,
                *_thinned(curve.time_s, force),
                figures,
                verdict.outcome,
                self.direction,
            )
        )
        text = self._words(figures, index)
        self._world.tell(
            "force",
            text,
            leaf=name,
            gap_mm=gap_mm,
            height_mm=height_mm,
            direction=self.direction,
            rest=self._rest,
            peak_n=round(figures.peak_n, 1),
            above_150_s=round(figures.above_static_s, 4),
            static_n=round(figures.static_n, 1),
            residual_s=round(figures.above_residual_s, 4),
            verdict=verdict.outcome,
            index=index,
        )
        self._arm(LEAVES.index(name))  # type: ignore[arg-type]
        return text

    def _curve(self) -> GaugeCurve:
        """What the gauge wrote. Raises Refused while nothing has touched it."""
        curve = self._world.plant.gauge_curve()
        if len(curve.time_s) < 2:
            raise Refused(
                said(
                    "nothing has touched the force gauge yet; let the leaf close on it"
                    if self.direction == "closing"
                    else "nothing has touched the force gauge yet; let the leaf open on it"
                )
            )
        return curve

    def _words(self, figures: Reading, index: int) -> str:
        """A reading at the gauge's place, in words."""
        assert self.gauge is not None
        name, gap_mm, height_mm = self.gauge
        return said(
            "{where}, gap {gap_mm:.0f} mm, height {height_mm:.0f} mm, reading {index}: peak {peak_n:.0f} N, "
            "{above_s:.2f} s above 150 N, {static_n:.0f} N after it",
            where=said("{leaf} leaf" if self.direction == "closing" else "{leaf} leaf, opening", leaf=name),
            gap_mm=gap_mm,
            height_mm=height_mm,
            index=index,
            peak_n=figures.peak_n,
            above_s=figures.above_static_s,
            static_n=figures.static_n,
        )

    def _here(self) -> list[ForceRecord]:
        """Readings in the direction that is being measured."""
        return [record for record in self.records if record.direction == self.direction]

    def remove(self) -> str:
        """Take the gauge away."""
        if self.gauge is None:
            raise Refused("no force gauge stands")
        self._world.plant.remove_obstacle(LEAVES.index(self.gauge[0]), GAUGE_SLOT)  # type: ignore[arg-type]
        self.gauge = None
        return said("The force gauge is away.")


def _thinned(time_s: Floats, force_n: Floats) -> tuple[Floats, Floats]:
    """Every sample of the first second, every tenth after it: what a plot can show."""
    first = int((time_s <= 1.0).sum())
    keep = [*range(first), *range(first, len(time_s), 10)]
    return time_s[keep], force_n[keep]
