"""Contacts at the board's inputs: from where on one is pressed, and how it may chatter."""

from __future__ import annotations

import pytest

from sim.controller import commands


@pytest.mark.parametrize("gaps", [(0.01,), (0.02, 0.01, 0.03), (0.03,) * 6])
def test_a_chattering_contact_is_pressed_once(gate, gaps: tuple[float, ...]) -> None:
    """A contact that opens for up to 30 ms and closes again is one press; after 40 ms and more it is another."""
    gate.press("step button")
    for gap in gaps:
        gate.run(0.01)
        gate.release("step button")
        gate.run(gap)
        gate.press("step button")
    gate.run(0.1)
    gate.release("step button")
    gate.run(0.05)
    assert [line for line in gate.plot() if "given" in line] == ["open given by step button"]
    gate.tap("step button")
    assert [line for line in gate.plot() if "given" in line][1:] == ["halt given by step button"]


def test_a_chattering_key_switch_that_is_held_to_run_goes_on(gate) -> None:
    """Held to run it stops where the contact opens, and goes on where it closes: it asks for no debouncing."""
    gate.ask("set", "key switch", "hold-to-run open")
    gate.press("key switch")
    gate.run(3.0)
    gate.release("key switch")
    gate.run(0.02)
    gate.press("key switch")
    gate.run(3.0)
    given = [line for line in gate.plot() if "hold-to-run" in line and "given" in line]
    assert len(given) >= 2


def test_a_control_is_pressed_below_half_of_its_supply() -> None:
    """Inputs are pulled up to 24 V; at 12 V itself a contact that is neither is not pressed (common practice, no
    source)."""
    assert commands.levels((0.0, 11.99, 12.0, 12.01, 24.0)) == [True, True, False, False, False]
