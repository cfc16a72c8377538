"""When each leaf was driven which way, from a record: what most promises about movement are judged by."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sim.bench.proof.readings import reads_clear
from sim.bench.proof.record import Record, Row
from sim.controller.ports import COMMAND_TERMINALS, GUARD_TERMINALS
from sim.controller.settings import NOT_FITTED

TURN_US: Final = 4_500_000
"""A leaf that is driven the other way within this was turned round [µs]: in the lap one leaf goes back after the
other. Ours."""

_BY_HAND: Final = ("jog", "hold-to-run opening", "hold-to-run closing")


@dataclass(frozen=True, slots=True)
class Stretch:
    """One leaf driven one way without a break."""

    leaf: int
    way: int
    """+1 opening, −1 closing."""
    start: int
    end: int
    """Since the gate was found [µs]."""
    first: int
    last: int
    """Index of the first and the last row in which it was driven so."""
    before: int
    """The way it was driven before this, 0 for never."""
    pause: int
    """How long it was not driven before this [µs]."""

    @property
    def turned(self) -> bool:
        """Whether this is the way back from where it was going."""
        return self.before == -self.way and self.pause <= TURN_US

    @property
    def length(self) -> int:
        """How long [µs]."""
        return self.end - self.start


def spans(record: Record) -> Iterator[tuple[Row, int]]:
    """Every row with the instant until which its outputs held; without power nothing is held."""
    lost = [at for at, on in record.power if not on]
    for row, until in record.spans():
        yield row, min([until, *(at for at in lost if at >= row.at)])


def stretches(record: Record) -> list[Stretch]:
    """Every stretch of both leaves, by their beginning."""
    found: list[Stretch] = []
    for leaf in (0, 1):
        found += _of_leaf(record, leaf)
    return sorted(found, key=lambda s: (s.start, s.leaf))


def _of_leaf(record: Record, leaf: int) -> Iterator[Stretch]:
    held = list(spans(record))
    before, let_go, index = 0, 0, 0
    while index < len(held):
        row, until = held[index]
        way, first = row.ways[leaf], index
        index += 1
        if way == 0:
            continue
        while index < len(held) and held[index][0].ways[leaf] == way and held[index][0].at == until:
            until = held[index][1]
            index += 1
        pause = row.at - let_go if before else row.at
        yield Stretch(leaf, way, row.at, until, first, index - 1, before, pause)
        before, let_go = way, until


def ways_back(record: Record, longest_s: float) -> list[Stretch]:
    """Stretches that free what a leaf met: the other way than before, and short [s]; and what goes back with one."""
    found = [s for s in stretches(record) if s.length <= round(longest_s * 1e6)]
    turned = [s for s in found if s.turned]
    return [s for s in found if s.turned or any(t.way == s.way and 0 <= s.start - t.start <= TURN_US for t in turned)]


def goes_back(back: list[Stretch], row: Row) -> bool:
    """Whether every leaf that is driven at a row is on one of these ways back."""
    leaves = [leaf for leaf in (0, 1) if row.ways[leaf]]
    return all(any(s.leaf == leaf and s.start <= row.at < s.end for s in back) for leaf in leaves)


def by_hand(row: Row) -> bool:
    """Whether somebody holds a control and sees what moves."""
    return row.state in _BY_HAND


def not_clear(record: Record, row: Row, *reactions: str) -> list[str]:
    """Declared guards with one of these reactions (any, if none is named) that don't read clear at a row."""
    sheet = record.sheet(row.at)
    return [
        guard
        for guard in GUARD_TERMINALS
        if (sheet.get(guard) in reactions if reactions else sheet.get(guard, NOT_FITTED) != NOT_FITTED)
        and not reads_clear(guard, row.guard_v(guard))
    ]


def stop_is_open(record: Record, row: Row) -> bool:
    """Whether the stop circuit is declared and reads open."""
    return "stop circuit" in not_clear(record, row, "halt")


def asked(record: Record) -> list[int]:
    """Instants at which somebody gave something anew: a control, a transmitter, a request at the panel."""
    found: list[int] = []
    before: tuple[bool, ...] = tuple(True for _ in COMMAND_TERMINALS)
    for row in record.rows:
        now = tuple(row.pressed(name) for name in COMMAND_TERMINALS)
        heard = any(word.pressed for word in row.inputs.radio)
        if heard or row.inputs.requests or any(b and not a for a, b in zip(before, now, strict=True)):
            found.append(row.at)
        before = now
    return found


def undisturbed(record: Record, since: int, until: int, *allowed: str) -> bool:
    """Whether nothing was done from `since` (not itself) to `until` [µs] but these acts, and power stayed."""
    acts = all(step.act in allowed for step in record.steps if since < step.at <= until and not step.refused)
    return acts and not any(since < at <= until for at, _ in record.power)


def travelled_mm(record: Record, leaf: int, since: int, until: int) -> float:
    """How far the tip of a leaf moved the way of opening between two instants [mm]; less than 0 for closing."""
    width = record.site.leaves.pair[leaf].width_m
    turned = math.radians(angle_at(record, leaf, until) - angle_at(record, leaf, since))
    return turned * width * 1000.0


def angle_at(record: Record, leaf: int, at: int) -> float:
    """Angle of a leaf at an instant [°]."""
    taken = record.trace
    place = int(taken.time_us.searchsorted(at, side="right")) - 1
    return float(taken[_ANGLES[leaf]][max(0, place)])


_ANGLES: Final = ("active leaf angle", "inactive leaf angle")
