"""Traces as files that other programs read."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from sim.traces.recorder import trace
from sim.traces.signal import Trace

if TYPE_CHECKING:
    from sim.world.world import World


def write_csv(world: World, path: Path) -> int:
    """Write everything a world recorded as CSV and return the number of rows. See `write_table`."""
    return write_table(trace(world), path)


def write_table(taken: Trace, path: Path) -> int:
    """Write a trace as CSV after RFC 4180 (UTF-8, CRLF, quotes doubled) and return the number of rows.

    First column: time since the gate was found [s], exact to the microsecond. Heads carry names and units. Numbers
    have a decimal point and come back bit for bit. There is a row for every sample and for every change; on a row
    between samples the sampled values are those that hold.
    """
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, dialect="excel")
        writer.writerow(
            ["time [s]", *(signal.title for signal in taken.signals), *(change.name for change in taken.changes)]
        )
        count = 0
        for row in _rows(taken):
            writer.writerow(row)
            count += 1
    return count


def _rows(taken: Trace) -> Iterator[list[str]]:
    """The table's rows, every instant once."""
    changed = np.array([at for change in taken.changes for at, _ in change.steps], dtype=np.int64)
    instants = np.union1d(taken.time_us, changed)
    held = np.searchsorted(taken.time_us, instants, side="right") - 1
    texts = [iter(change.steps) for change in taken.changes]
    upcoming = [next(steps, None) for steps in texts]
    words = ["" for _ in texts]
    for at, row in zip(instants.tolist(), held.tolist(), strict=True):
        for i, steps in enumerate(texts):
            while (due := upcoming[i]) is not None and due[0] <= at:
                words[i] = due[1]
                upcoming[i] = next(steps, None)
        numbers = ["" if row < 0 else _number(signal.values[row]) for signal in taken.signals]
        yield [_seconds(at), *numbers, *words]


def _seconds(instant: int) -> str:
    """An instant [µs] in seconds, exact, with as many decimals as it takes and at least two."""
    sign, (whole, rest) = "-" if instant < 0 else "", divmod(abs(instant), 1_000_000)
    decimals = f"{rest:06d}".rstrip("0").ljust(2, "0")
    return f"{sign}{whole}.{decimals}"


def _number(value: np.float64) -> str:
    """The shortest text that reads back as the same number."""
    return repr(float(value)).removesuffix(".0")
