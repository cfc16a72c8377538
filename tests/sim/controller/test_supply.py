"""Running on the battery: known by the takeover relay's contact, judged low under load, and what the sheet has it do.

What a low battery is: alarm at 23 V under load, facts 5.2 (common practice). That nothing starts for want of power
unless the sheet says so: facts 2.3, no unexpected start.
"""

from __future__ import annotations

import pytest

from sim.controller.supply import CONFIRM_S


def lose_supply(gate, volts: float = 24.6) -> None:
    """The power supply gives nothing any more: the battery takes over without a gap."""
    gate.on_battery, gate.supply_v = True, volts
    gate.run(0.02)


def run_low(gate) -> None:
    """The battery is low, and stays so until it is known."""
    gate.supply_v = 22.5
    gate.run(CONFIRM_S + 0.1)


def moves(gate) -> bool:
    """Whether anything was driven since the mark."""
    return any(o.active.duty or o.inactive.duty for at, o in gate.trace if at > gate._began)


def line(gate):
    """What the panel says of the board's supply, None while the power supply feeds it."""
    return next((each for each in gate.controller.panel().inputs if each.name == "board supply"), None)


def test_the_panel_says_what_feeds_the_board(gate) -> None:
    """On the battery it says so with its voltage; back on the power supply there is nothing to say."""
    assert line(gate) is None
    lose_supply(gate)
    assert gate.message == "the board runs on its battery"
    assert (line(gate).reads, line(gate).meaning) == ("from the battery (24.6 V)", "on battery: as usual")
    assert not line(gate).blocks
    gate.on_battery, gate.supply_v = False, 27.3
    gate.run(0.02)
    assert line(gate) is None
    assert gate.plot() == ["board: runs on its battery", "board: runs on its power supply again"]


def test_nothing_starts_by_default(gate) -> None:
    """Left as it comes, the sheet lets nothing move when the battery takes over, is low, or the supply is back."""
    gate.tap("open button")
    gate.until_state("open")
    gate.mark()
    lose_supply(gate)
    gate.run(30.0)
    run_low(gate)
    gate.run(30.0)
    gate.on_battery, gate.supply_v = False, 27.3
    gate.run(60.0)
    assert not moves(gate)
    assert gate.state == "open"


def test_a_low_battery_opens_but_does_not_close(gate) -> None:
    """By default nobody is shut in for want of power: closing is refused, and the panel says so."""
    gate.tap("open button")
    gate.until_state("open")
    lose_supply(gate)
    run_low(gate)
    assert gate.message == "the battery is low (22.5 V)"
    gate.tap("close button")
    assert gate.message == "close refused: the battery is low: the gate opens only"
    assert gate.state == "open"
    waits = gate.controller.panel().waits_for
    assert "the power supply to feed the board again: the battery is low: the gate opens only" in waits
    gate.on_battery, gate.supply_v = False, 27.3
    gate.run(0.1)
    gate.tap("close button")
    gate.until_state("closed")


def test_a_shut_gate_still_opens_on_a_low_battery(gate) -> None:
    """Opening goes on; learning, which closes too, does not."""
    lose_supply(gate)
    run_low(gate)
    assert gate.ask("learn") == "refused: the battery is low: the gate closes no leaf"
    gate.tap("open button")
    gate.until_state("open")


def test_a_dip_is_no_low_battery(gate) -> None:
    """What a starting motor draws pulls the supply down for a moment; only what lasts counts."""
    lose_supply(gate)
    gate.supply_v = 22.0
    gate.run(0.5)
    gate.supply_v = 24.2
    gate.run(10.0)
    assert gate.plot() == ["board: runs on its battery"]
    run_low(gate)
    assert gate.plot()[-1] == "battery: low, 22.5 V"


def test_low_stays_low_until_the_supply_is_back(gate) -> None:
    """A battery recovers as soon as nothing draws on it: that alone makes it no better."""
    lose_supply(gate)
    run_low(gate)
    gate.supply_v = 24.4
    gate.run(600.0)
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    assert gate.message.startswith("close refused: the battery is low")


@pytest.mark.parametrize("low_by", [0.0, 0.5])
def test_a_movement_under_way_goes_on(gate, low_by: float) -> None:
    """A gate that is closing when its battery is found low comes home: stopping part way would help nobody."""
    gate.tap("open button")
    gate.until_state("open")
    lose_supply(gate)
    gate.tap("close button")
    gate.until_state("closing")
    gate.run(low_by)
    run_low(gate)
    assert gate.state == "closing"
    gate.until_state("closed")


def test_a_reversal_waits_for_no_battery(gate) -> None:
    """A guard that reopens does so on a low battery, whatever the sheet says of it."""
    gate.write({"battery low": "stays as it is"})
    gate.tap("open button")
    gate.until_state("open")
    lose_supply(gate)
    gate.tap("close button")
    gate.until_state("closing")
    gate.run(1.0)
    run_low(gate)
    gate.trip("outer beam")
    gate.run(1.0)
    assert gate.state == "opening"
    gate.until_state("open")


def test_stays_as_it_is(gate) -> None:
    """Every start is refused, in words."""
    gate.write({"battery low": "stays as it is"})
    lose_supply(gate)
    run_low(gate)
    gate.mark()
    gate.tap("open button")
    gate.run(10.0)
    assert not moves(gate)
    assert gate.message == "open refused: the battery is low: the gate stays as it is"


