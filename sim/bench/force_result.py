"""What a plan of force measurement comes to: base types only, so that it can be written as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any, Final, Literal

from sim.instruments import rule_sets
from sim.instruments.force_gauge import Reading
from sim.instruments.measuring_points import HeightName, Point
from sim.instruments.reversal import Outcome as ReversalOutcome
from sim.instruments.reversal import Reversal, ReversalVerdict
from sim.instruments.rule_sets import ForceRules, ReversalRules, RuleSet
from sim.instruments.zones import zones_of
from sim.mechanics.hanging import mean_wind, weather_words
from sim.site import Site
from sim.units import Direction, LeafName

PointOutcome = Literal["within limits", "marginal", "not measured", "over the limit"]

WORST_FIRST: Final[tuple[PointOutcome, ...]] = ("over the limit", "not measured", "marginal", "within limits")
"""The worst point decides. What was not measured is no pass."""


@dataclass(frozen=True, slots=True)
class ReversalResult:
    """How the gate went back in one reading."""

    starts_after_s: float | None
    """From the contact [s]; None if it did not go back as far as the rules ask."""
    back_mm: float
    """At the closing edge [mm]."""
    outcome: ReversalOutcome
    said: str
    """The verdict in words."""

    @classmethod
    def of(cls, found: Reversal, verdict: ReversalVerdict) -> ReversalResult:
        """The figures with what the rules say to them."""
        return cls(found.starts_after_s, found.back_mm, verdict.outcome, str(verdict))


@dataclass(frozen=True, slots=True)
class ReadingResult:
    """One reading: what the gauge kept, what it amounts to, how the gate went back."""

    index: int
    """At this point, counted from 1."""
    figures: Reading
    edge_speed_m_s: float
    """Of the closing edge when it met the gauge [m/s]."""
    reversal: ReversalResult
    controller: str
    """What the controller said once all was at rest."""
    time_s: tuple[float, ...]
    """Since the first contact [s]; thinned after the first second."""
    force_n: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class PointResult:
    """One point of the plan: its readings, their mean, and the verdict on the mean."""

    leaf: LeafName
    direction: Direction
    gap_mm: float
    height: HeightName
    place: str
    """The height, in words."""
    above_edge_mm: float
    """Above the lower edge of the leaf [mm]."""
    height_mm: float
    """Above the ground [mm]."""
    rules: str
    """Name of the rule set."""
    is_possible: bool
    """Whether the gate has such a point at all; one that it doesn't have decides nothing."""
    outcome: PointOutcome
    because: str
    """What decided, or why it was not measured."""
    mean: Reading | None
    readings: tuple[ReadingResult, ...]
    reversal: ReversalOutcome | Literal[""]
    """Met only if it was in every reading; empty where nothing was measured."""

    @classmethod
    def of(
        cls,
        point: Point,
        rules: RuleSet,
        outcome: PointOutcome,
        because: str,
        *,
        mean: Reading | None = None,
        readings: tuple[ReadingResult, ...] = (),
        is_possible: bool = True,
    ) -> PointResult:
        """A point with what came of it."""
        back = {reading.reversal.outcome for reading in readings}
        return cls(
            leaf=point.leaf,
            direction=point.direction,
            gap_mm=point.gap_mm,
            height=point.height,
            place=point.place,
            above_edge_mm=point.above_edge_mm,
            height_mm=point.height_mm,
            rules=rules.name,
            is_possible=is_possible,
            outcome=outcome,
            because=because,
            mean=mean,
            readings=readings,
            reversal="" if not back else "met" if back == {"met"} else "not met",
        )

    @property
    def title(self) -> str:
        """Where it is, in words."""
        return f"{self.leaf} leaf, {self.direction}, gap {self.gap_mm:g} mm, {self.place}"

    @property
    def short(self) -> str:
        """The same in fewer."""
        return f"{self.leaf}, {self.direction}, {self.gap_mm:g} mm, {self.height}"

    @property
    def latest_start_s(self) -> float | None:
        """Over all readings, the latest begin of going back after the contact [s]; None if once it never came."""
        starts = [reading.reversal.starts_after_s for reading in self.readings]
        known = [start for start in starts if start is not None]
        return max(known) if known and len(known) == len(starts) else None

    @property
    def shortest_back_mm(self) -> float:
        """Over all readings, the shortest way back [mm]."""
        return min((reading.reversal.back_mm for reading in self.readings), default=0.0)


