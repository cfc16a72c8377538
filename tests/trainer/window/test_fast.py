"""Time that an act took is shown running fast: the picture catches up, time is held meanwhile."""

from __future__ import annotations

import pytest

from sim.units import SECOND
from trainer.window.canned import CannedSession
from trainer.window.fast import SHOWN_S, Fast


@pytest.fixture
def session() -> CannedSession:
    """A session with some seconds behind it."""
    begun = CannedSession()
    begun.let_pass(3.0)
    return begun


def test_a_small_step_is_drawn_as_it_is(session: CannedSession) -> None:
    """Frames and short acts are not held up."""
    fast = Fast()
    fast.shown(session.observe(), 0.016)
    session.let_pass(1.0)
    view = session.observe()
    assert fast.shown(view, 0.016) is view
    assert not fast.runs


def test_a_long_act_is_run_through(session: CannedSession) -> None:
    """The drawn clock rises from before the act to now, the leaves pass their recorded angles, then it ends."""
    fast = Fast()
    before = fast.shown(session.observe(), 0.016)
    session.let_pass(20.0)
    view = session.observe()
    shown = [fast.shown(view, SHOWN_S / 5) for _ in range(7)]
    clocks = [look.now for look in shown]
    assert clocks == sorted(clocks)
    assert clocks[0] == before.now
    assert clocks[-1] == view.now
    assert shown[-1] is view
    recorded = view.strip.channels["active angle"]
    for look in shown:
        assert min(recorded) - 1e-6 <= look.leaves[0].angle_deg <= max(recorded) + 1e-6
    assert view.now - before.now == pytest.approx(20 * SECOND, abs=SECOND)


def test_the_past_is_not_run_through(session: CannedSession) -> None:
    """Somebody who looks back sees the instant asked for, at once."""
    fast = Fast()
    fast.shown(session.observe(), 0.016)
    session.let_pass(20.0)
    session.look_at(session.observe().now - 5 * SECOND)
    view = session.observe()
    assert fast.shown(view, 0.016) is view
