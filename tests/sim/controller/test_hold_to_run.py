"""Wired hold-to-run, both ways: only while it is held, never latched, and what guards do to it. Facts 2.1, 2.2."""

from __future__ import annotations

import pytest

from sim.controller.ports import RadioWord

PAIR = {"open and close buttons": "hold-to-run"}
BUTTONS = ("open button", "close button")
OVERTRAVEL = 5
"""How far a leaf of this small gate runs after it is let go [counts]."""


@pytest.fixture
def gate(gate):
    """A learned gate whose open and close buttons must be held."""
    gate.write(PAIR)
    gate.mark()
    return gate


def half_open(gate):
    gate.press("open button")
    gate.until(lambda: gate.leaves[0].position > 500)
    gate.release("open button")
    gate.run(2.0)
    gate.mark()


def held(gate, control: str, seconds: float = 4.0):
    half_open(gate)
    gate.press(control)
    gate.run(seconds)
    assert gate.opens() or gate.closes()
    gate.mark()


def test_opening_runs_while_it_is_held_and_no_longer(gate) -> None:
    """A start from rest like any other, guard test and warning before it; slow; it ends when it is let go."""
    gate.press("open button")
    gate.run(6.0)
    assert gate.duties == (0.35, 0.35)
    gate.release("open button")
    gate.run(0.01)
    assert gate.duties == (0.0, 0.0)
    gate.run(30.0)
    assert gate.story() == [
        (0.01, "hold-to-run opening given by open button"),
        (0.21, "outer beam: passed"),
        (0.21, "inner beam: passed"),
        (2.21, "hold-to-run opening: by open button"),
        (6.01, "stopping: open button let go"),
    ]


@pytest.mark.parametrize("control", BUTTONS)
def test_let_go_it_stops_within_its_overtravel(gate, control: str) -> None:
    """Released, the drives are let go with the brake at that scan; the leaves go no further than they run on."""
    held(gate, control)
    gate.release(control)
    gate.run(0.01)
    assert gate.duties == (0.0, 0.0)
    assert gate.outputs.active.brake
    assert gate.outputs.inactive.brake
    before = gate.positions
    gate.run(60.0)
    assert all(abs(now - was) <= OVERTRAVEL for was, now in zip(before, gate.positions, strict=True))


@pytest.mark.parametrize("moment", [0.05, 0.15, 1.0, 2.1])
@pytest.mark.parametrize("control", BUTTONS)
def test_let_go_before_it_moves_nothing_moves(gate, control: str, moment: float) -> None:
    """Let go during guard test or warning: the start is off."""
    half_open(gate)
    before = gate.positions
    gate.press(control)
    gate.run(moment)
    gate.release(control)
    gate.run(30.0)
    assert gate.positions == before
    assert gate.message == f"{control} let go"


def test_closing_keeps_the_order_of_the_leaves(gate) -> None:
    """Held to its end it shuts both leaves, the second one home before the first comes into the lap."""
    gate.press("open button")
    gate.until(lambda: gate.message == "the gate is open")
    assert gate.positions == (1000, 1000)
    gate.release("open button")
    gate.run(1.0)
    order = []
    gate.on_step.append(lambda g: order.append(g.positions))
    gate.press("close button")
    gate.until(lambda: gate.message == "the gate is closed")
    assert gate.positions == (0, 0)
    assert all(second == 0 for first, second in order if first < 240)


def test_a_first_leaf_in_the_way_makes_room(gate) -> None:
    """The first leaf is nearly shut, the second is not: the first gives way, then they shut in their order."""
    half_open(gate)
    gate.leaves[0].position = 40.0
    gate.press("close button")
    gate.until(lambda: gate.message == "the gate is closed")
    assert gate.positions == (0, 0)


@pytest.mark.parametrize(("control", "ends"), [("open button", (1000, 1000)), ("close button", (0, 0))])
def test_before_the_travel_is_learned_each_leaf_runs_to_what_stops_it(ready, control: str, ends) -> None:
    """Nothing is known of stops and lap: one leaf after the other, slowly, as long as somebody holds on."""
    ready.write(PAIR)
    ready.press(control)
    if control == "close button":
        ready.run(4.0)
        assert ready.duties == (0.0, -0.35)
    ready.until(lambda: ready.message == "the leaves stand though they are driven")
    assert ready.positions == ends


