"""Two hours at work in the window: what the process needs after it has warmed up is what it needs at the end.

No timing: it fails above its bound. Frames are counted, not seconds; processor and wall time are reported only.
"""

from __future__ import annotations

import gc
import os
import time
from pathlib import Path

import pytest

from tests.benchmarks.hours_at_work import AtWork

FRAMES = 120_000
WARM = 20_000
"""Frames until every cache that has a bound has reached it."""

EVERY = 10_000
"""Frames between two looks."""

MOST = 0.02
"""So much may be added after warm-up, as a share. As asked of the window."""


def resident_mb() -> float:
    """What the process holds in memory now [MB]: the second figure of /proc/self/statm is in pages (proc(5))."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


RECORD = frozenset({"Event", "Entry", "Line", "Action", "Change", "mappingproxy", "dict"})
"""What is written down for good, act by act and event by event, with the data of each: it grows with what is done.
Its bytes count as all others do."""


def objects_apart_from_the_record() -> int:
    """How many objects Python keeps an eye on (gc), but for those the record is made of."""
    gc.collect()
    return sum(type(each).__name__ not in RECORD for each in gc.get_objects())


def growth(looks: list[float]) -> float:
    """How much was added from the first look to the largest of the last three, as a share."""
    return max(looks[-3:]) / looks[0] - 1.0


@pytest.mark.benchmark
def test_two_hours_at_work_need_no_more_memory(tmp_path: Path) -> None:
    """120 000 frames and two simulated hours: under 2 % more in memory, and under 2 % more objects apart from what is
    written down for good, than after warm-up."""
    os.environ["SDL_VIDEODRIVER"] = "dummy"
    os.environ["SDL_AUDIODRIVER"] = "dummy"
    who = AtWork(tmp_path)
    memory, objects = [], []
    wall, processor = time.monotonic(), time.process_time()
    print(f"\n{'frames':>8} {'simulated':>10} {'memory':>10} {'objects':>9} {'events':>7} {'processor':>10}")
    while who.frames < FRAMES:
        who.work(EVERY if who.frames >= WARM else WARM)
        objects.append(float(objects_apart_from_the_record()))
        memory.append(resident_mb())
        print(
            f"{who.frames:8d} {who.session.clock_us / 6e7:6.1f} min {memory[-1]:7.1f} MB {objects[-1]:9.0f} "
            f"{len(who.session.world.events):7d} {time.process_time() - processor:8.0f} s",
            flush=True,
        )
    assert who.refused == {}
    assert who.session.clock_us >= 7_200_000_000
    who.close()
    print(
        f"after warm-up {growth(memory):+.2%} of memory, {growth(objects):+.2%} of objects (at most {MOST:.0%}); "
        f"{time.monotonic() - wall:.0f} s of wall time, {time.process_time() - processor:.0f} s of processor time"
    )
    assert growth(memory) < MOST
    assert growth(objects) < MOST


def test_growth_is_what_was_added_since_the_first_look() -> None:
    """The largest of the last looks counts, so that a lucky last one hides nothing."""
    assert growth([100.0, 101.0, 103.0, 100.5, 101.0]) == pytest.approx(0.03)
    assert growth([100.0, 140.0, 100.0, 100.0, 99.0]) == pytest.approx(0.0)
