"""Commands: open, close, halt, one button, transmitters' functions, timer contact; edges, never levels."""

from __future__ import annotations

import pytest

TESTED = ["outer beam: passed", "inner beam: passed"]


def test_open_then_close(gate) -> None:
    """A command from rest: guard test, warning, movement, end."""
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.until_state("closed")
    assert gate.story() == [
        (0.01, "open given by open button"),
        (0.21, "outer beam: passed"),
        (0.21, "inner beam: passed"),
        (2.21, "opening: by open button"),
        (9.43, "open"),
        (9.44, "close given by close button"),
        (9.64, "outer beam: passed"),
        (9.64, "inner beam: passed"),
        (11.64, "closing: by close button"),
        (20.63, "closed"),
    ]


def test_one_button_sequence(gate) -> None:
    """One button: open, halt, close, halt, open. From fully open it closes, from shut it opens."""
    for _ in range(5):
        gate.tap("step button")
        gate.run(5.0)
    assert [line for line in gate.plot() if "given" in line] == [
        "open given by step button",
        "halt given by step button",
        "close given by step button",
        "halt given by step button",
        "open given by step button",
    ]


def test_step_at_the_open_stop_closes(gate) -> None:
    """From fully open, one press closes."""
    gate.tap("step button")
    gate.until_state("open")
    gate.tap("step button")
    gate.until_state("closed")


def test_open_reverses_a_closing_gate_at_once(gate) -> None:
    """Opening is the safe way: no guard test and no warning stand between."""
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.run(5.0)
    gate.mark()
    gate.tap("open button")
    gate.until_state("open")
    assert gate.story()[:3] == [
        (0.01, "open given by open button"),
        (0.01, "reversing: open given by open button"),
        (0.31, "opening: by open button"),
    ]


def test_reversal_pauses_between_the_ways(gate) -> None:
    """Interlock: between closing and opening each bridge rests at least as long as the brake is held."""
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.run(5.0)
    gate.mark()
    gate.tap("open button")
    gate.run(1.0)
    reversal = [
        (round((t - gate._began) / 1e6, 2), o.active.duty, o.active.brake) for t, o in gate.trace if t > gate._began
    ]
    assert reversal[:2] == [(0.01, 0.0, True), (0.31, 1.0, False)]


def test_close_while_opening_stops_and_starts_anew(gate) -> None:
    """Closing is a new start from rest: it stops softly, then tests its guards and warns."""
    gate.tap("open button")
    gate.run(5.0)
    gate.mark()
    gate.tap("close button")
    assert (gate.outputs.active.brake, gate.outputs.active.slew_per_s) == (False, 2.5)
    gate.until_state("closed")
    assert gate.plot() == [
        "close given by close button",
        "stopping: close given by close button",
        *TESTED,
        "closing: by close button",
        "closed",
    ]


@pytest.mark.parametrize("moment", [0.05, 1.0, 3.0])
def test_halt_ends_a_start_and_a_movement(gate, moment: float) -> None:
    """The one button halts during guard test, warning and movement."""
    gate.tap("step button")
    gate.run(moment)
    gate.tap("step button")
    gate.run(3.0)
    assert gate.duties == (0.0, 0.0)
    assert gate.message == "halted by step button"
    gate.run(30.0)
    assert gate.duties == (0.0, 0.0)


def test_opposite_commands_together_are_a_halt(gate) -> None:
    """Opening and closing given together: the safe one of the two is neither."""
    gate.tap("open button")
    gate.run(5.0)
    gate.press("open button")
    gate.press("close button")
    gate.run(3.0)
    assert gate.plot()[-2:] == [
        "halt given by opening and closing given together",
        "stopping: halted by opening and closing given together",
    ]


