"""Rule sets for closing force, as data: every value with where it comes from, and a limit that prints itself.

No text of the standard itself could be opened while these were written down. A value tagged `SEEN` was read in the
public text named after it; `SEEN-V` in a trade page's restatement; `MEM-hi`, `MEM-mid` are from memory of the
named standard with high or middling confidence; `CP` is common practice. A purchased copy may change a value here
and no line of code.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

_FEDERATION: Final = "SEEN Powered Gate Myth Buster #2, Door & Hardware Federation"
_JOURNAL: Final = "SEEN Door Industry Journal, Spring 2018, p. 96 (EN 12453:2017, Annex C)"


@dataclass(frozen=True, slots=True)
class Figure:
    """A number of a rule set: value, unit, where it comes from."""

    value: float
    unit: str
    tag: str

    def __str__(self) -> str:
        return f"{self.value:g} {self.unit}".rstrip()


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
        return replace(self, name=f"{self.name}, residual {residual}", residual=residual)

    def limits(self) -> tuple[str, ...]:
        """Every limit as one line of text for a report."""
        return (
            f"peak at most {self.peak}",
            f"above {self.static} at most {self.dynamic}",
            f"at most {self.static} after {self.dynamic}",
            f"at most {self.residual} after {self.residual_time}",
        )


RESIDUAL_25: Final = Figure(25, "N", _FEDERATION)
"""The residual limit of EN 12453 as restated; not verified in the text of the 2017 edition."""

RESIDUAL_80: Final = Figure(80, "N", "MEM-mid EN 16005")
"""As far as memory goes this belongs to pedestrian doors, EN 16005, and not to gates: an alternative, no default."""

CRUSH: Final = RuleSet(
    name="EN, crush zone",
    applies="a closing gap of 50 to 500 mm",
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
    name="EN, free impact",
    applies="where nothing can be crushed: a gap above 500 mm",
    peak=Figure(1400, "N", _FEDERATION),
)
"""Horizontally moving leaves and leaves on a vertical axis, where no crush is possible."""

CRUSH_GAP_MOST: Final = Figure(500, "mm", _FEDERATION)
CRUSH_GAP_LEAST: Final = Figure(50, "mm", "MEM-hi EN 12453:2000")
"""Between these a gap can crush. Below the least the rules for crush are kept: the stricter side."""

OPENINGS_MM: Final = tuple(Figure(gap, "mm", "SEEN-V, MEM-mid") for gap in (50, 300, 500))
"""Openings at which a swing leaf is measured."""

RULE_SETS: Final[Mapping[str, RuleSet]] = MappingProxyType({one.name: one for one in (CRUSH, FREE_IMPACT)})
"""By name."""


def rules_at(gap_mm: float) -> RuleSet:
    """The rules for an opening between the closing edges [mm]."""
    return CRUSH if gap_mm <= CRUSH_GAP_MOST.value else FREE_IMPACT


GAUGE_RATE: Final = Figure(500, "N/mm", _JOURNAL)
GAUGE_RATE_TOLERANCE: Final = Figure(50, "N/mm", "MEM-hi EN 12445 5.1.1")
GAUGE_FACE: Final = Figure(80, "mm", _JOURNAL)
GAUGE_LEAST: Final = Figure(25, "N", _JOURNAL)
GAUGE_MOST: Final = Figure(2000, "N", _JOURNAL)
GAUGE_RISE: Final = Figure(0.005, "s", _JOURNAL)
"""The instrument: spring rate, diameter of its faces, range, 10 to 90 % rise time of its amplifier."""

GAUGE_ACCURACY: Final = Figure(0.05, "", "CP")
"""Part of a reading by which it may be off; the normative figure was not found. The usual marginal band."""
