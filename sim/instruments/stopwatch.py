"""The stopwatch, and the thumb on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from sim.draws import normal
from sim.errors import Refused
from sim.instruments import travel
from sim.instruments.instrument import Function, Group, Use
from sim.instruments.scaled import Figure, Row, Scale, Scaled, leaf_at
from sim.instruments.shown import Shown
from sim.said import said
from sim.units import to_seconds

if TYPE_CHECKING:
    from sim.world.world import World


@dataclass(frozen=True, slots=True)
class StopwatchSpec:
    """A hand stopwatch. CP, no source."""

    step_s: float = 0.01
    thumb_s: float = 0.05
    """Deviation of one press from the moment it was meant for [s]; the delay common to both presses cancels."""


SPEC: Final = StopwatchSpec()

_SCALE: Final = Scale(SPEC.step_s, SPEC.thumb_s * 2.0**0.5, -3_600.0, 36_000.0)
"""Two presses, each as unsteady as the other."""

LAST_M: Final = 0.5
"""The stretch before a stop that is looked at: a leaf crushes within it (facts 1.2: gaps up to 500 mm) [m]."""


def read(started: int, stopped: int, *, seed: int, index: int, spec: StopwatchSpec = SPEC) -> Shown:
    """What it shows for two instants [µs]; `index` counts its readings. Raises Refused if time ran backwards."""
    if stopped < started:
        raise Refused(
            said(
                "the stopwatch was stopped {seconds:g} s before it was started", seconds=to_seconds(started - stopped)
            )
        )
    thumbs = normal(seed, "stopwatch", "stop", index) - normal(seed, "stopwatch", "start", index)
    seconds = max(0.0, to_seconds(stopped - started) + spec.thumb_s * thumbs)
    value = round(round(seconds / spec.step_s) * spec.step_s, 2)
    return Shown(value, "s", f"{value:.2f} s")


def _movement(world: World, use: Use) -> float:
    seen = travel.way(world, leaf_at(use), use.since)
    return seen.stopped() - seen.started()


def _start(world: World, use: Use) -> float:
    return travel.after_other(world, leaf_at(use), use.since, arrival=False)


def _arrival(world: World, use: Use) -> float:
    return travel.after_other(world, leaf_at(use), use.since, arrival=True)


def _last(world: World, use: Use) -> float:
    return travel.last_stretch(world, leaf_at(use), use.since, LAST_M)


def _open(world: World, use: Use) -> float:
    return travel.open_wait(world, use.since)


def _row(name: str, help: str, figure: Figure, at: Literal["", "leaf"] = "leaf") -> Row:
    return Row(Function(name, "s", help, at=at, takes_s=2.0, settles_s=0.0), figure, _SCALE, at_once=False)


class Stopwatch(Scaled):
    """The stopwatch of a bag: placed before a movement, read after it."""

    name = "stopwatch"
    group: Group = "mechanical"
    help = "How long things take: taken in hand before, read after."
    rows = (
        _row("movement", "From when a leaf starts until it stops.", _movement),
        _row("start after the other leaf", "How much later than the other leaf it starts.", _start),
        _row("arrival after the other leaf", "How much later than the other leaf it stops.", _arrival),
        _row("last half metre", "How long a leaf's tip takes for the last 500 mm before it stops.", _last),
        _row("standing open", "How long the open gate waits before it closes by itself.", _open, at=""),
    )
