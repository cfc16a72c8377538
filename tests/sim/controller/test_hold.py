"""A guard that holds: stand while it is blocked, and what follows when it clears. Common practice."""

from __future__ import annotations

import pytest


def closing(gate, seconds: float):
    gate.tap("open button")
    gate.until_state("open")
    gate.run(1.0)
    gate.tap("close button")
    gate.run(seconds)
    assert gate.closes()
    gate.mark()


def opening(gate, seconds: float):
    gate.tap("open button")
    gate.run(seconds)
    assert gate.opens()
    gate.mark()


def test_hold_while_opening(gate) -> None:
    """Hold: an interrupted opening stands while blocked and goes on after the warning time."""
    opening(gate, 5.0)
    gate.trip("inner beam")
    gate.run(3.0)
    assert gate.state == "held by a guard"
    gate.clear("inner beam")
    gate.until_state("open")
    assert gate.story() == [
        (0.01, "inner beam reads open"),
        (0.01, "held: inner beam"),
        (3.01, "inner beam reads closed"),
        (5.01, "opening: after the guard is clear again"),
        (9.78, "open"),
    ]


def test_hold_blocked_again_during_the_warning_holds_again(gate) -> None:
    """A guard that trips again while the lamp warns is held again, not forgotten."""
    opening(gate, 5.0)
    gate.trip("inner beam")
    gate.run(3.0)
    gate.clear("inner beam")
    gate.run(1.0)
    gate.trip("inner beam")
    gate.run(2.0)
    assert gate.state == "held by a guard"
    gate.clear("inner beam")
    gate.until_state("open")


@pytest.mark.parametrize("moment", [0.3, 1.2, 1.5])
def test_hold_blocked_again_while_the_lock_is_freed_holds_again(gate, moment: float) -> None:
    """Held at its very beginning, the opening frees its lock anew; a guard that trips then holds it again."""
    gate.write({"electric lock": "fitted", "warning before moving": 1})
    gate.tap("open button")
    gate.until(gate.opens)
    gate.run(0.02)
    gate.trip("inner beam")
    gate.run(1.0)
    gate.clear("inner beam")
    gate.run(moment)
    gate.trip("inner beam")
    gate.run(2.0)
    assert gate.state == "held by a guard"
    assert gate.duties == (0.0, 0.0)
    gate.clear("inner beam")
    gate.until_state("open")


def test_hold_while_closing_reopens_and_never_goes_on_closing(gate) -> None:
    """Hold: an interrupted closing reopens when the guard clears; nothing resumes the closing."""
    closing(gate, 5.0)
    gate.trip("inner beam")
    gate.run(3.0)
    gate.clear("inner beam")
    gate.run(60.0)
    assert gate.story() == [
        (0.01, "inner beam reads open"),
        (0.01, "held: inner beam"),
        (3.01, "inner beam reads closed"),
        (3.01, "opening: after the guard is clear again"),
        (6.8, "open"),
    ]


def test_command_while_held_is_refused_and_halt_gives_up(gate) -> None:
    """While a guard holds, opening and closing are refused; a halt forgets the interrupted movement."""
    opening(gate, 5.0)
    gate.trip("inner beam")
    gate.run(1.0)
    gate.tap("close button")
    gate.tap("step button")
    gate.clear("inner beam")
    gate.run(30.0)
    assert gate.plot()[2:] == [
        "close given by close button",
        "close refused: held by a guard",
        "halt given by step button",
        "inner beam reads closed",
    ]
    assert gate.state == "part way open"


def test_lamp_and_yard_light_stay_on_while_it_is_held(gate) -> None:
    """It will move by itself once the guard is clear: the lamp warns all the while, and the yard is lit."""
    gate.write({"yard light": "on", "yard light after": 10})
    opening(gate, 5.0)
    gate.trip("inner beam")
    gate.run(300.0)
    assert gate.outputs.lamp
    assert gate.outputs.yard_light
    gate.tap("step button")
    gate.run(9.0)
    assert not gate.outputs.lamp
    assert gate.outputs.yard_light
    gate.run(2.0)
    assert not gate.outputs.yard_light
