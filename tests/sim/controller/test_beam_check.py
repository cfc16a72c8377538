"""The guard test before a start: every declared beam must follow its emitter's supply. Facts 2.2, common practice."""

from __future__ import annotations

import pytest


def test_supply_is_dropped_and_given_back_before_any_movement(gate) -> None:
    """The emitter supply goes, the beams trip, it comes back, they recover; only then does the lamp warn."""
    gate.tap("open button")
    gate.run(4.0)
    first = [(round((t - gate._began) / 1e6, 2), o.emitter_supply, o.lamp, o.opens) for t, o in _shown(gate)]
    assert first[:4] == [
        (0.01, False, False, False),
        (0.11, True, False, False),
        (0.21, True, True, False),
        (2.21, True, True, True),
    ]


class _Shown:
    def __init__(self, outputs) -> None:
        self.emitter_supply, self.lamp = outputs.emitter_supply, outputs.lamp
        self.opens = max(outputs.active.duty, outputs.inactive.duty) > 0


def _shown(gate):
    return [(t, _Shown(o)) for t, o in gate.trace if t > gate._began]


@pytest.mark.parametrize("beam", ["outer beam", "inner beam"])
def test_beam_that_does_not_react_keeps_the_gate_still(gate, beam: str) -> None:
    """A beam on the permanent supply, or one with a link across it, fails; the panel names it. Facts 8.7."""
    gate.deaf.add(beam)
    gate.tap("open button")
    gate.run(20.0)
    assert gate.state == "closed"
    assert gate.message == (
        f"open refused: guard test failed: {beam} did not react when its emitter supply was dropped"
    )
    assert f"{beam} to pass its test at the next start" in gate.controller.panel().waits_for


def test_beam_that_does_not_recover_fails(gate) -> None:
    """A beam that stays tripped after the test was not clear: that is a failure as well."""
    gate.tap("open button")
    gate.until(lambda: gate.outputs.emitter_supply, 2.0)
    gate.trip("outer beam")
    gate.run(3.0)
    assert gate.state == "closed"
    assert gate.message.endswith("outer beam did not recover when its emitter supply came back")


def test_next_start_tests_again(gate) -> None:
    """A failure is forgotten by the next test that is passed."""
    gate.deaf.add("outer beam")
    gate.tap("open button")
    gate.run(3.0)
    gate.deaf.clear()
    gate.tap("open button")
    gate.until_state("open")


def test_tripped_is_not_failed(gate) -> None:
    """A beam that is tripped is recorded as tripped; opening, on which it does not act, may start."""
    gate.trip("outer beam")
    gate.tap("open button")
    gate.until_state("open")
    assert gate.plot() == [
        "outer beam reads open",
        "open given by open button",
        "outer beam: tripped, not tested",
        "inner beam: passed",
        "opening: by open button",
        "open",
    ]


def test_undeclared_beam_is_not_tested(gate) -> None:
    """What is declared not fitted takes no part."""
    gate.write({"inner beam": "not fitted"})
    gate.deaf.add("inner beam")
    gate.tap("open button")
    gate.until_state("open")


def test_switched_off_test_lets_a_dead_beam_pass(gate) -> None:
    """That is why it is on by default: off, a beam that can't see goes unnoticed."""
    gate.write({"guard test": "off"})
    gate.deaf.add("outer beam")
    gate.tap("open button")
    gate.until_state("open")


def test_failed_test_of_an_auto_close_ends_it(gate) -> None:
    """No movement by itself after a failed test: the gate stays open until somebody gives a command."""
    gate.write({"auto-close": "on", "auto-close after": 5})
    gate.tap("open button")
    gate.until_state("open, waiting to close")
    gate.deaf.add("outer beam")
    gate.run(120.0)
    assert gate.state == "open"
    gate.deaf.clear()
    gate.run(60.0)
    assert gate.state == "open"
    gate.tap("close button")
    gate.until_state("closed")


def test_safety_reversal_waits_for_no_test(gate) -> None:
    """A reversal drives the other way after the brake alone, with a dead beam and a long warning time."""
    gate.write({"warning before moving": 10, "electric lock": "fitted"})
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.until(gate.closes)
    gate.run(2.0)
    gate.deaf.add("inner beam")
    gate.trip("outer beam")
    gate.run(0.35)
    assert gate.duties == (1.0, 1.0)


def test_stop_during_the_test_gives_the_supply_back(gate) -> None:
    """A halt in the middle of the test leaves the beams alive."""
    gate.tap("open button")
    gate.trip("stop circuit")
    gate.run(1.0)
    assert gate.outputs.emitter_supply
    assert gate.state == "halted"
