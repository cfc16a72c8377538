"""What guards do, seen on the terminals."""

from __future__ import annotations

from typing import Final

from sim.bench.proof.entry import Bound, Bounds, Breach, Focus, Property
from sim.bench.proof.readings import reads_clear
from sim.bench.proof.record import Record, Row

_REOPENING: Final = ("outer beam", "inner beam", "active edge", "inactive edge")


def _reopening_tripped(record: Record, row: Row) -> list[str]:
    sheet = record.sheet(row.at)
    return [g for g in _REOPENING if sheet.get(g) == "reopen" and not reads_clear(g, row.guard_v(g))]


def _never_closes_past_a_reopening_guard(record: Record, bounds: Bounds) -> Breach | None:
    """From one scan after a reopening guard trips, nothing is driven closing; a jog is somebody's own hand."""
    late = round(bounds["within"] * 1e6)
    since: int | None = None
    for row, until in record.spans():
        tripped = _reopening_tripped(record, row)
        if not tripped or not row.closes or row.state == "jog":
            since = None
            continue
        since = row.at if since is None else since
        if until - since > late:
            return Breach(since + late, f"driven closing though {', '.join(tripped)} is tripped")
    return None


ENTRIES: Final = (
    Property(
        "never closes past a reopening guard",
        "While a guard that reopens is tripped, no leaf is driven closing for longer than one scan.",
        "Somebody stands in the way and is hit.",
        "EN 12453 Table 1, detection and force limiting, as Facts 2.1 restates it",
        "terminals",
        _never_closes_past_a_reopening_guard,
        bounds=(Bound("within", 0.02, "s", "two scans of 10 ms, ours"),),
        needs=("outer beam",),
        focus=Focus(
            phrases=("beam", "edge"), first=("open then close",), sheet={"active edge": ("back off", "reopen")}
        ),
    ),
)
