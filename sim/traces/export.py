"""Traces as files that other programs read."""

from __future__ import annotations

import csv
from pathlib import Path

from sim.traces.signal import trace
from sim.world.world import World


def write_csv(world: World, path: Path) -> int:
    """Write everything recorded as CSV, one row an instant, and return the number of rows.

    First column: time since the gate was found [s]. Heads carry names and units; numbers have a decimal point.
    """
    taken = trace(world)
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["time [s]", *(signal.title for signal in taken.signals)])
        columns = [signal.values for signal in taken.signals]
        for row, instant in enumerate(taken.time_us):
            writer.writerow([f"{instant / 1e6:.2f}", *(f"{column[row]:.6g}" for column in columns)])
    return len(taken.time_us)