def test_only_by_command(gate) -> None:
    """Auto-close is off on the battery, and on again with the next command after the supply is back."""
    gate.write({"on battery": "only by command", "auto-close": "on", "auto-close after": 5})
    lose_supply(gate)
    gate.tap("open button")
    gate.until_state("open")
    assert "a command (it runs on its battery)" in gate.controller.panel().waits_for
    gate.run(60.0)
    assert gate.state == "open"
    gate.on_battery = False
    gate.run(60.0)
    assert gate.state == "open"
    gate.tap("open button")
    gate.until_state("closed")


def test_opens_once_and_stays_open(gate) -> None:
    """Where the sheet says so the gate opens by itself, tested and warned of like any start, and doesn't close by
    itself."""
    gate.write({"on battery": "opens once and stays open", "auto-close": "on", "auto-close after": 5})
    gate.tap("open button")
    gate.until_state("closed")
    gate.mark()
    lose_supply(gate)
    assert gate.state == "testing the guards"
    gate.until_state("warning before moving")
    gate.until_state("open")
    assert gate.plot() == [
        "board: runs on its battery",
        "outer beam: passed",
        "inner beam: passed",
        "opening: by the board, on its battery",
        "open",
    ]
    gate.run(60.0)
    assert gate.state == "open"
    gate.tap("close button")
    gate.until_state("closed")
    gate.run(60.0)
    assert gate.state == "closed", "once"


def test_closes_once(gate) -> None:
    """Where the sheet says so it closes by itself once, and a blocked beam keeps it open with the reason."""
    gate.write({"on battery": "closes once"})
    for blocked in (False, True):
        gate.tap("open button")
        gate.until_state("open")
        if blocked:
            gate.trip("outer beam")
        lose_supply(gate)
        gate.run(40.0)
        assert gate.state == ("open" if blocked else "closed")
        gate.on_battery = False
        gate.run(0.1)
    assert "close refused: outer beam reads open" in gate.plot()


@pytest.mark.parametrize("why", ["halted", "power was gone", "a guard failed"])
def test_nothing_by_itself_after(gate, why: str) -> None:
    """No movement by itself after a halt, after power came, or after a failed guard test, whatever the sheet says."""
    gate.write({"on battery": "opens once and stays open"})
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.until_state("closing")
    gate.run(3.0)
    if why == "halted":
        gate.trip("stop circuit")
        gate.run(1.0)
        gate.clear("stop circuit")
    elif why == "power was gone":
        gate.until_state("closed")
        gate.supply_v = 3.0
        gate.run(1.0)
        gate.supply_v = 27.3
    else:
        gate.until_state("closed")
        gate.deaf.add("outer beam")
        gate.tap("open button")
    gate.run(5.0)
    gate.mark()
    lose_supply(gate)
    gate.run(60.0)
    assert not moves(gate)
    assert any(text.startswith("open refused: wanted by the board, on its battery;") for text in gate.plot())


def test_power_that_comes_back_as_battery_power_moves_nothing(gate) -> None:
    """A board that wakes up on its battery was without power: that is a power return, and nothing moves on one."""
    gate.write({"on battery": "opens once and stays open", "battery low": "opens once and stays open"})
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.until_state("closed")
    gate.mark()
    gate.supply_v = 3.0
    gate.run(1.0)
    lose_supply(gate)
    gate.run(5.0)
    run_low(gate)
    gate.run(60.0)
    assert not moves(gate)


def test_closing_once_needs_a_beam(gate) -> None:
    """A gate that closes by itself without a beam is refused, with the reason, as for auto-close."""
    gate.write({"outer beam": "not fitted", "inner beam": "not fitted"})
    answer = gate.ask("set", "on battery", "closes once")
    assert answer.startswith("refused: on battery can't be 'closes once': a gate that closes by itself needs a beam")


def test_twin(make_gate) -> None:
    """Asked every 10 ms the same happens at the same instants, through takeover, a low battery and the way back."""
    lazy, eager = make_gate(), make_gate(every_scan=True)
    for gate in (lazy, eager):
        gate.write({"battery low": "opens once and stays open"})
        gate.tap("open button")
        gate.run(4.0)
        gate.tap("step button")
        gate.run(2.0)
        gate.tap("close button")
        gate.until_state("closed")
        lose_supply(gate)
        gate.run(3.0)
        gate.supply_v = 22.9
        gate.run(1.0)
        gate.supply_v = 24.0
        gate.run(3.0)
        run_low(gate)
        gate.run(20.0)
        gate.on_battery, gate.supply_v = False, 27.0
        gate.run(5.0)
    assert lazy.state == "open"
    assert lazy.trace == eager.trace
    assert lazy.controller.state() == eager.controller.state()
    assert lazy.scans < eager.scans / 10


def test_emergency_access_opens_on_a_low_battery(gate) -> None:
    """Whatever the sheet says of a low battery, the emergency contact opens with what is left."""
    gate.write({"battery low": "stays as it is"})
    lose_supply(gate)
    run_low(gate)
    gate.press("emergency contact")
    gate.until_state("open")


@pytest.mark.parametrize(
    ("first_v", "then_v", "low"),
    [
        (23.0, 23.0, True),
        (23.01, 23.01, False),
        (22.0, 23.3, True),
        (22.0, 23.31, False),
    ],
)
def test_from_which_voltage_on_it_is_low(gate, first_v: float, then_v: float, low: bool) -> None:
    """At what the sheet says it is, and two seconds later still, or a little above it."""
    gate.write({"battery low below": 23.0})
    lose_supply(gate)
    gate.supply_v = first_v
    gate.run(1.0)
    gate.supply_v = then_v
    gate.run(4.0)
    assert any("battery: low" in text for text in gate.plot()) is low
