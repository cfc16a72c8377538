"""The force gauge: what a force-time curve amounts to, and whether the rules allow it.

A curve is piecewise linear between its samples, time in seconds from the first contact, force in newtons. The four
figures that are judged are taken from it exactly: a crossing counts where the line crosses, not at the next sample.
One reading is not a verdict: `mean_verdict` judges the mean of as many as the rules ask for.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
import numpy.typing as npt

from sim.draws import normal
from sim.instruments.rule_sets import (
    GAUGE_ACCURACY,
    GAUGE_LEAST,
    GAUGE_MOST,
    GAUGE_RATE,
    GAUGE_RISE,
    GAUGE_STEP,
    Figure,
    RuleSet,
)
from sim.said import joined, said

Floats = npt.NDArray[np.float64]
Outcome = Literal["within limits", "marginal", "over the limit", "not judged"]

AMPLIFIER_S: Final = GAUGE_RISE.value / math.log(9.0)
"""Time constant of a first-order amplifier with that rise time: 5 ms / 2.197 [s]."""

BAND: Final = GAUGE_ACCURACY.value
"""Within this part of a limit a pass is called marginal, unless the caller says otherwise."""


@dataclass(frozen=True, slots=True)
class GaugeSpec:
    """What one gauge is off by. CP, no source; a draw is never beyond six deviations, so that both together stay
    within the accuracy that the rules take for granted."""

    scale_error: float = GAUGE_ACCURACY.value / 12.5
    """Deviation of one gauge's scale from the truth: a draw of its own, the same for all its readings."""
    repeat_error: float = GAUGE_ACCURACY.value / 12.5
    """Deviation between readings at one point: rest, discs and leaf never meet twice in quite the same way."""
    step_n: float = GAUGE_STEP.value
    """Resolution [N]."""


SPEC: Final = GaugeSpec()


_WORST_FIRST: Final[tuple[Outcome, ...]] = ("over the limit", "marginal")


@dataclass(frozen=True, slots=True)
class Reading:
    """What one curve amounts to under one rule set."""

    peak_n: float
    """Fd: highest force while the dynamic period lasts [N]."""
    above_static_s: float
    """Td: time above the static limit, in all [s]."""
    static_n: float
    """Fs: highest force from the end of the dynamic period on [N]."""
    above_residual_s: float
    """Tt: time above the residual limit, in all [s]."""
    late_n: float
    """F5: highest force from the residual time on [N]."""
    is_whole: bool = True
    """Whether the record lasts until the residual time."""
    is_over_range: bool = False
    """Whether the instrument was pushed beyond its range; the peak was then higher than it shows."""


@dataclass(frozen=True, slots=True)
class Line:
    """One figure against its limit."""

    text: str
    """E.g. `peak 420 N, at most 400 N`."""
    value: float
    limit: float
    outcome: Outcome


@dataclass(frozen=True, slots=True)
class Verdict:
    """A judgement and what it rests on."""

    outcome: Outcome
    lines: tuple[Line, ...]
    rules: RuleSet
    because: str = ""
    """Why nothing was judged; empty otherwise."""

    def __str__(self) -> str:
        worst = [line.text for line in self.lines if line.outcome == self.outcome]
        why = self.because or (joined(worst, "; ") if self.outcome != "within limits" else said("all limits met"))
        return said("{outcome} ({rules}): {why}", outcome=self.outcome, rules=self.rules.name, why=why)


def evaluate(time_s: Sequence[float] | Floats, force_n: Sequence[float] | Floats, rules: RuleSet) -> Reading:
    """The judged figures of a curve. Times [s] rise strictly and begin at the contact, 0; forces [N] are finite.

    Raises ValueError if that is not so.
    """
    time, force = np.asarray(time_s, dtype=np.float64), np.asarray(force_n, dtype=np.float64)
    if time.ndim != 1 or time.shape != force.shape or len(time) < 2:
        raise ValueError(
            f"read {time.shape} times and {force.shape} forces; allowed: two or more of each, equally many"
        )
    if not (np.isfinite(time).all() and np.isfinite(force).all()):
        raise ValueError("a force-time curve must be finite")
    if time[0] != 0.0 or (np.diff(time) <= 0.0).any():
        raise ValueError("the times of a force-time curve begin at 0 and rise")
    dynamic, late = rules.dynamic.value, rules.residual_time.value
    return Reading(
        peak_n=_highest(time, force, 0.0, dynamic),
        above_static_s=_time_above(time, force, rules.static.value),
        static_n=_highest(time, force, dynamic, math.inf),
        above_residual_s=_time_above(time, force, rules.residual.value),
        late_n=_highest(time, force, late, math.inf),
        is_whole=bool(time[-1] >= late),
        is_over_range=bool(force.max() > GAUGE_MOST.value),
    )


def judge(reading: Reading, rules: RuleSet, band: float = BAND) -> Verdict:
    """A reading against the rules. `band`: a pass above (1 − band) of a limit is marginal; 0 for none."""
    if not reading.is_whole:
        because = said(
            "the record ends before {time}; leave the gauge until it has run out", time=str(rules.residual_time)
        )
        return Verdict("not judged", (), rules, because)
    static, late = rules.static, rules.residual_time
    lines = (
        _line("peak {value}, at most {limit}", reading.peak_n, rules.peak, band),
        _line("above {beyond} for {value}, at most {limit}", reading.above_static_s, rules.dynamic, band, static),
        _line("{value} after {beyond}, at most {limit}", reading.static_n, static, band, rules.dynamic),
        _line("above {beyond} for {value}, at most {limit}", reading.above_residual_s, late, band, rules.residual),
        _line("{value} after {beyond}, at most {limit}", reading.late_n, rules.residual, band, late),
    )
    outcomes = {line.outcome for line in lines}
    worst: Outcome = next((o for o in _WORST_FIRST if o in outcomes), "within limits")
    return Verdict(worst, lines, rules)


