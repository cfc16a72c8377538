"""Law 8: whatever a power cut does to unsynced bytes and names, nothing acknowledged is lost."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.errors import JournalError
from sim.units import Us
from trainer.session.journal import FILE, Header, Journal
from trainer.session.lines import Line

FOLDER = Path("session")
HEADER = Header("0.1.0", "1", 7, "practice", "first-run", "a1", "b2", "reference", "c3", {"name": "a yard"})


def life(disk: Any, died: type[Exception], wanted: int, acknowledged: list[Line]) -> bool:
    """Create or open the journal and write until the power goes; True if it went.

    `acknowledged` grows by what `append` returned; what was acknowledged before must be there.
    """
    try:
        try:
            journal = Journal.open(FOLDER, disk)
        except JournalError:
            assert disk.read(FOLDER / FILE) is None, "a journal that is there can't be opened"
            assert not acknowledged, "a journal that had acknowledged lines is gone"
            journal = Journal.create(FOLDER, HEADER, disk)
        found = list(journal.entries())
        assert found[: len(acknowledged)] == acknowledged
        assert len(found) <= len(acknowledged) + 1, "more than the one write under way came back"
        acknowledged[:] = found
        for _ in range(wanted):
            acknowledged.append(journal.act(Us(len(acknowledged)), "note", {"text": "é" * (len(acknowledged) % 5)}))
    except died:
        return True
    return False


CUT = st.tuples(st.integers(0, 900), st.integers(0, 400), st.booleans(), st.booleans())
"""(ticks until the cut, unsynced bytes that survive, the lost ones read as zeros, unsynced names survive)."""


@settings(max_examples=300, deadline=None)
@given(lives=st.lists(CUT, min_size=1, max_size=6))
def test_no_cut_loses_an_acknowledged_line(
    lives: list[tuple[int, int, bool, bool]], cutting_disk: Any, power_cut: Any
) -> None:
    """Any number of cuts in a row, each at any byte: every acknowledged line is there, in place, unchanged."""
    disk = cutting_disk()
    acknowledged: list[Line] = []
    for ticks, kept, zeros, names in lives:
        disk.ticks = ticks
        if life(disk, power_cut, 6, acknowledged):
            disk = disk.after_the_cut(lambda n, kept=kept: min(n, kept), zeros, names, 10**9)
    disk.ticks = 10**9
    assert not life(disk, power_cut, 2, acknowledged)


@pytest.mark.parametrize("zeros", [False, True])
@pytest.mark.parametrize("names", [False, True])
@pytest.mark.parametrize("kept", [0, 1, 10**6])
def test_every_single_byte(zeros: bool, names: bool, kept: int, cutting_disk: Any, power_cut: Any) -> None:
    """One journal with three acts, cut at every tick there is from creation to close."""
    went = True
    ticks = 0
    while went:
        disk, acknowledged = cutting_disk(ticks), []
        went = life(disk, power_cut, 3, acknowledged)
        after = disk.after_the_cut(lambda n: min(n, kept), zeros, names, 10**9)
        assert not life(after, power_cut, 1, acknowledged)
        ticks += 1
    assert ticks > 500, "the cut never reached the lines"


def test_a_disk_that_lies_about_syncing_is_noticed(cutting_disk: Any, power_cut: Any) -> None:
    """The same play on a disk whose sync does nothing loses acknowledged lines: this test can fail."""
    disk = cutting_disk(honest=False)
    acknowledged: list[Line] = []
    life(disk, power_cut, 3, acknowledged)
    after = disk.after_the_cut(lambda _n: 0, False, False, 10**9)
    with pytest.raises(AssertionError, match="had acknowledged lines is gone"):
        life(after, power_cut, 1, acknowledged)
