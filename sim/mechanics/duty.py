"""Intermittent duty of a motor: how long it may run within any cycle, and whether a list of runs kept to it.

Duty type S3 of IEC 60034-1: runs and rests that repeat, too short to reach a steady temperature, the start itself
not significant (SEEN electrotechnik.net, 2011). A motor made for a share of a cycle may run for that share of any
stretch as long as the cycle. SI units, no state.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

CYCLE_S: Final = 600.0
"""Length of a cycle unless another is stated [s] (MEM-hi IEC 60034-1)."""

Run = tuple[float, float]
"""From when to when a motor runs [s]."""


def allowed_running(share: float, cycle_s: float = CYCLE_S) -> float:
    """How long a motor may run within one cycle [s]: share × cycle.

    The standard prefers shares of 0.15, 0.25, 0.40 and 0.60 (MEM-hi IEC 60034-1); 0.25 is usual for small drives
    (common practice, no source). Raises ValueError unless the share is above 0 and up to 1.
    """
    if not (0.0 < share <= 1.0 and cycle_s > 0.0):
        raise ValueError(
            f"a duty of {share!r} of {cycle_s!r} s is none; allowed: above 0 and up to 1, of a time above 0"
        )
    return share * cycle_s


def cycles_per_hour(share: float, run_s: float, cycle_s: float = CYCLE_S) -> float:
    """How many movements of `run_s` running each the duty allows in an hour [1/h]."""
    if not run_s > 0.0:
        raise ValueError(f"a movement must last, not {run_s!r} s")
    return allowed_running(share, cycle_s) / run_s * (3600.0 / cycle_s)


@dataclass(frozen=True, slots=True)
class DutyVerdict:
    """What the worst cycle of a list of runs came to."""

    running_s: float
    """Greatest running time within any cycle, to the microsecond that clocks here count in [s]."""
    since_s: float
    """Where that cycle begins [s]; the first such."""
    allowed_s: float
    """What the duty allows within a cycle [s]."""
    cycle_s: float

    @property
    def is_within(self) -> bool:
        """Whether every cycle kept to the duty."""
        return self.running_s <= round(self.allowed_s, 6)

    def __str__(self) -> str:
        kept = "within its duty" if self.is_within else "beyond its duty"
        return (
            f"{kept}: the motor ran for {self.running_s:.1f} s in the {self.cycle_s:g} s "
            f"from {self.since_s:.1f} s on, allowed: {self.allowed_s:g} s"
        )


def judge(runs: Iterable[Run], share: float, cycle_s: float = CYCLE_S) -> DutyVerdict:
    """The verdict on one motor's runs (start, end) [s], in any order.

    Only cycles that begin with a run are looked at, for one of them is the worst: a cycle that begins in a rest loses
    nothing by beginning at the next run, and one that begins within a run nothing by beginning where that run does.
    Raises ValueError for a run that ends before it starts, or two that overlap: a motor can't run twice at once.
    """
    allowed = allowed_running(share, cycle_s)
    ordered = sorted(runs)
    for start, end in ordered:
        if not start <= end:
            raise ValueError(f"a run from {start!r} s to {end!r} s ends before it starts")
    for (start, end), (following, _) in pairwise(ordered):
        if following < end:
            raise ValueError(
                f"the run from {start:g} s to {end:g} s is not over when another starts at {following:g} s"
            )
    worst, since = 0.0, ordered[0][0] if ordered else 0.0
    for begin, _ in ordered:
        running = round(_running(ordered, begin, begin + cycle_s), 6)
        if running > worst:
            worst, since = running, begin
    return DutyVerdict(worst, since, allowed, cycle_s)


def _running(ordered: list[Run], begin: float, end: float) -> float:
    """Running time between two instants [s]."""
    return sum(max(0.0, min(stop, end) - max(start, begin)) for start, stop in ordered)