@pytest.mark.parametrize("control", BUTTONS)
@pytest.mark.parametrize("how", ["stop circuit", "power", "step button"])
def test_held_through_a_halt_or_a_power_return_it_is_ignored(gate, control: str, how: str) -> None:
    """Whatever halted it, the control that is still held means nothing until it is let go and given again."""
    held(gate, control)
    if how == "power":
        gate.supply_v = 3.0
        gate.run(0.5)
        gate.supply_v = 27.0
    elif how == "step button":
        gate.tap(how)
    else:
        gate.trip(how)
        gate.run(0.5)
        gate.clear(how)
    gate.run(0.05)
    before = gate.positions
    gate.run(30.0)
    assert all(abs(now - was) <= OVERTRAVEL for was, now in zip(before, gate.positions, strict=True))
    gate.release(control)
    gate.run(1.0)
    assert gate.duties == (0.0, 0.0)
    gate.press(control)
    gate.run(6.0)
    assert gate.opens() or gate.closes()


@pytest.mark.parametrize(
    ("control", "guard", "reaction"),
    [
        ("close button", "outer beam", "reopen"),
        ("close button", "outer beam", "hold"),
        ("close button", "inner beam", "halt"),
        ("open button", "inner beam", "hold"),
        ("open button", "inner beam", "halt"),
    ],
)
def test_a_guard_stops_it_and_clearing_starts_nothing(gate, control: str, guard: str, reaction: str) -> None:
    """It stops within one scan, doesn't turn round by itself, and goes on only when it is given again."""
    gate.write({guard: reaction})
    held(gate, control)
    gate.trip(guard)
    gate.run(0.01)
    assert gate.duties == (0.0, 0.0)
    gate.run(2.0)
    gate.clear(guard)
    before = gate.positions
    gate.run(30.0)
    assert gate.positions == before
    gate.release(control)
    gate.run(0.1)
    gate.press(control)
    gate.run(4.0)
    assert gate.opens() or gate.closes()


def test_a_reopening_guard_lets_it_open(gate) -> None:
    """A guard that acts on closing alone doesn't act on an opening that is held."""
    gate.trip("outer beam")
    held(gate, "open button")


@pytest.mark.parametrize(
    ("control", "way", "reaction"),
    [("close button", 1, "back off"), ("close button", 1, "reopen"), ("open button", -1, "back off")],
)
def test_an_edge_is_freed_however_it_is_told(gate, control: str, way: int, reaction: str) -> None:
    """Contact under a hand: the leaves go back a little and stand, whatever the hand does meanwhile."""
    gate.write({"active edge": reaction})
    held(gate, control)
    before = gate.positions
    gate.trip("active edge")
    gate.run(0.1)
    gate.release(control)
    gate.run(5.0)
    gate.clear("active edge")
    gate.run(30.0)
    assert gate.plot()[1] == "backing off: active edge reads pressed"
    moved = [way * (now - was) for was, now in zip(before, gate.positions, strict=True)]
    assert max(moved) == pytest.approx(80, abs=6)
    assert min(moved) >= -1


def test_edge_and_stop_in_one_scan_free_the_contact(gate) -> None:
    """The stop halts; what the edge touches is let go first, as on every other movement."""
    held(gate, "close button")
    before = gate.positions
    gate.trip("active edge")
    gate.trip("stop circuit")
    gate.run(3.0)
    assert gate.state == "halted"
    assert max(now - was for was, now in zip(before, gate.positions, strict=True)) >= 15


@pytest.mark.parametrize(("control", "wall"), [("close button", "blocked_below"), ("open button", "blocked_above")])
def test_met_without_an_edge_it_gives_way_too(gate, control: str, wall: str) -> None:
    """A leaf that stands where there is no stop goes back a little, and both stand until it is given again."""
    half_open(gate)
    gate.press(control)
    gate.run(3.5)
    place = gate.leaves[0].position
    setattr(gate.leaves[0], wall, place)
    gate.until(lambda: gate.state == "backing off")
    gate.run(20.0)
    assert gate.rests()
    assert abs(gate.leaves[0].position - place) > 20