def mean_of(readings: Sequence[Reading]) -> Reading:
    """The mean of each figure over readings at one point."""
    count = len(readings)
    return Reading(
        peak_n=math.fsum(r.peak_n for r in readings) / count,
        above_static_s=math.fsum(r.above_static_s for r in readings) / count,
        static_n=math.fsum(r.static_n for r in readings) / count,
        above_residual_s=math.fsum(r.above_residual_s for r in readings) / count,
        late_n=math.fsum(r.late_n for r in readings) / count,
        is_whole=all(r.is_whole for r in readings),
        is_over_range=any(r.is_over_range for r in readings),
    )


def mean_verdict(readings: Sequence[Reading], rules: RuleSet, band: float = BAND) -> Verdict:
    """The verdict on one point: the mean of its readings. With too few of them nothing is judged."""
    asked = int(rules.repeats.value)
    if len(readings) < asked:
        return Verdict(
            "not judged",
            (),
            rules,
            said("{count} of {asked} readings; one reading is not a verdict", count=len(readings), asked=asked),
        )
    return judge(mean_of(readings), rules, band)


def amplified(
    time_s: Sequence[float] | Floats,
    force_n: Sequence[float] | Floats,
    tau_s: float = AMPLIFIER_S,
    step_s: float = 1e-3,
) -> tuple[Floats, Floats]:
    """A raw curve as the instrument's first-order amplifier shows it: (time [s], force [N]).

    Exact for a piecewise-linear curve, from rest at 0 N; sampled at the curve's own times and every `step_s`
    (facts ask for 1 kHz or better). With `tau_s` 0 the amplifier is ideal.
    """
    own, force = np.asarray(time_s, dtype=np.float64), np.asarray(force_n, dtype=np.float64)
    time = np.union1d(own, np.arange(own[0], own[-1], step_s))
    raw = np.interp(time, own, force)
    if tau_s == 0.0:
        return time, raw
    shown = np.empty_like(raw)
    shown[0] = 0.0
    for k in range(1, len(time)):
        dt = time[k] - time[k - 1]
        lag = (raw[k] - raw[k - 1]) / dt * tau_s  # how far behind a ramp the output runs in the end
        left = shown[k - 1] - raw[k - 1] + lag
        shown[k] = raw[k] - lag + left * math.exp(-dt / tau_s)
    return time, shown


def as_kept(force_n: Floats, *, seed: int, where: str, index: int, spec: GaugeSpec = SPEC) -> Floats:
    """A curve [N] as this gauge keeps it: on its own scale, in steps of its resolution.

    `where` names the measuring point, `index` counts the readings there: neither the order of the points nor a
    reading elsewhere changes what is kept here.
    """
    scale = 1.0 + spec.scale_error * normal(seed, "force gauge", "scale")
    scale *= 1.0 + spec.repeat_error * normal(seed, "force gauge", f"repeat, {where}", index)
    kept: Floats = np.round(force_n * scale / spec.step_n) * spec.step_n
    return kept


def compression_mm(force_n: float) -> float:
    """How far the gauge's spring gives way [mm]."""
    return force_n / GAUGE_RATE.value


def shown_n(force_n: float) -> float:
    """A force as the display shows it: whole newtons [N], nothing below the range."""
    return 0.0 if force_n < GAUGE_LEAST.value else float(round(force_n))


def _line(sentence: str, value: float, limit: Figure, band: float, beyond: Figure | None = None) -> Line:
    """One figure against its limit; both are put into the sentence, with what counts or from when on."""
    text = said(sentence, value=_rounded(value, limit), limit=str(limit), beyond=str(beyond))
    if value > limit.value:
        return Line(text, value, limit.value, "over the limit")
    return Line(text, value, limit.value, "marginal" if value > (1.0 - band) * limit.value else "within limits")


def _rounded(value: float, limit: Figure) -> str:
    """A value for people: whole newtons, hundredths of a second, and finer where that would hide a breach."""
    digits = 0 if limit.unit == "N" else 2
    while digits < 6 and value > limit.value >= round(value, digits):
        digits += 1
    return f"{value:.{digits}f} {limit.unit}"


def _highest(time: Floats, force: Floats, start: float, end: float) -> float:
    """The highest point of the line between two times; 0 where the record does not reach."""
    if start > time[-1]:
        return 0.0
    inside = force[(time >= start) & (time <= end)]
    ends = np.interp([start, min(end, time[-1])], time, force)
    return float(max(ends.max(), inside.max(initial=-math.inf)))


def _time_above(time: Floats, force: Floats, level: float) -> float:
    """How long the line lies above a level, crossings taken on the line [s]."""
    total = 0.0
    for k in range(len(time) - 1):
        dt, low, high = time[k + 1] - time[k], force[k] - level, force[k + 1] - level
        if low > 0.0 and high > 0.0:
            total += dt
        elif (low > 0.0) != (high > 0.0):
            total += dt * max(low, high) / abs(high - low)
    return float(total)
