"""Rule sets for closing force and for reversal, as data: each value with its origin, limits that print themselves.

No text of the standards themselves could be opened while these were written down. A value tagged `SEEN` was read in
the public text named after it; `SEEN-V` in a trade page's restatement; `MEM-hi`, `MEM-mid` are from memory of the
named standard with high or middling confidence; `CP` is common practice. Several tags are kept apart by semicolons.
A purchased copy may change a value here and no line of code.

Two families stand here. They count different things and lend each other no value: the EN rules judge a curve of
force against time, the UL-style rules judge how a gate goes back, and where people can be caught.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

from sim.said import joined, said

_FEDERATION: Final = "SEEN Powered Gate Myth Buster #2, Door & Hardware Federation"
_JOURNAL: Final = "SEEN Door Industry Journal, Spring 2018, p. 96 (EN 12453:2017, Annex C)"
_SWING: Final = "SEEN-V; MEM-mid EN 12445 5.2.2"

_ORIGINS: Final = {
    "SEEN": said("read in"),
    "SEEN-V": said("restated on a trade page"),
    "MEM-hi": said("from memory, with high confidence, of"),
    "MEM-mid": said("from memory, with middling confidence, of"),
    "CP": said("common practice, no source"),
}
"""What a tag means in words; what is named after the tag is put behind them."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A number of a rule set: value, unit, where it comes from."""

    value: float
    unit: str
    tag: str
    note: str = ""
    """What a reader must know beside the origin; most values need nothing."""

    def __str__(self) -> str:
        return f"{self.value:g} {self.unit}".rstrip()

    @property
    def origin(self) -> str:
        """Where the value comes from, in words for people."""
        told: list[str] = []
        for tag in self.tag.split("; "):
            kind, _, named = tag.partition(" ")
            told.append(said("{origin} {named}", origin=_ORIGINS[kind], named=named) if named else _ORIGINS[kind])
        return joined([*told, self.note] if self.note else told, "; ")


@dataclass(frozen=True, slots=True)
class RuleSet:
    """What a force-time curve is judged by. Time zero is the first contact."""

    name: str
    applies: str
    """Where, in words."""
    peak: Figure
    """Highest force while the dynamic period lasts [N]."""
    dynamic: Figure
    """How long the dynamic period lasts, and at most how long the force may stay above `static` in all [s]."""
    static: Figure
    """Highest force after the dynamic period [N]."""
    residual: Figure
    """What the force must have fallen to for good at `residual_time` [N]."""
    residual_time: Figure
    """When it must be down to `residual`, and at most how long it may stay above it in all [s]."""
    repeats: Figure
    """Readings at a point; their mean is judged."""

    def with_residual(self, residual: Figure) -> RuleSet:
        """The same rules with another residual limit; the name says so."""
        return replace(
            self,
            name=said("{rules}, residual {residual}", rules=self.name, residual=str(residual)),
            residual=residual,
        )

    def limits(self) -> tuple[str, ...]:
        """Every limit as one line of text for a report."""
        return (
            said("peak at most {peak}", peak=str(self.peak)),
            said("above {force} at most {time}", force=str(self.static), time=str(self.dynamic)),
            said("at most {force} after {time}", force=str(self.static), time=str(self.dynamic)),
            said("at most {force} after {time}", force=str(self.residual), time=str(self.residual_time)),
        )

    def origins(self) -> tuple[str, ...]:
        """Where each line of `limits` comes from, in words, in the same order."""
        return tuple(figure.origin for figure in (self.peak, self.dynamic, self.static, self.residual))


RESIDUAL_25: Final = Figure(25, "N", _FEDERATION, said("not verified in the text of the 2017 edition of EN 12453"))
"""The residual limit of EN 12453 as restated."""

RESIDUAL_80: Final = Figure(
    80, "N", "MEM-mid EN 16005", said("as far as memory goes it belongs to pedestrian doors and not to gates")
)
"""An alternative, never the default."""

RESIDUALS: Final[Mapping[int, Figure]] = MappingProxyType({25: RESIDUAL_25, 80: RESIDUAL_80})
"""The residual limits that can be chosen, by their newtons; the first is the default."""

CRUSH: Final = RuleSet(
    name=said("EN, crush zone"),
    applies=said("a closing gap of 50 to 500 mm"),
    peak=Figure(400, "N", _FEDERATION),
    dynamic=Figure(0.75, "s", _FEDERATION),
    static=Figure(150, "N", _FEDERATION),
    residual=RESIDUAL_25,
    residual_time=Figure(5, "s", _FEDERATION),
    repeats=Figure(3, "", "SEEN-V"),
)
"""Closing edge against counter edge, and every other gap that closes below 500 mm."""

FREE_IMPACT: Final = replace(
    CRUSH,
    name=said("EN, free impact"),
    applies=said("where nothing can be crushed: a gap above 500 mm"),
    peak=Figure(1400, "N", _FEDERATION),
)
"""Horizontally moving leaves and leaves on a vertical axis, where no crush is possible."""

CRUSH_GAP_MOST: Final = Figure(500, "mm", _FEDERATION)
CRUSH_GAP_LEAST: Final = Figure(50, "mm", "MEM-hi EN 12453:2000")
"""Between these a gap can crush. Below the least the rules for crush are kept: the stricter side."""

OPENINGS_MM: Final = tuple(Figure(gap, "mm", _SWING) for gap in (50, 300, 500))
"""Openings at which a swing leaf is measured."""

