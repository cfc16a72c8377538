"""Asking the controller every 10 ms changes nothing: same outputs, same memory, same panel as when it is due only."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Play = Callable[[object], None]


def _whole_cycle(gate) -> None:
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.run(5.0)
    gate.trip("outer beam")
    gate.run(0.4)
    gate.clear("outer beam")
    gate.until_state("open")


def _obstacles(gate) -> None:
    gate.write({"auto-close": "on", "auto-close after": 5, "leaf delay, opening": 2, "leaf delay, closing": 3})
    gate.tap("step button")
    gate.until_state("open, waiting to close")
    gate.leaves[0].blocked_below = 600.0
    gate.run(30.0)
    gate.leaves[0].blocked_below = -1e9
    gate.run(40.0)


def _learning(gate) -> None:
    gate.ask("learn")
    gate.run(200.0)


def _hands(gate) -> None:
    gate.ask("jog", "active", "open")
    gate.run(1.5)
    gate.trip("stop circuit")
    gate.run(1.0)
    gate.clear("stop circuit")
    gate.ask("jog", "active", "release")
    gate.write({"key switch": "hold-to-run open"})
    gate.press("key switch")
    gate.run(4.0)
    gate.release("key switch")
    gate.run(1.0)


def _hold_to_run(gate) -> None:
    gate.write({"open and close buttons": "hold-to-run", "electric lock": "fitted"})
    for control, seconds in (
        ("open button", 9.0),
        ("close button", 7.0),
        ("open button", 2.0),
        ("open button", 30.0),
    ):
        gate.press(control)
        gate.run(seconds)
        gate.release(control)
        gate.run(1.0)
    gate.trip("active edge")
    gate.press("close button")
    gate.run(3.0)
    gate.clear("active edge")


def _not_learned(gate) -> None:
    gate.write({"open and close buttons": "hold-to-run", "drive kind": "underground"})
    for control in ("close button", "open button", "close button"):
        gate.press(control)
        gate.run(40.0)
        gate.release(control)
        gate.run(1.0)


def _emergency(gate) -> None:
    gate.write({"auto-close": "on", "auto-close after": 5})
    gate.tap("pedestrian button")
    gate.until(gate.closes)
    gate.run(2.0)
    gate.press("emergency contact")
    gate.run(30.0)
    gate.release("emergency contact")
    gate.run(30.0)
    gate.tap("close button")
    gate.run(30.0)


def _power(gate) -> None:
    gate.tap("open button")
    gate.run(5.0)
    gate.supply_v = 3.0
    gate.run(1.0)
    gate.supply_v = 26.0
    gate.run(2.0)
    gate.tap("close button")
    gate.run(60.0)


@pytest.mark.parametrize(
    "play", [_whole_cycle, _obstacles, _learning, _hands, _hold_to_run, _not_learned, _emergency, _power]
)
def test_asking_every_scan_changes_nothing(make_gate, play: Play) -> None:
    """Law 2 of the clock: the every-scan twin has the same outputs at the same instants, and the same memory."""
    lazy, eager = make_gate(), make_gate(every_scan=True)
    assert lazy.controller.state() == eager.controller.state()
    play(lazy)
    play(eager)
    assert lazy.trace == eager.trace
    assert lazy.controller.state() == eager.controller.state()
    assert lazy.controller.panel() == eager.controller.panel()
    assert lazy.scans < eager.scans / 10


def test_nothing_is_due_at_rest(gate) -> None:
    """A gate that rests asks for nothing: not one scan in an hour."""
    gate.run(5.0)
    before = gate.scans
    gate.run(600.0)
    assert gate.scans == before
    assert gate.scan.wake is None


def test_restored_controller_goes_on_as_if_nothing_happened(make_gate) -> None:
    """State taken in the middle of a movement and put into a new controller gives the same run, exactly."""
    import json

    from sim.controller import ReferenceController

    straight, restored = make_gate(), make_gate()
    for gate in (straight, restored):
        gate.write({"auto-close": "on", "leaf delay, opening": 1.5})
        gate.tap("open button")
        gate.run(4.0)
    kept = json.loads(json.dumps(restored.controller.state()))
    restored.controller = ReferenceController()
    restored.controller.restore(kept)
    for gate in (straight, restored):
        gate.run(60.0)
    assert straight.trace == restored.trace
    assert straight.controller.state() == restored.controller.state()
    assert straight.controller.panel() == restored.controller.panel()
