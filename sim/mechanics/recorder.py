"""Samples taken inside the kernel at 100 Hz, gathered into arrays."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from sim.kernel import layout as at

ROOM: Final = 4096
"""Rows the kernel fills before they are carried away."""

Column = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Recording:
    """Channels of equal length; equal samples in a row are kept as the first and the last of them."""

    time_us: Column
    active_angle: Column
    """[rad]"""
    inactive_angle: Column
    """[rad]"""
    active_current: Column
    """[A], positive makes opening torque"""
    inactive_current: Column
    """[A]"""
    supply: Column
    """[V]"""
    active_contact: Column
    """Force on obstacles [N]"""
    inactive_contact: Column
    """[N]"""


class Recorder:
    """Owns the kernel's buffer of rows and what was carried away from it."""

    def __init__(self) -> None:
        self.rows = np.zeros(ROOM * at.ROW_SIZE, dtype=np.float64)
        self._carried: list[Column] = []

    def carry(self, count: int) -> int:
        """Take the rows away but for the last two, which later rows are compared with; returns how many stay."""
        if count <= 2:
            return count
        full, cut = self.rows, (count - 2) * at.ROW_SIZE
        self._carried.append(full[:cut])
        self.rows = np.empty_like(full)
        self.rows[: 2 * at.ROW_SIZE] = full[cut : cut + 2 * at.ROW_SIZE]
        return 2

    def rows_from(self, first: int, count: int) -> Column:
        """Rows from the one numbered `first`, as a table; `count` rows are still in the buffer."""
        there = self.rows[: count * at.ROW_SIZE].reshape(-1, at.ROW_SIZE)
        carried = sum(block.size for block in self._carried) // at.ROW_SIZE
        if first >= carried:
            return there[first - carried :].copy()
        whole = np.concatenate([*self._carried, there.reshape(-1)]).reshape(-1, at.ROW_SIZE)
        return whole[first:].copy()

    def gathered(self, count: int) -> Recording:
        """Everything recorded so far, `count` rows of it still in the buffer."""
        whole = np.concatenate([*self._carried, self.rows[: count * at.ROW_SIZE]]).reshape(-1, at.ROW_SIZE)
        return Recording(*(np.ascontiguousarray(column) for column in whole.T))

    def cut(self, count: int, after: int) -> int:
        """Forget every row later than `after` [µs]; returns how many rows are in the buffer."""
        whole = np.concatenate([*self._carried, self.rows[: count * at.ROW_SIZE]]).reshape(-1, at.ROW_SIZE)
        kept = whole[whole[:, 0] <= after].reshape(-1)
        left = min(2, kept.size // at.ROW_SIZE)
        split = kept.size - left * at.ROW_SIZE
        self._carried = [kept[:split].copy()]
        self.rows[: left * at.ROW_SIZE] = kept[split:]
        return left
