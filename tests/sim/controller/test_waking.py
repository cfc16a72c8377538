"""Power that comes and goes: the self-check, the clock, and a brown-out in whatever the gate is doing.

No motion on power return, a safe state after a brown-out: facts 2.3 (no unexpected start; common practice). That a
finding run is slow and of reduced effort: the behaviour table of the design.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from sim.controller import calendar
from sim.controller.machine import State
from sim.controller.motion import RATED_A
from sim.controller.ports import CLOCK_STOPS_V
from tests.sim.controller.test_power import cut

JUNE = calendar.typed("21 June 10:00")


def stray(gate, index: int, amps: float) -> None:
    """A current flows in a motor whatever drives it; 0 for none."""
    read = type(gate).inputs
    currents = (amps, 0.0) if index == 0 else (0.0, amps)
    gate.inputs = lambda: replace(read(gate), motor_a=currents) if amps else read(gate)


# -- the clock


def test_the_log_is_dated_by_the_boards_own_clock(gate) -> None:
    """Set at the panel, it dates what comes; what came before stays as it was stamped."""
    panel = gate.controller.panel()
    assert len(panel.dates) == len(panel.log)
    assert set(panel.dates) == {"clock not set"}
    assert gate.ask("set clock", value="21 June 10:00") == "done: set clock"
    gate.run(60.0)
    gate.trip("outer beam")
    gate.run(0.1)
    panel = gate.controller.panel()
    assert panel.dates[-2:] == ("21 June, 10:00:00", "21 June, 10:01:00")
    assert panel.log[-2][1] == "set clock: 21 June, 10:00:00"
    assert set(panel.dates[:-2]) == {"clock not set"}


def test_what_is_no_time_is_not_set(gate) -> None:
    """The answer says what is allowed."""
    answer = gate.ask("set clock", value="half past ten")
    assert answer.startswith("refused: 'half past ten' is no date and time; type day, month and time")


def test_a_kept_clock_goes_on_without_power(gate) -> None:
    """A loss of a minute is a minute later on the clock."""
    gate.controller.know_time(gate.now, JUNE)
    cut(gate, 60.0)
    assert gate.controller.panel().dates[-1] in ("21 June, 10:01:00", "21 June, 10:01:01")
    assert gate.controller.panel().log[-1][1] == "board: has power again"


def test_a_clock_that_stopped_says_so(gate) -> None:
    """Once its reserve is empty no date is made up; the panel asks for it, and setting it ends that."""
    gate.controller.know_time(gate.now, JUNE)
    gate.clock_v = CLOCK_STOPS_V - 0.1
    cut(gate)
    gate.run(1.0)
    panel = gate.controller.panel()
    assert panel.dates[-1] == "clock not set"
    assert panel.message == "the clock stood still for want of power: set it"
    assert [line.name for line in panel.inputs if "the log has no dates" in line.meaning] == ["board clock"]
    gate.ask("set clock", value="1 January 0:00")
    panel = gate.controller.panel()
    assert panel.dates[-1] == "1 January, 00:00:00"
    assert not [line for line in panel.inputs if line.name == "board clock"]


# -- the self-check


def test_a_current_nobody_asked_for_keeps_the_gate_still(gate) -> None:
    """A motor that draws current though nothing drives it is found at power-up, said, and nothing is started."""
    stray(gate, 1, 2.0)
    cut(gate)
    gate.run(1.0)
    found = "self-check: the inactive leaf's motor draws 2.0 A though nothing drives it"
    assert gate.message == found
    gate.tap("open button")
    gate.run(5.0)
    assert gate.duties == (0.0, 0.0)
    assert gate.message == f"open refused: {found}"
    stray(gate, 1, 0.0)
    gate.tap("open button")
    gate.until_state("open")


def test_a_sheet_that_contradicts_itself_is_found(gate) -> None:
    """A sheet that was left so by somebody else's hand is noticed when power comes."""
    gate.controller.assume({"slow speed": 60.0})
    gate.controller.assume({"run speed": 60.0})
    kept = gate.controller.state()
    kept["sheet"]["run speed"] = 50.0
    gate.controller.restore(kept)
    cut(gate)
    gate.run(1.0)
    assert gate.message == "self-check: the sheet contradicts itself: the slow speed would be above the run speed"
    gate.tap("open button")
    assert gate.message.startswith("open refused: self-check: the sheet contradicts itself")


def test_an_open_gate_stays_open_and_says_so(gate) -> None:
    """Its position was stored at rest: it knows where it is, and waits."""
    gate.tap("open button")
    gate.until_state("open")
    gate.run(1.0)
    cut(gate)
    gate.run(30.0)
    assert (gate.state, gate.message) == ("open", "power is back: it stays open until a new command")
    assert gate.positions == (1000, 1000)