def test_a_failed_test_keeps_it_still_unless_the_survey_allows_it(gate) -> None:
    """Facts 2.2: after a device failure hold-to-run only, in sight, if allowed; by default it isn't."""
    half_open(gate)
    gate.deaf.add("outer beam")
    gate.press("open button")
    gate.run(5.0)
    assert gate.duties == (0.0, 0.0)
    assert gate.message == (
        "hold-to-run opening refused: guard test failed: outer beam did not react when its emitter supply was dropped"
    )
    gate.release("open button")
    gate.write({"hold-to-run after a failed test": "allowed"})
    for control in BUTTONS:
        gate.press(control)
        gate.run(5.0)
        assert gate.opens() or gate.closes()
        gate.release(control)
        gate.run(2.0)


def test_no_transmitter_gives_it(gate) -> None:
    """A transmitter's press moves nothing after a failed test, allowed or not; its button can't be given it."""
    gate.write({"hold-to-run after a failed test": "allowed"})
    assert gate.ask("enrol", "Ada", "hold-to-run opening").startswith("refused: ")
    gate.ask("enrol", "Ada", "open")
    gate.send("one", 1, 1)
    gate.deaf.add("outer beam")
    gate._radio.append(RadioWord("one", 1, 2, True))
    gate.run(30.0)
    assert gate.positions == (0, 0)
    assert gate.message.startswith("open refused: guard test failed")


def test_both_held_is_a_halt(gate) -> None:
    """The second button pressed against the first stops the gate; letting one of them go starts nothing."""
    held(gate, "open button")
    gate.press("close button")
    gate.run(0.01)
    assert gate.duties == (0.0, 0.0)
    gate.run(1.0)
    before = gate.positions
    gate.release("open button")
    gate.run(20.0)
    assert gate.positions == before


def test_pressed_against_a_movement_it_stops_that_first(gate) -> None:
    """A gate that opens by itself stops when somebody holds the close button, and then closes while it is held."""
    gate.write({"key switch": "open"})
    gate.tap("key switch")
    gate.run(5.0)
    assert gate.opens()
    gate.press("close button")
    gate.run(1.0)
    assert gate.duties == (0.0, 0.0)
    gate.run(3.0)
    assert gate.closes()
    gate.release("close button")
    gate.run(0.01)
    assert gate.duties == (0.0, 0.0)


def test_let_go_while_the_other_movement_still_stops_it_is_forgotten(gate) -> None:
    """Tapped against a movement it stops it, and nothing follows."""
    gate.tap("key switch")
    gate.run(5.0)
    gate.tap("close button")
    gate.run(30.0)
    assert gate.rests()
    assert not any(min(o.active.duty, o.inactive.duty) < 0 for t, o in gate.trace if t > gate._began)


def test_the_lock_is_freed_first(gate) -> None:
    """Opening from shut pulses the lock as every other opening does."""
    gate.write({"electric lock": "fitted"})
    gate.mark()
    gate.press("open button")
    gate.until(gate.opens)
    pulled = [t for t, o in gate.trace if o.lock and t > gate._began]
    opened = next(t for t, o in gate.trace if o.active.duty > 0 and t > gate._began)
    assert pulled
    assert pulled[0] < opened


@pytest.mark.parametrize(("control", "pulls"), [("open button", True), ("close button", False)])
def test_where_it_stands_nobody_knows_the_lock_is_freed_for_an_opening_only(gate, control: str, pulls: bool) -> None:
    """It may be shut, so an opening frees it; a closing needs no bolt drawn."""
    gate.write({"electric lock": "fitted"})
    state = gate.controller.state()
    gate.controller.restore({**state, "position_known": False})
    gate.mark()
    gate.press(control)
    gate.run(6.0)
    assert any(o.lock for t, o in gate.trace if t > gate._began) is pulls


def test_no_wait_to_close_follows(gate) -> None:
    """A gate opened by hand stays open until a command that isn't held."""
    gate.write({"auto-close": "on", "auto-close after": 5})
    gate.press("open button")
    gate.until(lambda: gate.message == "the gate is open")
    gate.release("open button")
    gate.run(60.0)
    assert gate.state == "open"


def test_a_control_that_is_stuck_runs_no_longer_than_the_limit(gate) -> None:
    """Jammed and slipping, the drive is let go at the run-time limit."""
    gate.leaves[0].travel = gate.leaves[1].travel = 100_000.0
    gate.write({"run-time limit": 20})
    gate.press("open button")
    gate.run(60.0)
    assert gate.duties == (0.0, 0.0)
