"""The yardstick itself opens and closes: a loop that does nothing would be easy to beat or impossible."""

from __future__ import annotations

from types import ModuleType

import pytest

pytestmark = pytest.mark.benchmark


def test_the_naive_gate_goes_through_a_whole_cycle(naive: ModuleType) -> None:
    """It opens, waits and closes; both leaves end at their closed stops after having been at the open ones."""
    opened = naive.run(30.0, dwell=10.0)
    assert [state for _, state in opened.log] == ["opening", "open"]
    assert all(leaf.angle > naive.OPEN_STOP - 0.02 for leaf in opened.leaves)
    closed = naive.run(75.0, dwell=10.0)
    assert [state for _, state in closed.log] == ["opening", "open", "closing", "resting"]
    assert all(abs(leaf.angle) < 0.02 for leaf in closed.leaves)
