"""How long the single-fault sweep takes: every fault of the catalogue against every reading. Reported only."""

from __future__ import annotations

import resource
import time
from pathlib import Path

import pytest

from sim.bench.fault_sweep import STATES, sweep
from sim.faults.catalogue import FAULTS
from sim.site import load_site

BENCH = Path(__file__).resolve().parents[2] / "scenarios" / "sites" / "reference_bench.yaml"

BAR_S = 60.0
"""What the design asks of two cores that have nothing else to do; printed beside what was measured."""


def _used() -> float:
    return sum(
        usage.ru_utime + usage.ru_stime
        for usage in (resource.getrusage(resource.RUSAGE_SELF), resource.getrusage(resource.RUSAGE_CHILDREN))
    )


@pytest.mark.benchmark
def test_the_single_fault_sweep() -> None:
    """Wall and processor time on two processes; how many faults and readings; which faults no reading shows."""
    site = load_site(BENCH)
    began, used = time.perf_counter(), _used()
    found = sweep(site, processes=2)
    wall, processor = time.perf_counter() - began, _used() - used
    hidden = [name for name in found.table if not found.differs(name)]
    print(
        f"\n{len(found.table)} faults, {len(found.columns)} readings of {len(STATES)} states, "
        f"{found.readings()} taken: {wall:.0f} s of wall time on two processes, {processor:.0f} s of processor time "
        f"(asked for: {BAR_S:.0f} s on two idle cores, that is {2 * BAR_S:.0f} s of processor time)\n"
        f"shown by none of these readings, only by their own measurement: {', '.join(hidden) or 'none'}"
    )
    assert set(found.table) | set(found.unfit) == set(FAULTS)
    assert not found.unfit
