"""Samples taken inside the kernel at 100 Hz, gathered into arrays."""

from __future__ import annotations

import logging
import os
import tempfile
import weakref
from bisect import bisect_right
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

import numpy as np
import numpy.typing as npt

from sim.kernel import layout as at

ROOM: Final = 4096
"""Rows the kernel fills before they are carried away."""

IN_MEMORY: Final = 8
"""Full blocks that stay in memory: more than five minutes of movement. Ours."""

log = logging.getLogger(__name__)

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


@dataclass(frozen=True, slots=True)
class Block:
    """Rows that were carried away and stand for good."""

    first: int
    """Number of its first row."""
    begins_us: float
    """Time of its first row [µs]."""
    count: int
    kept: Column | int
    """The rows one after the other; or where they lie in the file."""
    file: int = -1
    """Handle of that file."""

    def rows(self) -> Column:
        """The rows as a table."""
        if isinstance(self.kept, int):
            size = self.count * at.ROW_SIZE * 8
            return np.frombuffer(os.pread(self.file, size, self.kept), dtype=np.float64).reshape(-1, at.ROW_SIZE)
        return self.kept.reshape(-1, at.ROW_SIZE)


class Recorder:
    """Owns the kernel's buffer of rows and what was carried away from it.

    The newest rows are in memory. Older ones lie in a file without a name, so that hours of movement need no more
    memory than minutes; it is gone when the process ends, however it ends. A copy of the process begins a file of
    its own and goes on reading from the one that was there.
    """

    def __init__(self) -> None:
        self.rows = np.zeros(ROOM * at.ROW_SIZE, dtype=np.float64)
        self._blocks: list[Block] = []
        self._file: tuple[int, int, int] | None = None
        """(process that writes there, handle, bytes written)."""

    def carry(self, count: int) -> int:
        """Take the rows away but for the last two, which later rows are compared with; returns how many stay."""
        if count <= 2:
            return count
        full, cut = self.rows, (count - 2) * at.ROW_SIZE
        self._blocks.append(Block(self._carried, float(full[0]), count - 2, full[:cut]))
        self.rows = np.empty_like(full)
        self.rows[: 2 * at.ROW_SIZE] = full[cut : cut + 2 * at.ROW_SIZE]
        if len(self._blocks) > IN_MEMORY:
            self._put_down(len(self._blocks) - 1 - IN_MEMORY)
        return 2

    @property
    def _carried(self) -> int:
        """How many rows were carried away."""
        return self._blocks[-1].first + self._blocks[-1].count if self._blocks else 0

    def _put_down(self, index: int) -> None:
        """Write a block to the file. Where there is no room for it, it stays in memory: nothing is lost."""
        block = self._blocks[index]
        if isinstance(block.kept, int):
            return
        try:
            if self._file is None or self._file[0] != os.getpid():
                self._file = os.getpid(), _nameless(self), 0
            process, handle, end = self._file
            size = os.pwrite(handle, block.kept.tobytes(), end)
        except OSError as error:
            log.warning("what was recorded stays in memory: %s", error)
            return
        if size == block.kept.nbytes:
            self._file = process, handle, end + size
            self._blocks[index] = replace(block, kept=end, file=handle)

    def _pieces(self, first: int, count: int) -> list[Column]:
        """Tables of the rows from the one numbered `first`, oldest first."""
        since = max(0, bisect_right(self._blocks, first, key=lambda block: block.first) - 1)
        pieces = [block.rows()[max(0, first - block.first) :] for block in self._blocks[since:]]
        there = self.rows[: count * at.ROW_SIZE].reshape(-1, at.ROW_SIZE)
        return [*pieces, there[max(0, first - self._carried) :]]

    def rows_from(self, first: int, count: int) -> Column:
        """Rows from the one numbered `first`, as a table; `count` rows are still in the buffer."""
        return np.concatenate(self._pieces(first, count))

    def number_at(self, when: int) -> int:
        """Number of a row no later than an instant [µs], and near it: where to begin reading."""
        index = bisect_right(self._blocks, float(when), key=lambda block: block.begins_us) - 1
        return 0 if index < 0 else self._blocks[index].first

    def gathered(self, count: int) -> Recording:
        """Everything recorded so far, `count` rows of it still in the buffer."""
        return Recording(*(np.ascontiguousarray(column) for column in self.rows_from(0, count).T))

    def cut(self, count: int, after: int) -> int:
        """Forget every row later than `after` [µs]; returns how many rows are in the buffer."""
        whole = self.rows_from(0, count)
        kept = whole[whole[:, 0] <= after]
        left = min(2, len(kept))
        split = len(kept) - left
        self._blocks = [Block(0, float(kept[0, 0]), split, kept[:split].reshape(-1).copy())] if split else []
        self.rows[: left * at.ROW_SIZE] = kept[split:].reshape(-1)
        return left


def _nameless(owner: object) -> int:
    """Handle of a fresh file that has no name any more; closed when its owner is gone."""
    handle, path = tempfile.mkstemp(prefix="gudgeon-recorded-")
    Path(path).unlink()
    weakref.finalize(owner, os.close, handle)
    return handle
