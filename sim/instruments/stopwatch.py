"""The stopwatch, and the thumb on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sim.draws import normal
from sim.errors import Refused
from sim.instruments.shown import Shown
from sim.units import to_seconds


@dataclass(frozen=True, slots=True)
class StopwatchSpec:
    """A hand stopwatch. CP, no source."""

    step_s: float = 0.01
    thumb_s: float = 0.05
    """Deviation of one press from the moment it was meant for [s]; the delay common to both presses cancels."""


SPEC: Final = StopwatchSpec()


def read(started: int, stopped: int, *, seed: int, index: int, spec: StopwatchSpec = SPEC) -> Shown:
    """What it shows for two instants [µs]; `index` counts its readings. Raises Refused if time ran backwards."""
    if stopped < started:
        raise Refused(f"the stopwatch was stopped {to_seconds(started - stopped):g} s before it was started")
    thumbs = normal(seed, "stopwatch", "stop", index) - normal(seed, "stopwatch", "start", index)
    seconds = max(0.0, to_seconds(stopped - started) + spec.thumb_s * thumbs)
    value = round(round(seconds / spec.step_s) * spec.step_s, 2)
    return Shown(value, "s", f"{value:.2f} s")
