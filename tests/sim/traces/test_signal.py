"""Traces as data: columns that fit, changes only, blocks put together."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.traces.digest import trace_digest
from sim.traces.signal import Changes, Signal, Trace

STEPS = st.lists(st.tuples(st.integers(0, 50), st.sampled_from(["open", "shut", "half"]))).map(
    lambda steps: sorted(steps, key=lambda s: s[0])
)


@given(steps=STEPS, at=st.integers(-1, 60))
def test_only_changes_are_kept_and_none_is_lost(steps: list[tuple[int, str]], at: int) -> None:
    """No value stands twice in a row; the value at any instant is that of the last step up to it."""
    changes = Changes.of("leaf", steps)
    assert all(a[1] != b[1] for a, b in zip(changes.steps, changes.steps[1:], strict=False))
    assert changes.at(at, before="?") == next((v for t, v in reversed(steps) if t <= at), "?")


def test_a_trace_that_does_not_fit_together_is_refused() -> None:
    """Unequal columns, instants that stand or go back, a name twice: ValueError naming it."""
    times = np.array([0, 10], dtype=np.int64)
    with pytest.raises(ValueError, match="'current' has 3 values for 2 instants"):
        Trace(times, (Signal("current", "A", np.zeros(3)),))
    with pytest.raises(ValueError, match="instants of a trace rise"):
        Trace(np.array([0, 0], dtype=np.int64), ())
    with pytest.raises(ValueError, match="not twice 'current'"):
        Trace(times, (Signal("current", "A", np.zeros(2)),), (Changes.of("current", []),))
    with pytest.raises(ValueError, match="'leaf' goes back from 5 to 4"):
        Changes.of("leaf", [(5, "open"), (4, "shut")])


def test_a_wrong_name_lists_the_right_ones(taken: Trace) -> None:
    """Asking for a signal that isn't there says which are."""
    with pytest.raises(KeyError, match="active leaf angle, any guard tripped"):
        taken["angle"]
    with pytest.raises(KeyError, match="controller state, outer beam"):
        taken.steps("angle")


def part(taken: Trace, start: int, end: int) -> Trace:
    """A block of a trace: the instants in [start, end) [µs]."""
    rows = slice(*np.searchsorted(taken.time_us, [start, end]))
    return Trace(
        taken.time_us[rows],
        tuple(Signal(s.name, s.unit, s.values[rows]) for s in taken.signals),
        tuple(Changes.of(c.name, [(t, v) for t, v in c.steps if start <= t < end]) for c in taken.changes),
    )


@given(cuts=st.lists(st.integers(0, 6_000_000), max_size=5))
def test_blocks_make_the_whole_whatever_their_size(taken: Trace, cuts: list[int]) -> None:
    """Cut anywhere and put together again, a trace has the digest it had."""
    edges = [0, *sorted(cuts), 7_000_000]
    blocks = [part(taken, a, b) for a, b in itertools.pairwise(edges)]
    whole = blocks[0]
    for block in blocks[1:]:
        whole = whole.followed_by(block)
    assert trace_digest(whole) == trace_digest(taken)


def test_blocks_that_do_not_follow_are_refused(taken: Trace) -> None:
    """A block of other signals, or one that begins too early."""
    with pytest.raises(ValueError, match="can't follow"):
        taken.followed_by(Trace(taken.time_us + 10**8, taken.signals[:1], taken.changes))
    with pytest.raises(ValueError, match="can't follow"):
        taken.followed_by(Trace(taken.time_us + 10**8, taken.signals, ()))
    with pytest.raises(ValueError, match="'controller state' goes back from 3000000 to 0"):
        taken.followed_by(taken)
    bare = Trace(taken.time_us, taken.signals)
    with pytest.raises(ValueError, match="instants of a trace rise"):
        bare.followed_by(bare)
