"""Emergency access: it opens from whatever the gate does and stays open until a new command; guards still act."""

from __future__ import annotations

import pytest

EMERGENCY = "emergency contact"


@pytest.fixture
def gate(gate):
    """A learned gate that would close by itself after five seconds."""
    gate.write({"auto-close": "on", "auto-close after": 5})
    gate.mark()
    return gate


def opened(gate) -> None:
    gate.tap("open button")
    gate.until_state("open, waiting to close")


def stays_open(gate) -> None:
    gate.until_state("open")
    gate.run(40.0)
    assert gate.state == "open"
    assert gate.positions == (1000, 1000)


def nothing(gate) -> None:
    """It stands shut."""


def waits_to_close(gate) -> None:
    opened(gate)


def closes(gate) -> None:
    opened(gate)
    gate.until(gate.closes)
    gate.run(3.0)


def opens_already(gate) -> None:
    gate.tap("open button")
    gate.run(4.0)


def opens_for_pedestrians(gate) -> None:
    gate.tap("pedestrian button")
    gate.run(4.0)


def stands_open_for_pedestrians(gate) -> None:
    gate.tap("pedestrian button")
    gate.until_state("open, waiting to close")


def warns_before_closing(gate) -> None:
    opened(gate)
    gate.tap("close button")
    gate.run(1.0)


def warns_before_opening_for_pedestrians(gate) -> None:
    gate.tap("pedestrian button")
    gate.run(1.0)


def stops(gate) -> None:
    gate.tap("open button")
    gate.run(5.0)
    gate.tap("step button")


def reverses(gate) -> None:
    closes(gate)
    gate.trip("outer beam")
    gate.run(0.1)
    gate.clear("outer beam")


def is_held_open_halfway(gate) -> None:
    gate.tap("open button")
    gate.run(5.0)
    gate.trip("inner beam")
    gate.run(1.0)
    gate.press(EMERGENCY)
    gate.run(1.0)
    gate.clear("inner beam")


def is_held_after_closing(gate) -> None:
    closes(gate)
    gate.trip("inner beam")
    gate.run(1.0)
    gate.press(EMERGENCY)
    gate.run(1.0)
    gate.clear("inner beam")


def backs_off(gate) -> None:
    closes(gate)
    gate.trip("active edge")
    gate.run(0.1)
    gate.clear("active edge")


def does_not_know_its_position(gate) -> None:
    gate.tap("open button")
    gate.run(5.0)
    gate.supply_v = 3.0
    gate.run(0.5)
    gate.supply_v = 27.0
    gate.run(2.0)


def finds_its_position_to_close(gate) -> None:
    does_not_know_its_position(gate)
    gate.tap("close button")
    gate.run(4.0)
    assert gate.state == "finding its position"


@pytest.mark.parametrize(
    "meanwhile",
    [
        nothing,
        waits_to_close,
        closes,
        opens_already,
        opens_for_pedestrians,
        stands_open_for_pedestrians,
        warns_before_closing,
        warns_before_opening_for_pedestrians,
        stops,
        reverses,
        is_held_open_halfway,
        is_held_after_closing,
        backs_off,
        does_not_know_its_position,
        finds_its_position_to_close,
    ],
)
@pytest.mark.parametrize("kept", [True, False])
def test_it_opens_wholly_from_whatever_the_gate_does_and_stays_open(gate, meanwhile, kept: bool) -> None:
    """Set for a moment or left set, with auto-close on: both leaves open and stay so."""
    meanwhile(gate)
    gate.press(EMERGENCY)
    gate.run(0.1)
    if not kept:
        gate.release(EMERGENCY)
    stays_open(gate)


@pytest.mark.parametrize("control", ["open button", "close button"])
def test_it_opens_from_under_a_hold_to_run(gate, control: str) -> None:
    """Somebody holds a button: the gate stops, and opens by itself, and the button means nothing any more."""
    gate.write({"open and close buttons": "hold-to-run"})
    gate.press("open button")
    gate.run(6.0)
    if control == "close button":
        gate.release("open button")
        gate.run(1.0)
        gate.press("close button")
        gate.run(4.0)
    gate.press(EMERGENCY)
    stays_open(gate)


