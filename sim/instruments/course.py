"""What both nets and both drives went through since an instrument was put in place.

The host says when the net or what is asked of a bridge changed; a look at the net is kept of each such stretch. What
the plant recorded meanwhile (100 Hz) is put through those looks when somebody reads: a pure look, and nothing polls.
Duties aren't recorded: between two changes a bridge slews as commanded, and while it holds its current limit the
supply it draws from says how much less it gives.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Protocol, TypeAlias, cast, runtime_checkable

import numpy as np
import numpy.typing as npt

from sim.devices.live import Live
from sim.devices.look import Look
from sim.units import SECOND
from sim.wiring.elements import Element

if TYPE_CHECKING:
    from sim.world.world import World

Floats: TypeAlias = npt.NDArray[np.float64]
Flags: TypeAlias = npt.NDArray[np.bool_]

TIME, CURRENT, SUPPLY = 0, 3, 5
"""Columns of what the plant recorded: time, first of two currents, supply."""

HALF_STEP: Final = 500
"""Half a step of the mechanics [µs]."""

AT_LIMIT_A: Final = 1e-6
"""A current this near its limit is held there [A]. Ours."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """From one change to the next."""

    at: int
    """When it began [µs]."""
    look: Look
    mains: tuple[Element, ...]
    duty: tuple[float, float]
    """As it began."""
    target: tuple[float, float]
    slew_per_s: tuple[float, float]
    limit_a: tuple[float, float]


Figure: TypeAlias = Callable[[Stretch, Live], Any]
"""What an instrument shows of one stretch for these currents and duties, or arrays of them; None for nothing."""


@runtime_checkable
class Keeps(Protocol):
    """A bag that keeps a course."""

    course: Course


class Course:
    """The stretches since the first of the instruments in place was placed."""

    def __init__(self, world: World) -> None:
        self._world = world
        self._stretches: list[Stretch] = []
        self._row = 0
        self._first = 0
        self._is_kept = False

    def begin(self) -> None:
        """Keep what happens from now on; called when something is put in place."""
        self._skip_rows()
        if not self._is_kept:
            self._is_kept = True
            self._first = self._row
            self._world.host.changed.append(self._note)
        self._note()

    def end(self) -> None:
        """Nothing is in place any more."""
        if self._is_kept:
            self._world.host.changed.remove(self._note)
        self._is_kept = False
        self._stretches.clear()

    def _skip_rows(self) -> None:
        """Move on to the row that holds now; the last two may still be moved on in time."""
        self._row = max(0, self._row + len(self._world.plant.rows_from(self._row)) - 3)

    def stretch_now(self) -> Stretch:
        """The nets as they stand now."""
        return self._stretch(self._world)

    def _note(self) -> None:
        world = self._world
        now = int(world.now)
        while self._stretches and self._stretches[-1].at >= now:
            self._stretches.pop()
        self._stretches.append(self._stretch(world))

    def _stretch(self, world: World) -> Stretch:
        asked = (world.plant.commanded(0), world.plant.commanded(1))
        is_braked = (asked[0].brake, asked[1].brake)
        return Stretch(
            int(world.now),
            world.cabinet.look(),
            world.cabinet.mains.key,
            (0.0 if is_braked[0] else world.plant.duty(0), 0.0 if is_braked[1] else world.plant.duty(1)),
            (0.0 if is_braked[0] else asked[0].duty, 0.0 if is_braked[1] else asked[1].duty),
            (asked[0].slew_per_s, asked[1].slew_per_s),
            (asked[0].limit_a, asked[1].limit_a),
        )

    def stretches(self) -> tuple[Stretch, ...]:
        """Every stretch kept, oldest first."""
        return tuple(self._stretches)

    def extremes(self, since: int, figure: Figure) -> tuple[float | None, float | None]:
        """Least and most of a figure since an instant [µs]; None where there never was one."""
        if not self._stretches:
            return None, None
        least: float | None = None
        most: float | None = None
        rows = self._world.plant.rows_from(self._first) if self._is_kept else np.empty((0, 8))
        times = rows[:, TIME] if len(rows) else np.empty(0)
        ends = [*(each.at for each in self._stretches[1:]), int(self._world.now)]
        for stretch, end in zip(self._stretches, ends, strict=True):
            begin = max(stretch.at, since)
            if end <= begin and end < int(self._world.now):
                continue
            first, last = (int(np.searchsorted(times, when, side="right")) for when in (begin, end))
            chosen = rows[first:last] if last > first else rows[max(0, last - 1) : last]
            found = figure(stretch, _live(stretch, chosen)) if len(chosen) else figure(stretch, Live())
            if found is None:
                continue
            values = np.atleast_1d(np.asarray(found, dtype=np.float64))
            least = float(values.min()) if least is None else min(least, float(values.min()))
            most = float(values.max()) if most is None else max(most, float(values.max()))
        return least, most


def course_of(world: World) -> Course:
    """The course that this world's bag keeps."""
    assert isinstance(world.bag, Keeps)
    return world.bag.course


