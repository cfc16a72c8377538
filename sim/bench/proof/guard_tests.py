"""Guard tests as they read on the terminals: the emitters' supply goes, each beam trips; it comes, each clears."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sim.bench.proof.asked import follows, givens, remembered
from sim.bench.proof.readings import reads_clear
from sim.bench.proof.record import Record, Row

BEAMS: Final = ("outer beam", "inner beam")

REACTS: Final = 500_000
"""A beam must react, and recover, within this [µs]. Facts 2.2, common practice."""

SCAN: Final = 10_000


@dataclass(frozen=True, slots=True)
class Test:
    """One time that the emitters' supply was dropped and given back."""

    dropped: int
    """[µs]"""
    restored: int
    results: tuple[tuple[str, str], ...]
    """(beam, `passed`, `silent`, `dark`, `tripped before`, or `cut short` where something else came between)."""

    def of(self, beam: str) -> str:
        """How a beam did."""
        return dict(self.results).get(beam, "")


def fitted(record: Record, at: int) -> list[str]:
    """Beams that the sheet declares as fitted."""
    sheet = record.sheet(at)
    return [beam for beam in BEAMS if sheet.get(beam, "not fitted") != "not fitted"]


@remembered
def guard_tests(record: Record) -> tuple[Test, ...]:
    """Every test that was made while the board had power throughout, in order."""
    found: list[Test] = []
    drop: Row | None = None
    rows: list[Row] = []
    for before, row in follows(record):
        if before is None:
            drop = None
        off = not row.outputs.emitter_supply
        if off and drop is None and (before is None or before.outputs.emitter_supply):
            drop, rows = row, []
        elif drop is not None:
            rows.append(row)
            if not off:
                found.append(_test(record, drop, rows))
                drop = None
    return tuple(found)


def _test(record: Record, drop: Row, rows: list[Row]) -> Test:
    restored = rows[-1].at
    after = [row for row in record.rows if restored < row.at <= restored + REACTS + 2 * SCAN]
    results = tuple((beam, _result(record, beam, drop, rows, after)) for beam in fitted(record, drop.at))
    return Test(drop.at, restored, results)


def _result(record: Record, beam: str, drop: Row, rows: list[Row], after: list[Row]) -> str:
    restored = rows[-1].at
    if not reads_clear(beam, drop.guard_v(beam)):
        return "tripped before"
    disturbed = any(drop.at < each.at <= restored + REACTS for each in givens(record)) or any(
        not reads_clear("stop circuit", row.guard_v("stop circuit")) for row in (*rows, *after)
    )
    if all(reads_clear(beam, row.guard_v(beam)) for row in rows):
        late = restored - drop.at >= REACTS - SCAN
        return "silent" if late and not disturbed else "cut short"
    if any(reads_clear(beam, row.guard_v(beam)) for row in after):
        return "passed"
    return "cut short" if disturbed or record.end < restored + REACTS else "dark"
