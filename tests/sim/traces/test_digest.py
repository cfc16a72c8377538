"""The fingerprint of a trace: nothing may change unseen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from sim.traces.digest import trace_digest
from sim.traces.signal import Changes, Signal, Trace


def with_value(taken: Trace, row: int, value: float) -> Trace:
    """The trace with one value of its first signal replaced."""
    values = taken.signals[0].values.copy()
    values[row] = value
    return replace(taken, signals=(replace(taken.signals[0], values=values), *taken.signals[1:]))


@pytest.mark.parametrize(
    "changed",
    [
        lambda t: with_value(t, 1, np.nextafter(0.1, 1.0)),
        lambda t: with_value(t, 0, -0.0),
        lambda t: replace(t, time_us=t.time_us + 1),
        lambda t: replace(t, signals=t.signals[::-1]),
        lambda t: replace(t, signals=t.signals[:1]),
        lambda t: replace(t, signals=(replace(t.signals[0], unit="rad"), t.signals[1])),
        lambda t: replace(t, signals=(replace(t.signals[0], name="active leaf angl"), t.signals[1])),
        lambda t: replace(t, changes=t.changes[:1]),
        lambda t: replace(
            t, changes=(t.changes[0], Changes.of("outer beam", [*t.changes[1].steps[:2], (2_500_001, "clear")]))
        ),
        lambda t: replace(t, changes=(Changes.of("controller state", [(1, "closed")]), t.changes[1])),
    ],
)
def test_the_smallest_change_is_seen(taken: Trace, changed: Callable[[Trace], Trace]) -> None:
    """One bit of one value, a sign of zero, a microsecond, a name, a unit, an order: another digest."""
    assert trace_digest(changed(taken)) != trace_digest(taken)


def test_equal_traces_have_equal_digests(taken: Trace) -> None:
    """The digest depends on values, not on memory: strided columns and copies give the same."""
    wide = np.zeros((len(taken.time_us), 2))
    wide[:, 1] = taken.signals[0].values
    other = replace(taken, signals=(replace(taken.signals[0], values=wide[:, 1]), *taken.signals[1:]))
    assert trace_digest(other) == trace_digest(taken)
    assert len(trace_digest(taken)) == 32


def test_parts_can_not_run_into_each_other() -> None:
    """Moving a letter from a name into a unit is another trace."""
    times = np.array([0], dtype=np.int64)
    one = Trace(times, (Signal("ab", "c", np.zeros(1)),))
    two = Trace(times, (Signal("a", "bc", np.zeros(1)),))
    assert trace_digest(one) != trace_digest(two)