def test_a_finding_run_is_of_reduced_effort(gate) -> None:
    """Slower than a run and weaker than the sheet's effort, until the position is known."""
    gate.tap("open button")
    gate.run(6.0)
    cut(gate)
    gate.run(1.0)
    gate.mark()
    gate.tap("close button")
    gate.until_state("closed")
    driven = [drive for at, o in gate.trace if at > gate._began for drive in (o.active, o.inactive) if drive.duty]
    assert driven
    assert all(drive.limit_a == pytest.approx(0.8 * 0.6 * RATED_A) for drive in driven)
    assert all(abs(drive.duty) <= 0.35 for drive in driven)


# -- a brown-out in any state


def _opening(gate) -> None:
    gate.tap("open button")
    gate.until_state("opening")
    gate.run(3.0)


def _open(gate) -> None:
    gate.tap("open button")
    gate.until_state("open")


def _closing(gate) -> None:
    _open(gate)
    gate.tap("close button")
    gate.until_state("closing")
    gate.run(3.0)


def _testing(gate) -> None:
    gate.press("open button")
    gate.until_state("testing the guards")


def _warning(gate) -> None:
    gate.press("open button")
    gate.until_state("warning before moving")


def _unlocking(gate) -> None:
    gate.write({"electric lock": "fitted"})
    gate.press("open button")
    gate.until_state("freeing the lock")


def _stopping(gate) -> None:
    _opening(gate)
    gate.press("step button")
    gate.until_state("stopping")


def _reversing(gate) -> None:
    _closing(gate)
    gate.trip("outer beam")
    gate.until_state("reversing")


def _held(gate) -> None:
    _closing(gate)
    gate.trip("inner beam")
    gate.until_state("held by a guard")


def _backing_off(gate) -> None:
    _closing(gate)
    gate.trip("active edge")
    gate.until_state("backing off")


def _dwelling(gate) -> None:
    gate.write({"auto-close": "on"})
    gate.tap("open button")
    gate.until_state("open, waiting to close")


def _finding(gate) -> None:
    _opening(gate)
    cut(gate)
    gate.run(1.0)
    gate.press("open button")
    gate.until_state("finding its position")
    gate.run(2.0)


def _learning(gate) -> None:
    gate.ask("learn")
    gate.until_state("travel learning")
    gate.run(5.0)


def _jogging(gate) -> None:
    gate.ask("jog", "active", "open")
    gate.until_state("jog")
    gate.run(1.0)


def _held_closing(gate) -> None:
    gate.tap("open button")
    gate.until_state("open")
    gate.write({"open and close buttons": "hold-to-run"})
    gate.press("close button")
    gate.until_state("hold-to-run closing")
    gate.run(1.0)


def _held_opening(gate) -> None:
    gate.write({"key switch": "hold-to-run open"})
    gate.press("key switch")
    gate.until_state("hold-to-run opening")
    gate.run(1.0)


def _halted(gate) -> None:
    gate.trip("stop circuit")
    gate.run(0.1)


def _rest(gate) -> None:
    gate.run(1.0)


def _checking(gate) -> None:
    cut(gate)
    gate.until_state("self-check")


WAYS_IN = {
    State.SELF_CHECK: _checking,
    State.AT_REST: _rest,
    State.HALTED: _halted,
    State.TESTING: _testing,
    State.WARNING: _warning,
    State.UNLOCKING: _unlocking,
    State.OPENING: _opening,
    State.CLOSING: _closing,
    State.STOPPING: _stopping,
    State.REVERSING: _reversing,
    State.HELD: _held,
    State.BACKING_OFF: _backing_off,
    State.DWELLING: _dwelling,
    State.FINDING: _finding,
    State.LEARNING: _learning,
    State.JOGGING: _jogging,
    State.HELD_OPENING: _held_opening,
    State.HELD_CLOSING: _held_closing,
}


@pytest.mark.parametrize("asked", [True, False], ids=["supply fails under it", "gone at once"])
@pytest.mark.parametrize("state", [state for state in State if state is not State.NO_POWER], ids=lambda s: s.value)
def test_a_brown_out_in_any_state_ends_safely(gate, state: State, asked: bool) -> None:
    """Whatever it did, the drives are let go at once; power that returns moves nothing, however long one waits, and
    nothing that was under way goes on. Then the gate still does as it is told."""
    WAYS_IN[state](gate)
    assert State(gate.controller.state()["state"]) is state
    gate.scans_when_dead = asked
    gate.supply_v = 15.0
    gate.run(0.01)
    out = gate.outputs
    assert (out.active.duty, out.inactive.duty, out.lock, out.lamp) == (0.0, 0.0, False, False)
    gate.run(0.2)
    back, gate.supply_v = gate.now, 27.0
    gate.run(200.0)
    assert not any(o.active.duty or o.inactive.duty or o.lock for at, o in gate.trace if at > back)
    assert gate.rests() or gate.state == "halted"
    gate.tripped.clear()
    gate.pressed.clear()
    gate.run(1.0)
    if gate.controller.panel().travel[0] is not None:
        gate.tap("emergency contact")
        gate.until_shown(lambda shown: shown.state.startswith("open,") or shown.state == "open", 200.0)
        assert gate.positions == (1000, 1000)


def test_every_state_is_tried() -> None:
    """The list above names every state in which there is power."""
    assert set(WAYS_IN) == set(State) - {State.NO_POWER}
