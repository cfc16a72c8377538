"""Nothing is left pressed: whatever else trips, a leaf that touched something goes back as far as frees it.

Common practice; design of the gate: after contact the residual force falls even if a halt comes meanwhile.
"""

from __future__ import annotations

import pytest

FREE = 15
"""A leaf that went back this far presses on nothing any more [counts]; the product takes 2 % of a travel of 1000."""


def closing(gate, seconds: float = 6.0):
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.run(seconds)
    assert gate.closes()
    gate.mark()


@pytest.mark.parametrize("reaction", ["halt", "hold", "reopen"])
@pytest.mark.parametrize("edge", ["back off", "reopen"])
@pytest.mark.parametrize("after", [0.0, 0.05, 0.25, 0.32])
def test_a_guard_that_trips_with_an_edge_leaves_nothing_pressed(gate, reaction: str, edge: str, after: float) -> None:
    """A beam that halts or holds, in the scan of the contact or shortly after it: the leaf is freed all the same."""
    gate.write({"active edge": edge, "inner beam": reaction})
    closing(gate)
    pressed_at = gate.positions[0]
    gate.trip("active edge")
    if after:
        gate.run(after)
    gate.trip("inner beam")
    gate.run(5.0)
    assert gate.positions[0] - pressed_at >= FREE


@pytest.mark.parametrize("reaction", ["halt", "hold"])
def test_met_without_an_edge_it_is_freed_too(gate, reaction: str) -> None:
    """An obstacle noticed by effort alone, and a beam that trips while the leaves stand before they reverse."""
    gate.write({"inner beam": reaction})
    closing(gate, 4.0)
    gate.leaves[0].blocked_below = gate.leaves[0].position - 40.0
    gate.until_state("reversing")
    pressed_at = gate.positions[0]
    gate.trip("inner beam")
    gate.run(5.0)
    assert gate.positions[0] - pressed_at >= FREE
    gate.clear("inner beam")
    gate.run(60.0)
    assert gate.rests()


def test_an_opening_edge_and_a_beam_that_halts(gate) -> None:
    """Opening against somebody: the leaf closes a little, though a beam that halts trips in the same scan."""
    gate.write({"outer beam": "halt", "inner beam": "not fitted"})
    gate.tap("open button")
    gate.run(6.0)
    pressed_at = gate.positions[0]
    gate.trip("active edge")
    gate.run(5.0)
    assert pressed_at - gate.positions[0] >= FREE


@pytest.mark.parametrize("how", ["edge", "beam", "back off"])
def test_a_way_back_from_shut_drives_the_lock_and_waits_for_nothing(gate, how: str) -> None:
    """At the closed stop the bolt may have fallen: the lock is driven beside the reversal, which begins at once."""
    gate.write({"electric lock": "fitted", "active edge": "back off" if how == "back off" else "reopen"})
    closing(gate, 3.0)
    gate.until(lambda: gate.positions[0] <= 5 and gate.closes())
    gate.mark()
    gate.trip("outer beam" if how == "beam" else "active edge")
    gate.run(0.5)
    first = next(t for t, o in gate.trace if t > gate._began and o.active.duty > 0)
    pulled = next(t for t, o in gate.trace if t > gate._began and o.lock)
    assert (first - gate._began) / 1e6 <= 0.35
    assert pulled <= first


@pytest.mark.parametrize("push", [0.0, 0.3, 1.0])
@pytest.mark.parametrize("control", ["open button", "step button"])
def test_the_pulse_is_counted_from_the_opening_itself(gate, control: str, push: float) -> None:
    """Whatever time the relief push took, the leaf that then opens has the whole pulse to leave the bolt."""
    gate.write({"electric lock": "fitted", "lock pulse": 1.5, "relief push": push})
    gate.write({"open and close buttons": "hold-to-run"})
    gate.mark()
    gate.press(control)
    gate.until(gate.opens)
    opened = gate.now
    gate.until(lambda: not gate.outputs.lock)
    assert (gate.now - opened) / 1e6 == pytest.approx(1.5, abs=0.02)
    pushed = [t for t, o in gate.trace if t > gate._began and o.active.duty < 0]
    pulled = next(t for t, o in gate.trace if t > gate._began and o.lock)
    assert all(pulled <= t < opened for t in pushed)
    assert bool(pushed) is (push > 0.0)


def test_let_go_while_the_lock_is_freed_nothing_stays_driven(gate) -> None:
    """A start that is given up has no opening to count a pulse from."""
    gate.write({"electric lock": "fitted", "relief push": 1.0, "open and close buttons": "hold-to-run"})
    gate.press("open button")
    gate.until_state("freeing the lock")
    assert gate.outputs.lock
    gate.release("open button")
    gate.run(0.02)
    assert not gate.outputs.lock


def test_a_reversal_from_the_middle_leaves_the_lock_alone(gate) -> None:
    """Only behind the bolt is there anything to free."""
    gate.write({"electric lock": "fitted"})
    closing(gate, 5.0)
    gate.trip("outer beam")
    gate.run(5.0)
    assert not any(o.lock for t, o in gate.trace if t > gate._began)


@pytest.mark.parametrize("soft_start", [0.3, 3.0])
def test_the_way_back_from_a_contact_has_no_soft_start(gate, soft_start: float) -> None:
    """However softly it starts otherwise: what presses is let go as fast as the drive turns round. Facts 1.2."""
    gate.write({"soft start": soft_start})
    closing(gate)
    gate.leaves[0].blocked_below = gate.leaves[0].position - 50.0
    gate.until(gate.opens)
    back = gate.outputs.active
    assert back.duty / back.slew_per_s == pytest.approx(0.1)


def test_the_way_back_from_an_edge_has_no_soft_start(gate) -> None:
    """A back-off, which frees as well, begins as fast."""
    gate.write({"active edge": "back off"})
    closing(gate)
    gate.trip("active edge")
    gate.until(gate.opens)
    back = gate.outputs.active
    assert back.duty / back.slew_per_s == pytest.approx(0.1)


def test_once_the_load_is_off_a_stop_stops_at_once(gate) -> None:
    """Far enough from what it touched the reopening is an opening like any other: the stop waits for nothing."""
    gate.write({"active edge": "reopen"})
    closing(gate)
    gate.trip("active edge")
    gate.run(0.1)
    gate.clear("active edge")
    gate.until(gate.opens)
    began = gate.positions
    gate.until(lambda: all(now - was >= 80 for was, now in zip(began, gate.positions, strict=True)))
    assert gate.state == "opening"
    gate.trip("stop circuit")
    gate.run(0.02)
    assert gate.duties == (0.0, 0.0)
    assert gate.state in ("stopping", "halted")


def test_a_stop_once_it_is_free_waits_for_no_leaf_that_has_not_begun(gate) -> None:
    """The second leaf stands shut and waits for its lead; the first has gone back far enough: all stands at once."""
    gate.write({"active edge": "reopen"})
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.until(lambda: gate.positions[1] == 0 and gate.positions[0] < 40)
    gate.trip("active edge")
    gate.until(gate.opens)
    gate.clear("active edge")
    began = gate.positions[0]
    gate.until(lambda: gate.positions[0] - began > FREE)
    assert (gate.state, gate.duties[1]) == ("opening", 0.0)
    gate.trip("stop circuit")
    gate.mark()
    gate.run(3.0)
    assert not any(o.active.duty or o.inactive.duty for t, o in gate.trace if t > gate._began)
    assert gate.state == "halted"
