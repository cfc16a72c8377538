"""The recorder: hours of rows come back exactly, and only the newest are held in memory."""

from __future__ import annotations

import copy
from pathlib import Path

import numpy as np
import pytest

from sim.kernel import layout as at
from sim.mechanics import recorder as room
from sim.mechanics.recorder import IN_MEMORY, ROOM, Block, Recorder

MORE = IN_MEMORY + 6
"""Blocks that are filled."""


def fill(recorder: Recorder, left: int, first: int, rows: int) -> int:
    """Put numbered rows in as the kernel does, carried away when the buffer is full; how many stay in it."""
    for number in range(first, first + rows):
        recorder.rows[left * at.ROW_SIZE : (left + 1) * at.ROW_SIZE] = row(number)
        left += 1
        if left == ROOM:
            left = recorder.carry(left)
    return left


def row(number: int) -> np.ndarray:
    """A row that is like no other."""
    return np.array([10_000.0 * number, *(number + part / 8 for part in range(1, at.ROW_SIZE))])


def in_memory(recorder: Recorder) -> int:
    """Bytes of carried rows that are in memory."""
    return sum(block.kept.nbytes for block in recorder._blocks if not isinstance(block.kept, int))


def test_old_rows_come_back_exactly_and_need_no_memory() -> None:
    """Every row, from any number on, is what was recorded; what is in memory doesn't grow with the hours."""
    recorder, count = Recorder(), MORE * ROOM
    left = fill(recorder, 0, 0, count)
    whole = np.array([row(number) for number in range(count)])
    for first in (0, 1, ROOM - 3, ROOM - 2, ROOM, 5 * ROOM + 7, count - ROOM, count - 2, count - 1, count):
        assert np.array_equal(recorder.rows_from(first, left), whole[first:]), first
    assert in_memory(recorder) <= IN_MEMORY * ROOM * at.ROW_SIZE * 8
    assert np.array_equal(recorder.gathered(left).time_us, whole[:, 0])


def test_reading_begins_near_an_instant() -> None:
    """No later than it, and at most a block before it."""
    recorder = Recorder()
    left = fill(recorder, 0, 0, MORE * ROOM)
    for number in (0, 1, ROOM, 3 * ROOM + 5, MORE * ROOM - 1):
        first = recorder.number_at(10_000 * number)
        assert number - 2 * ROOM < first <= number
        assert recorder.rows_from(first, left)[0, 0] <= 10_000.0 * number


def test_a_copy_of_the_process_goes_on_for_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither spoils what the other recorded before or after they parted (both write where the file ended then)."""
    recorder, parted = Recorder(), (MORE - 3) * ROOM
    left = fill(recorder, 0, 0, parted)
    other = copy.copy(recorder)
    other.rows, other._blocks = recorder.rows.copy(), list(recorder._blocks)
    here = fill(recorder, left, parted, 4 * ROOM)
    monkeypatch.setattr(room.os, "getpid", lambda: -1)
    there = fill(other, left, 10 * parted, 4 * ROOM)
    common = [row(number) for number in range(parted)]
    mine = np.array([*common, *(row(number) for number in range(parted, parted + 4 * ROOM))])
    its = np.array([*common, *(row(number) for number in range(10 * parted, 10 * parted + 4 * ROOM))])
    assert np.array_equal(recorder.rows_from(0, here), mine)
    assert np.array_equal(other.rows_from(0, there), its)


def test_where_nothing_can_be_written_it_stays_in_memory(monkeypatch: pytest.MonkeyPatch, caplog) -> None:
    """A full disk loses nothing, and it is said in the log."""

    def full(*_: object) -> int:
        raise OSError(28, "no space left on device")

    monkeypatch.setattr(room.os, "pwrite", full)
    recorder = Recorder()
    left = fill(recorder, 0, 0, MORE * ROOM)
    assert np.array_equal(recorder.rows_from(0, left)[:, 0], 10_000.0 * np.arange(MORE * ROOM))
    assert all(isinstance(block, Block) and not isinstance(block.kept, int) for block in recorder._blocks)
    assert "no space left" in caplog.text


def test_its_file_is_gone_with_it() -> None:
    """No name is left in the folder of temporary files, and no handle stays open."""
    before = len(list(Path("/proc/self/fd").iterdir()))
    recorder = Recorder()
    fill(recorder, 0, 0, MORE * ROOM)
    assert len(list(Path("/proc/self/fd").iterdir())) == before + 1
    del recorder
    assert len(list(Path("/proc/self/fd").iterdir())) == before