def live_now(world: World) -> Live:
    """What both drives do now."""
    plant, drives = world.plant, world.site.drives.pair
    emf = tuple(drives[i].motor.emf_v_s_rad * plant.motor_speed(i) for i in (0, 1))
    return Live(
        (plant.driven(0), plant.driven(1)), (plant.motor_current(0), plant.motor_current(1)), (emf[0], emf[1])
    )


def _live(stretch: Stretch, rows: Floats) -> Live:
    """Currents as recorded, duties as slewed and as limited."""
    amps = (rows[:, CURRENT], rows[:, CURRENT + 1])
    drive = stretch.look.drive
    duties = tuple(_slewed(stretch, k, rows[:, TIME]) if drive.closed[k] else np.zeros(len(rows)) for k in (0, 1))
    held = [np.abs(amps[k]) >= stretch.limit_a[k] - AT_LIMIT_A for k in (0, 1)]
    if held[0].any() or held[1].any():
        duties = _limited(stretch, duties, held, amps, rows[:, SUPPLY])
    return Live(cast(Any, duties), cast(Any, amps))


def _slewed(stretch: Stretch, leaf: int, times: Floats) -> Floats:
    """The duty a bridge slews through, from where it was to what it was told: the mean of the last millisecond."""
    start, target = stretch.duty[leaf], stretch.target[leaf]
    way = stretch.slew_per_s[leaf] * np.maximum(0.0, times - stretch.at - HALF_STEP) / SECOND
    return start + math.copysign(1.0, target - start) * np.minimum(abs(target - start), way)


def _limited(
    stretch: Stretch, duties: tuple[Floats, ...], held: list[Flags], amps: tuple[Floats, Floats], volts: Floats
) -> tuple[Floats, ...]:
    """What bridges at their limit really give: the supply is drawn down by what they take.

    V₀ = V_open − Z₀₀·I₀ − Z₀₁·I₁ with I = g·D²·V + a·D·i of each. Those at their limit give the part f of what is
    asked, both the same: a quadratic in f.
    """
    drive = stretch.look.drive
    square, straight, left = np.zeros_like(volts), np.zeros_like(volts), drive.voc[0] - volts
    for k in (0, 1):
        leak = drive.z[0][k] * drive.g[k] * duties[k] ** 2 * volts
        load = drive.z[0][k] * drive.alpha[k] * duties[k] * amps[k]
        square = square + np.where(held[k], leak, 0.0)
        straight = straight + np.where(held[k], load, 0.0)
        left = left - np.where(held[k], 0.0, leak + load)
    root = straight + np.sqrt(np.maximum(0.0, straight**2 + 4.0 * square * left))
    part = np.clip(np.where(root > 0.0, 2.0 * left / np.where(root > 0.0, root, 1.0), 1.0), 0.0, 1.0)
    return tuple(np.where(held[k], duties[k] * part, duties[k]) for k in (0, 1))