@dataclass(frozen=True, slots=True)
class LimitsTold:
    """A rule set as it is shown: its limits, each with where it comes from."""

    name: str
    applies: str
    limits: tuple[tuple[str, str], ...]
    """(limit, origin), both in words."""

    @classmethod
    def of(cls, rules: RuleSet | ReversalRules, applies: str) -> LimitsTold:
        """A rule set in words."""
        return cls(rules.name, applies, tuple(zip(rules.limits(), rules.origins(), strict=True)))


@dataclass(frozen=True, slots=True)
class ResidualTold:
    """The residual limit that was used, and the other one that could have been."""

    limit_n: float
    origin: str
    other_n: float
    other_origin: str

    @classmethod
    def of(cls, rules: ForceRules) -> ResidualTold:
        """As the rules have it."""
        used = rules.crush.residual
        other = next(figure for figure in rule_sets.RESIDUALS.values() if figure != used)
        return cls(used.value, used.origin, other.value, other.origin)


@dataclass(frozen=True, slots=True)
class ZoneTold:
    """A place of the gate and whether the UL-style rules call it a zone to be guarded."""

    leaf: LeafName
    zone: str
    length_mm: float
    rule: str
    is_zone: bool


@dataclass(frozen=True, slots=True)
class Plan:
    """A whole plan, measured."""

    site: str
    setting: str
    site_digest: str
    seed: int
    temperature_c: float
    wind_m_s: float
    """The mean."""
    weather: str
    """The weather in a line."""
    rules: tuple[LimitsTold, ...]
    """Those that judged a point, by their names."""
    residual: ResidualTold
    reversal_rules: LimitsTold
    zones: tuple[ZoneTold, ...]
    points: tuple[PointResult, ...]
    outcome: PointOutcome
    """The worst of the points that the gate has."""

    @property
    def readings(self) -> int:
        """How many readings were taken."""
        return sum(len(point.readings) for point in self.points)

    def count(self, outcome: PointOutcome) -> int:
        """How many points came to this."""
        return sum(point.outcome == outcome for point in self.points)

    @property
    def is_good(self) -> bool:
        """Whether every point that the gate has was measured and passed."""
        return self.outcome in ("within limits", "marginal")

    @property
    def counted(self) -> str:
        """How many points came to what, in words, the worst first."""
        told = [f"{self.count(outcome)} {outcome}" for outcome in WORST_FIRST if self.count(outcome)]
        return f"{len(self.points)} points, {self.readings} readings: {', '.join(told)}"

    def as_base_types(self, *, curves: bool = False) -> dict[str, Any]:
        """Everything as dictionaries, lists, text and numbers; the curves only if they are wanted."""
        data = asdict(self)
        if not curves:
            for point in data["points"]:
                for reading in point["readings"]:
                    del reading["time_s"], reading["force_n"]
        return data


def worst(points: Sequence[PointResult]) -> PointOutcome:
    """What decides a plan; a plan in which nothing could be measured is not measured."""
    found = {point.outcome for point in points if point.is_possible}
    return next((outcome for outcome in WORST_FIRST if outcome in found), "not measured")


def plan_of(site: Site, site_digest: str, seed: int, rules: ForceRules, points: tuple[PointResult, ...]) -> Plan:
    """The whole plan from its points."""
    used = [one for one in (rules.crush, rules.free) if any(point.rules == one.name for point in points)]
    return Plan(
        site=site.name,
        setting=site.setting,
        site_digest=site_digest,
        seed=seed,
        temperature_c=site.weather.temperature_c,
        wind_m_s=mean_wind(site.weather),
        weather=weather_words(site.weather, len(site.leaves.fitted)),
        rules=tuple(LimitsTold.of(one, one.applies) for one in used),
        residual=ResidualTold.of(rules),
        reversal_rules=LimitsTold.of(rule_sets.REVERSAL, "every contact; shown beside, decides nothing here"),
        zones=tuple(
            ZoneTold(one.leaf, one.zone.name, one.length_mm, str(one.zone), one.is_zone) for one in zones_of(site)
        ),
        points=points,
        outcome=worst(points),
    )
