"""Sampling inside the kernel: rows on the scan grid, a run of equal rows kept as its first and last."""

from __future__ import annotations

from sim.kernel.layout import ANGLE, CONTACT, CURRENT, LEAF_STATE, ROW_SIZE, ROWS, Floats, Whole
from sim.kernel.winding import supply


def is_same(rows: Floats, first: int, second: int) -> bool:
    """Whether two rows hold the same but for their times."""
    different = 0
    for column in range(1, ROW_SIZE):
        if rows[first * ROW_SIZE + column] != rows[second * ROW_SIZE + column]:
            different += 1
    return different == 0


def sample(state: Floats, network: Floats, rows: Floats, whole: Whole, time: int) -> None:
    """Add a row for `time` [µs]; the third of three equal rows takes the second's place."""
    count = whole[ROWS]
    if count > 0 and rows[(count - 1) * ROW_SIZE] >= time:
        return
    at = count * ROW_SIZE
    rows[at] = float(time)
    rows[at + 1] = state[ANGLE]
    rows[at + 2] = state[LEAF_STATE + ANGLE]
    rows[at + 3] = state[CURRENT]
    rows[at + 4] = state[LEAF_STATE + CURRENT]
    rows[at + 5] = supply(state, network, 0)
    rows[at + 6] = state[CONTACT]
    rows[at + 7] = state[LEAF_STATE + CONTACT]
    if count >= 2 and is_same(rows, count - 1, count) and is_same(rows, count - 2, count):
        rows[at - ROW_SIZE] = float(time)
        return
    whole[ROWS] = count + 1


COMPILED = (is_same, sample)

HOT = (is_same, sample)
"""What every scan instant goes through."""