RULE_SETS: Final[Mapping[str, RuleSet]] = MappingProxyType({one.name: one for one in (CRUSH, FREE_IMPACT)})
"""By name."""


@dataclass(frozen=True, slots=True)
class ForceRules:
    """A family of rule sets for force: which one holds is a matter of the gap alone."""

    crush: RuleSet
    free: RuleSet

    def at(self, gap_mm: float) -> RuleSet:
        """The rules for an opening between the closing edges [mm]."""
        return self.crush if gap_mm <= CRUSH_GAP_MOST.value else self.free

    def with_residual(self, residual: Figure) -> ForceRules:
        """The same family with another residual limit; with its own it is itself."""
        if residual == self.crush.residual:
            return self
        return ForceRules(self.crush.with_residual(residual), self.free.with_residual(residual))


EN: Final = ForceRules(CRUSH, FREE_IMPACT)
"""What closing force is judged by unless the caller says otherwise."""


def rules_at(gap_mm: float) -> RuleSet:
    """The EN rules for an opening between the closing edges [mm]."""
    return EN.at(gap_mm)


# -- reversal and zones: the UL-style family ---------------------------------------------------------------

_MM_PER_INCH: Final = 25.4
_UL: Final = "MEM-hi UL 325 and ASTM F2200"


def inches(length: float, tag: str) -> Figure:
    """A length that its rule states in inches, as millimetres."""
    return Figure(round(length * _MM_PER_INCH, 6), "mm", tag)


@dataclass(frozen=True, slots=True)
class ReversalRules:
    """What a gate has to do when it meets something. Times count from the contact, which is no later than the moment
    at which the gate has sensed it."""

    name: str
    start: Figure
    """By when it must have begun to go back, at most [s]."""
    travel: Figure
    """How far its edge must go back, at least [mm]."""
    second_contact: str
    """What it must do when it senses something a second time, in words; not judged from one contact."""

    def limits(self) -> tuple[str, ...]:
        """Every limit as one line of text for a report."""
        return (
            said("begins to go back within {time}", time=str(self.start)),
            said("goes back at least {length}", length=str(self.travel)),
        )

    def origins(self) -> tuple[str, ...]:
        """Where each line of `limits` comes from, in words, in the same order."""
        return (self.start.origin, self.travel.origin)


REVERSAL: Final = ReversalRules(
    name=said("UL-style, reversal"),
    start=Figure(2, "s", "SEEN-V"),
    travel=inches(2, "SEEN-V"),
    second_contact=said("on a second contact stops and waits for a fresh command given at the gate"),
)
"""What a gate does on meeting an obstruction, as trade pages restate UL 325 (2018)."""


@dataclass(frozen=True, slots=True)
class Zone:
    """A place where people can be caught, told by one length: it is one strictly between `least` and `most`."""

    name: str
    length: str
    """Which length is meant, in words."""
    least: Figure | None = None
    most: Figure | None = None

    def holds(self, length_mm: float) -> bool:
        """Whether a length [mm] makes this a zone that has to be guarded."""
        above = self.least is None or length_mm > self.least.value
        return above and (self.most is None or length_mm < self.most.value)

    def __str__(self) -> str:
        bounds: list[str] = []
        if self.least is not None:
            bounds.append(said("more than {length}", length=str(self.least)))
        if self.most is not None:
            bounds.append(said("less than {length}", length=str(self.most)))
        return said("{what}: {bounds}", what=self.length, bounds=joined(bounds, " and "))


ZONE_HEIGHT: Final = inches(72, _UL)
"""Zones reach up to this above the ground."""

SPHERE: Final = inches(2.25, "SEEN-V")
"""A ball of this size may not pass the openings of a sliding gate and its fence; swing gates have no such rule."""

BOTTOM_ZONE: Final = Zone(said("lower edge"), said("gap under the leaf"), inches(4, _UL), inches(16, _UL))
HINGE_ZONE: Final = Zone(said("hinge"), said("hinge line to the edge of post or wall"), least=inches(4, _UL))
WALL_ZONE: Final = Zone(
    said("wall behind the open leaf"), said("open leaf to wall"), most=inches(16, "MEM-mid UL 325 and ASTM F2200")
)

ZONES: Final[tuple[Zone, ...]] = (BOTTOM_ZONE, HINGE_ZONE, WALL_ZONE)
"""The zones of a swing gate."""


# -- the instrument ----------------------------------------------------------------------------------------

GAUGE_RATE: Final = Figure(500, "N/mm", _JOURNAL)
GAUGE_RATE_TOLERANCE: Final = Figure(50, "N/mm", "MEM-hi EN 12445 5.1.1")
GAUGE_FACE: Final = Figure(80, "mm", _JOURNAL)
GAUGE_LEAST: Final = Figure(25, "N", _JOURNAL)
GAUGE_MOST: Final = Figure(2000, "N", _JOURNAL)
GAUGE_RISE: Final = Figure(0.005, "s", _JOURNAL)
"""The instrument: spring rate, diameter of its faces, range, 10 to 90 % rise time of its amplifier."""

GAUGE_STEP: Final = Figure(1, "N", "CP")
"""Resolution of its display and of the curve that it keeps."""

GAUGE_ACCURACY: Final = Figure(0.05, "", "CP")
"""Part of a reading by which it may be off; the normative figure was not found. The usual marginal band."""