def test_close_against_a_held_open_button_moves_nothing(gate) -> None:
    """A control stuck in opening beats nobody: closing against it is a contradiction, and the gate stays."""
    gate.press("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.run(20.0)
    assert gate.state == "open"


def test_command_held_through_a_halt_is_ignored(gate) -> None:
    """The button that was held when the stop closed again means nothing until it is let go and pressed anew."""
    gate.press("open button")
    gate.run(5.0)
    gate.trip("stop circuit")
    gate.run(1.0)
    gate.clear("stop circuit")
    gate.run(20.0)
    assert gate.duties == (0.0, 0.0)
    assert gate.controller.panel().waits_for == ("open button to be let go",)
    line = next(line for line in gate.controller.panel().inputs if line.name == "open button")
    assert line.meaning == "ignored until it is let go and given again"
    gate.release("open button")
    gate.run(1.0)
    assert gate.duties == (0.0, 0.0)
    gate.tap("open button")
    gate.until_state("open")


def test_command_held_through_a_cleared_guard_is_ignored(gate) -> None:
    """A command refused because of a guard is not kept for later: clearing the guard starts nothing."""
    gate.trip("inner beam")
    gate.press("open button")
    gate.run(2.0)
    assert gate.message == "open refused: inner beam reads open"
    gate.clear("inner beam")
    gate.run(20.0)
    assert gate.state == "closed"


def test_command_given_while_halted_is_refused(gate) -> None:
    """With the stop circuit open every command is refused in words."""
    gate.trip("stop circuit")
    gate.tap("open button")
    assert gate.message == "open refused: the stop circuit reads open"


def test_guard_that_does_not_act_on_opening_lets_it_open(gate) -> None:
    """A reopening beam that reads open keeps the gate from closing, not from opening."""
    gate.trip("outer beam")
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    assert gate.message == "close refused: outer beam reads open"


def test_timer_contact_holds_an_open_gate_open(gate) -> None:
    """Closed, it opens and keeps open; closing is refused; let go, the waiting time begins anew."""
    gate.write({"auto-close": "on", "auto-close after": 5})
    gate.press("timer contact")
    gate.run(60.0)
    assert gate.state == "open, waiting to close"
    gate.tap("close button")
    assert gate.message == "close refused: the timer contact holds the gate open"
    gate.release("timer contact")
    gate.run(4.5)
    assert gate.state == "open, waiting to close"
    gate.until_state("closed")


@pytest.mark.parametrize(
    "contact", ["timer contact", "open button", "step button", "pedestrian button", "key switch"]
)
@pytest.mark.parametrize("loss", ["power", "stop circuit"])
def test_a_level_that_is_there_already_is_no_command(gate, contact: str, loss: str) -> None:
    """A clock's contact or a stuck key, closed through a loss of power or a halt, opens nothing."""
    if loss == "power":
        gate.supply_v = 3.0
        gate.press(contact)
        gate.run(1.0)
        gate.supply_v = 27.0
    else:
        gate.trip(loss)
        gate.press(contact)
        gate.run(1.0)
        gate.clear(loss)
    gate.run(30.0)
    assert gate.state == "closed"
    gate.release(contact)
    gate.run(5.0)
    assert gate.state == "closed"
    gate.press(contact)
    gate.until(gate.opens)


def test_a_level_that_is_there_already_keeps_an_open_gate_open(gate) -> None:
    """Power comes back with the clock's contact closed: an open gate is kept open, and nothing moves."""
    gate.tap("open button")
    gate.until_state("open")
    gate.supply_v = 3.0
    gate.press("timer contact")
    gate.run(1.0)
    gate.supply_v = 27.0
    gate.run(2.0)
    gate.tap("close button")
    assert gate.message == "close refused: the timer contact holds the gate open"
    gate.release("timer contact")
    gate.tap("close button")
    gate.until_state("closed")


def test_the_timer_contact_leaves_a_gate_part_way_where_it_is(gate) -> None:
    """Halted part way with the contact closed: the level moves nothing, neither way."""
    gate.press("timer contact")
    gate.run(5.0)
    gate.tap("step button")
    gate.run(60.0)
    assert gate.state == "part way open"


@pytest.mark.parametrize("contact", ["open button", "step button", "timer contact"])
def test_a_loop_asks_like_any_contact(gate, contact: str) -> None:
    """A loop's detector holds its contact closed while it sees metal: one opening, and no second command of it.

    Wired to the timer contact it also keeps the gate open while a vehicle stands on it.
    """
    gate.write({"auto-close": "on", "auto-close after": 5})
    gate.press(contact)
    gate.until_state("open, waiting to close")
    gate.run(4.0)
    gate.run(10.0)
    assert gate.closes() is (contact != "timer contact")
    gate.release(contact)
    gate.until_state("closed")


@pytest.mark.parametrize("by", ["pedestrian button", "transmitter"])
def test_pedestrian_opening_by_contact_as_by_radio(gate, by: str) -> None:
    """Only the leaf that opens first; the same again from there is 'already open'; closing shuts it."""
    gate.ask("enrol", "Ada", "pedestrian")
    gate.send("one", 2, 5)
    gate.mark()

    def given(counter: int) -> None:
        gate.send("one", 2, counter) if by == "transmitter" else gate.tap(by)

    given(6)
    gate.until_state("open for pedestrians")
    assert gate.positions == (1000, 0)
    given(7)
    assert gate.message == "already open"
    gate.tap("close button")
    gate.run(5.0)
    given(8)
    gate.until_state("open for pedestrians")
    gate.tap("close button")
    gate.until_state("closed")
    assert gate.positions == (0, 0)


def test_pedestrian_and_closing_together_are_a_halt(gate) -> None:
    """An opening is an opening, of one leaf or of two."""
    gate.tap("open button")
    gate.run(5.0)
    gate.press("pedestrian button")
    gate.press("close button")
    gate.run(2.0)
    assert gate.duties == (0.0, 0.0)
    assert "halt given by opening and closing given together" in gate.plot()


def test_pedestrian_opening_moves_the_first_leaf_alone(gate) -> None:
    """Pedestrian: only the leaf that opens first; a whole opening may follow."""
    gate.ask("enrol", "Ada", "pedestrian")
    gate.send("one", 2, 5)
    gate.send("one", 2, 6)
    gate.until_state("open for pedestrians")
    assert gate.positions == (1000, 0)
    gate.tap("open button")
    gate.until_state("open")
    assert gate.positions == (1000, 1000)


def test_open_during_a_pedestrian_opening_opens_both(gate) -> None:
    """A whole opening asked for under way takes the second leaf along, in its order."""
    gate.ask("enrol", "Ada", "pedestrian")
    gate.send("one", 2, 5)
    gate.send("one", 2, 6)
    gate.run(4.0)
    gate.tap("open button")
    gate.until_state("open")
    assert gate.positions == (1000, 1000)


def test_already_there(gate) -> None:
    """A command to be where the gate is moves nothing and says so."""
    gate.tap("close button")
    assert gate.message == "already closed"
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("open button")
    assert gate.message == "already open"
    assert gate.duties == (0.0, 0.0)


def test_close_is_refused_while_a_contact_is_freed(gate) -> None:
    """While the gate opens to free what it touched nobody can send it back; a halt is still heard."""
    gate.write({"active edge": "reopen"})
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.run(5.0)
    gate.trip("active edge")
    gate.run(0.5)
    gate.clear("active edge")
    gate.tap("close button")
    assert gate.plot()[-1] == "close refused: it frees what it touched"
    gate.until_state("open")


def test_halt_while_waiting_to_close(gate) -> None:
    """A transmitter's halt ends the wait: the gate stays open until a new command."""
    gate.write({"auto-close": "on", "auto-close after": 5})
    gate.ask("enrol", "Ada", "halt")
    gate.send("one", 1, 1)
    gate.tap("open button")
    gate.until_state("open, waiting to close")
    gate.send("one", 1, 2)
    gate.run(60.0)
    assert gate.state == "open"
    assert gate.message == "halted by transmitter of Ada: stays open"


def test_other_command_during_the_warning_replaces_the_first(gate) -> None:
    """Pressed open while the lamp warns before a closing: the closing is off, the open gate stays."""
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.run(1.0)
    gate.tap("open button")
    gate.run(20.0)
    assert gate.state == "open"
    gate.mark()
    gate.tap("close button")
    gate.run(1.0)
    assert gate.state == "warning before moving"
