"""Watches end a run at scan instants, when they hold, and at one instant only once."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import pytest

from sim.kernel import watching
from sim.kernel.network import DEAD, DriveNetwork
from sim.mechanics.obstacle import Obstacle
from sim.mechanics.plant import KernelWatch, Plant, Reason
from sim.units import SCAN, Us


class Watched(Enum):
    """Members named as the controller names them; their values don't matter here."""

    COUNT_AT_LEAST = "count"
    NONSENSE = "nonsense"


@dataclass(frozen=True)
class Watch:
    """The shape of a controller's watch."""

    what: Watched
    leaf: int = 0
    threshold: float = 0.0
    table: tuple[float, ...] = ()
    table_start: int = 0
    table_pitch: int = 1


def until_watch(plant: Plant, seconds: float = 60.0) -> Us:
    """Run to the first watch; returns when."""
    stop = plant.run_to(Us(plant.now + round(seconds * 1e6)))
    assert stop.reason is Reason.WATCH, stop
    assert stop.time % SCAN == 0
    return stop.time


def test_a_count_is_noticed_at_the_next_scan(plant: Plant, net: DriveNetwork) -> None:
    """The run ends at the first 10 ms instant with the count reached: 10 ms before, it was not."""
    plant.command(0, 0.5)
    plant.set_watches([Watch(Watched.COUNT_AT_LEAST, 0, 500)])
    when = until_watch(plant)
    assert plant.counts(0) >= 500
    fresh = Plant(plant.site)
    fresh.set_network(net)
    fresh.command(0, 0.5)
    fresh.run_to(Us(when - SCAN))
    assert fresh.counts(0) < 500


def test_a_watch_that_still_holds_fires_again_at_the_next_scan(plant: Plant) -> None:
    """At one instant a watch fires once; left standing it wakes the controller every 10 ms."""
    plant.set_watches([KernelWatch(watching.COUNT_AT_MOST, 0, 0)])
    assert [until_watch(plant) for _ in range(4)] == [10_000, 20_000, 30_000, 40_000]


def test_a_level_of_current(plant: Plant) -> None:
    """The magnitude counts, whichever way the motor drives."""
    plant.command(0, -1.0)
    plant.set_watches([KernelWatch(watching.CURRENT_AT_LEAST, 0, 6.0)])
    until_watch(plant)
    assert plant.motor_current(0) <= -6.0


def test_no_current(plant: Plant) -> None:
    """At most: a motor that is let go loses its current, and until then nothing wakes."""
    plant.command(0, 1.0)
    plant.run_to(Us(1_000_000))
    plant.set_watches([KernelWatch(watching.CURRENT_AT_MOST, 0, 0.1)])
    assert plant.run_to(Us(1_500_000)).reason is Reason.REACHED
    plant.command(0, 0.0, brake=True)
    until_watch(plant)
    assert abs(plant.motor_current(0)) <= 0.1


@pytest.mark.parametrize(
    ("table", "start", "holds"),
    [
        ((9.0, 7.0, 9.0), -10, True),
        ((7.0, 9.0, 7.0), -10, False),
        ((9.0, 9.0, 7.0), -10_000, True),
        ((7.0, 9.0, 9.0), 10_000, True),
        ((9.0, 7.0, 7.0), 1, False),
        ((7.0, 9.0, 9.0), -9, True),
    ],
)
def test_a_table_of_currents(plant: Plant, table: tuple[float, ...], start: int, holds: bool) -> None:
    """Stalled at 8 A, ten counts a bin: the bin of the present count decides, the first and last go on for ever."""
    plant.command(0, -1.0)
    plant.run_to(Us(30_000_000))
    assert plant.motor_current(0) == -8.0
    watch = KernelWatch(watching.CURRENT_ABOVE_TABLE, 0, 0.0, table, plant.counts(0) + start, 10)
    plant.set_watches([watch])
    stop = plant.run_to(Us(40_000_000))
    assert (stop.reason is Reason.WATCH) is holds


def test_a_stall_is_noticed_while_everything_rests(plant: Plant) -> None:
    """Rest is skipped, but not past the scan instant at which a counter has been quiet for long enough."""
    plant.run_to(Us(3_000_000))
    plant.set_watches([KernelWatch(watching.STALLED_FOR, 1, 7_004_000)])
    assert until_watch(plant, 3600) == 7_010_000
    assert plant.quiet_us(1) == 7_010_000
    plant.set_watches([KernelWatch(watching.STALLED_FOR, 1, 5_000)])
    assert until_watch(plant) == 7_020_000


def test_the_supply(plant: Plant, run) -> None:
    """A supply below its threshold is noticed at the next scan, also at rest."""
    plant.set_watches([KernelWatch(watching.SUPPLY_AT_MOST, 0, 16.0)])
    assert run(plant, 30.0) == []
    plant.set_network(DEAD)
    assert until_watch(plant) == 30_010_000


def test_contact_and_watch_at_one_instant_are_both_told(plant: Plant) -> None:
    """A touch at a scan instant doesn't swallow a watch that holds there: the next run tells it, at the same time."""
    plant.place_leaf(0, 1.0, -0.05)
    plant.release(0)
    seen: list[tuple[int, Reason]] = []
    plant.set_watches([KernelWatch(watching.COUNT_AT_MOST, 0, 0)])
    plant.place_obstacle(0, 0, Obstacle("test body", 1.0, 1.0, False, 1_000.0))
    start = plant.keyframe()
    for shift in range(10):
        plant.restore(start)
        plant.place_leaf(0, 1.0 + 0.05 * 0.001 * shift, -0.05)
        seen = []
        for _ in range(4):
            stop = plant.run_to(Us(25_000))
            seen.append((stop.time, stop.reason))
        if (10_000, Reason.CONTACT) in seen:
            break
    both = [entry for entry in seen if entry[0] == 10_000]
    assert both == [(10_000, Reason.CONTACT), (10_000, Reason.WATCH)]


@pytest.mark.parametrize(
    "bad",
    [
        Watch(Watched.NONSENSE),
        KernelWatch(17),
        KernelWatch(watching.COUNT_AT_LEAST, 2),
        KernelWatch(watching.COUNT_AT_LEAST, 0, float("nan")),
        KernelWatch(watching.CURRENT_ABOVE_TABLE, 0, 0.0, ()),
        KernelWatch(watching.CURRENT_ABOVE_TABLE, 0, 0.0, (1.0,), 0, 0),
    ],
)
def test_what_can_not_be_watched_is_refused(plant: Plant, bad) -> None:
    """A watch without sense is refused in words; the watches that stood, stand."""
    plant.set_watches([KernelWatch(watching.COUNT_AT_MOST, 0, 0)])
    with pytest.raises(ValueError, match="watch"):
        plant.set_watches([bad])
    assert until_watch(plant) == 10_000
