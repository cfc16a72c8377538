"""What a controller's watches mean on the line gate: whether one holds, and how far a leaf may go till one could."""

from __future__ import annotations

from typing import Final

from sim.bench.line_leaf import LineLeaf
from sim.controller.ports import Inputs, Watch, Watched

_NEVER: Final = 1e18
"""Longer than anything waits [µs]."""

_STEADY: Final = (Watched.CURRENT_AT_LEAST, Watched.CURRENT_AT_MOST, Watched.SUPPLY_AT_MOST)
"""What these look at doesn't change in a stretch that is skipped."""


def holds(watch: Watch, inputs: Inputs) -> bool:
    """Whether a watch's condition is true on these inputs, as `ports` states it."""
    what, leaf = watch.what, watch.leaf
    if what is Watched.COUNT_AT_LEAST:
        return inputs.counts[leaf] >= watch.threshold
    if what is Watched.COUNT_AT_MOST:
        return inputs.counts[leaf] <= watch.threshold
    if what is Watched.STALLED_FOR:
        return inputs.quiet_us[leaf] >= watch.threshold
    if what is Watched.SUPPLY_AT_MOST:
        return inputs.supply_v <= watch.threshold
    current = abs(inputs.motor_a[leaf])
    if what is Watched.CURRENT_AT_LEAST:
        return current >= watch.threshold
    if what is Watched.CURRENT_AT_MOST:
        return current <= watch.threshold
    place = max(0, min(len(watch.table) - 1, (inputs.counts[leaf] - watch.table_start) // watch.table_pitch))
    return current > watch.table[place]


def free(
    leaf: LineLeaf, index: int, watches: tuple[Watch, ...], marks: tuple[float, ...]
) -> tuple[float, float, float]:
    """Between which places a leaf passes no mark and nothing that is watched, and how long it may be quiet [µs]."""
    low = max((mark for mark in marks if mark <= leaf.position), default=float("-inf"))
    high = min((mark for mark in marks if mark > leaf.position), default=float("inf"))
    quiet = _NEVER
    for watch in watches:
        if watch.leaf != index or watch.what in _STEADY:
            continue
        place = watch.threshold - leaf.offset
        if watch.what is Watched.COUNT_AT_LEAST:
            high = min(high, place)
        elif watch.what is Watched.COUNT_AT_MOST:
            low = max(low, place + 1)
        elif watch.what is Watched.STALLED_FOR:
            quiet = min(quiet, watch.threshold)
        elif watch.what is not Watched.CURRENT_ABOVE_TABLE or (leaf.moved and leaf.current > min(watch.table)):
            return leaf.position, leaf.position, 0.0
    return low, high, quiet