def test_while_it_is_set_nobody_closes(gate) -> None:
    """Set, every closing is refused in words; the panel says what keeps the gate open."""
    gate.press(EMERGENCY)
    gate.until_state("open")
    gate.tap("close button")
    assert gate.message == "close refused: the emergency contact holds the gate open"
    gate.tap("step button")
    gate.run(30.0)
    assert gate.state == "open"
    line = next(each for each in gate.controller.panel().inputs if each.name == EMERGENCY)
    assert (line.meaning, line.blocks) == ("keeps an open gate open", True)


@pytest.mark.parametrize(("command", "ends"), [("close button", "closed"), ("open button", "open, waiting to close")])
def test_a_new_command_ends_it(gate, command: str, ends: str) -> None:
    """Set back it stays open; a new command is obeyed, and from then on auto-close counts again."""
    gate.press(EMERGENCY)
    gate.until_state("open")
    gate.release(EMERGENCY)
    gate.run(60.0)
    gate.tap(command)
    gate.until_state(ends)
    gate.until_state("closed")


def test_a_guard_that_acts_on_opening_still_acts(gate) -> None:
    """A blocked beam behind the gate keeps it still: nobody is swept away by an emergency opening."""
    gate.trip("inner beam")
    gate.press(EMERGENCY)
    gate.run(10.0)
    assert gate.positions == (0, 0)
    assert gate.message == "emergency opening refused: inner beam reads open"


def test_a_guard_holds_it_under_way_and_it_goes_on(gate) -> None:
    """Held under way it resumes after the warning, as every opening does, and stays open after it."""
    gate.press(EMERGENCY)
    gate.run(6.0)
    gate.trip("inner beam")
    gate.run(2.0)
    assert gate.state == "held by a guard"
    gate.clear("inner beam")
    stays_open(gate)


@pytest.mark.parametrize("how", ["stop circuit", "power"])
def test_set_through_a_halt_or_a_power_return_it_opens_nothing(gate, how: str) -> None:
    """A level that is there already is no command until it was set back and given again."""
    if how == "stop circuit":
        gate.trip(how)
        gate.press(EMERGENCY)
        gate.run(1.0)
        gate.clear(how)
    else:
        gate.supply_v = 3.0
        gate.press(EMERGENCY)
        gate.run(1.0)
        gate.supply_v = 27.0
    gate.run(20.0)
    assert gate.state == "closed"
    assert gate.controller.panel().waits_for == ("emergency contact to be let go",)
    gate.release(EMERGENCY)
    gate.run(1.0)
    gate.press(EMERGENCY)
    stays_open(gate)


def test_a_failed_test_keeps_it_shut(gate) -> None:
    """After a failed guard test nothing moves but wired hold-to-run: an emergency opening neither."""
    gate.deaf.add("inner beam")
    gate.press(EMERGENCY)
    gate.run(10.0)
    assert gate.positions == (0, 0)


def test_somebody_who_jogs_is_not_overruled(gate) -> None:
    """He stands at the leaf with a hand on it; the contact is refused in words."""
    gate.ask("jog", "active", "open")
    gate.run(1.0)
    gate.press(EMERGENCY)
    gate.run(1.0)
    assert gate.state == "jog"
    assert gate.plot()[-1] == "emergency opening refused: jog"


def test_it_ends_a_learning(gate) -> None:
    """Like every command; nothing is kept of it."""
    gate.ask("learn")
    gate.run(20.0)
    gate.press(EMERGENCY)
    gate.run(5.0)
    assert gate.duties == (0.0, 0.0)
    assert "nothing is kept: emergency opening given" in gate.message


def test_given_with_a_closing_it_wins(gate) -> None:
    """Both in one scan, or set while a close button is stuck: it opens."""
    gate.press("close button")
    gate.press(EMERGENCY)
    stays_open(gate)
