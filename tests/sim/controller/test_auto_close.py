"""Closing by itself: after a dwell, restarted by a guard, never after a halt, never without its conditions."""

from __future__ import annotations

import pytest


@pytest.fixture
def gate(gate):
    """A learned gate that closes by itself ten seconds after it opened."""
    gate.write({"auto-close": "on", "auto-close after": 10})
    gate.mark()
    return gate


def opened(gate):
    gate.tap("open button")
    gate.until_state("open, waiting to close")
    gate.mark()


def test_closes_after_its_dwell(gate) -> None:
    """Dwell, guard test, warning, closing."""
    opened(gate)
    gate.until_state("closed")
    assert gate.story() == [
        (10.2, "outer beam: passed"),
        (10.2, "inner beam: passed"),
        (12.2, "closing: by auto-close"),
        (21.19, "closed"),
    ]


def test_guard_restarts_the_dwell(gate) -> None:
    """While somebody stands in the beam the gate waits; after that it waits the whole time again."""
    opened(gate)
    gate.run(8.0)
    gate.trip("outer beam")
    gate.run(30.0)
    assert gate.controller.panel().waits_for == ("outer beam to read clear", "the way to be clear")
    gate.clear("outer beam")
    gate.until(gate.closes)
    assert gate.story()[-1] == (50.21, "closing: by auto-close")


def test_guard_during_the_warning_restarts_the_dwell(gate) -> None:
    """Tripped while the lamp warns: no closing, the dwell begins again when it is clear."""
    opened(gate)
    gate.run(11.0)
    gate.trip("outer beam")
    gate.run(1.0)
    gate.clear("outer beam")
    assert gate.state == "open, waiting to close"
    gate.until_state("closed")


def test_shorter_after_a_passage(gate) -> None:
    """When set, a passed beam shortens the wait."""
    gate.write({"auto-close after a passage": 3})
    opened(gate)
    gate.run(1.0)
    gate.trip("outer beam")
    gate.run(1.0)
    gate.clear("outer beam")
    gate.until(gate.closes)
    assert gate.story()[-1] == (7.21, "closing: by auto-close")


def test_opening_command_restarts_the_dwell(gate) -> None:
    """Whoever presses open again gets the whole time again."""
    opened(gate)
    gate.run(8.0)
    gate.tap("open button")
    gate.run(8.0)
    assert gate.state == "open, waiting to close"
    gate.until_state("closed")


@pytest.mark.parametrize("how", ["stop circuit", "step button"])
def test_never_after_a_halt(gate, how: str) -> None:
    """A halt cancels auto-close until a new command, by whatever means it was halted."""
    gate.tap("open button")
    gate.run(6.0)
    if how == "stop circuit":
        gate.trip(how)
        gate.run(0.5)
        gate.clear(how)
    else:
        gate.tap(how)
    gate.run(300.0)
    assert gate.state == "part way open"


def test_never_after_power_came_back(gate) -> None:
    """An open gate that lost power stays open until somebody gives a command."""
    opened(gate)
    gate.run(1.0)
    gate.supply_v = 1.0
    gate.run(1.0)
    gate.supply_v = 27.0
    gate.run(300.0)
    assert gate.state == "open"


def test_reopened_gate_dwells_again(gate) -> None:
    """After a reopening by a beam the gate dwells and closes again, as often as people pass."""
    opened(gate)
    for _ in range(4):
        gate.until(gate.closes)
        gate.run(2.0)
        gate.trip("outer beam")
        gate.run(0.5)
        gate.clear("outer beam")
        gate.until_state("open, waiting to close")
    gate.until_state("closed")


def test_off_while_waiting(gate) -> None:
    """Switched off while it waits, the gate stays open."""
    opened(gate)
    gate.write({"auto-close": "off"})
    gate.run(60.0)
    assert gate.state == "open"


def test_switching_it_on_starts_nothing(gate) -> None:
    """A setting is no command: an open gate on which auto-close is switched on waits for the next command."""
    gate.write({"auto-close": "off"})
    gate.tap("open button")
    gate.until_state("open")
    gate.write({"auto-close": "on"})
    gate.run(60.0)
    assert gate.state == "open"


def test_pedestrian_opening_dwells_too(gate) -> None:
    """After a pedestrian opening the one leaf closes by itself."""
    gate.ask("enrol", "Ada", "pedestrian")
    gate.send("one", 1, 1)
    gate.send("one", 1, 2)
    gate.until_state("open, waiting to close")
    assert gate.positions == (1000, 0)
    gate.until_state("closed")


def test_edge_that_backs_off_waits_for_a_command(gate) -> None:
    """A back-off halts: auto-close does not go on after contact."""
    opened(gate)
    gate.until(gate.closes)
    gate.run(2.0)
    gate.trip("active edge")
    gate.run(1.0)
    gate.clear("active edge")
    gate.run(120.0)
    assert gate.state == "part way open"
