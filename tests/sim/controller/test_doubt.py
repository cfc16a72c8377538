"""What the board notices of a gate that is not as it was learned: no closing by itself until that is cleared up."""

from __future__ import annotations

import pytest


def auto(gate) -> None:
    """It would close by itself."""
    gate.write({"auto-close": "on", "auto-close after": 5})
    gate.mark()


def open_up(gate) -> None:
    """Open and wait until it rests, whatever came of it."""
    gate.tap("open button")
    gate.until_shown(lambda shown: gate.rests() or shown.state == "open, waiting to close", 200.0)


def in_doubt(gate) -> str:
    """Why the panel doubts the travel, empty if it doesn't."""
    start = "a whole stroke from stop to stop, or travel learning: "
    return next((wait[len(start) :] for wait in gate.controller.panel().waits_for if wait.startswith(start)), "")


def test_a_stop_that_moved_out_is_doubted_until_learned_anew(gate) -> None:
    """The leaf runs past the place of its stop: the travel no longer fits, and nothing closes by itself."""
    auto(gate)
    gate.leaves[1].travel = 1080.0
    open_up(gate)
    assert in_doubt(gate) == "the inactive leaf ran past the place where its stop was learned"
    assert "learned travel: in doubt, the inactive leaf ran past the place where its stop was learned" in gate.plot()
    open_up(gate)
    gate.run(60.0)
    assert gate.state != "closed"
    assert in_doubt(gate)
    gate.ask("learn")
    gate.until_shown(lambda shown: shown.message.startswith("learning finished"), 400.0)
    assert not in_doubt(gate)
    open_up(gate)
    gate.until_state("closed")


def test_a_whole_stroke_confirms_the_travel(gate) -> None:
    """Whatever it was is mended: one stroke from stop to stop, and the gate closes by itself again."""
    auto(gate)
    gate.leaves[1].travel = 1080.0
    open_up(gate)
    assert in_doubt(gate)
    gate.leaves[1].position = min(gate.leaves[1].position, 1000.0)
    gate.leaves[1].travel = 1000.0
    open_up(gate)
    assert "learned travel: confirmed by a whole stroke" in gate.plot()
    gate.until_state("closed")
    assert not in_doubt(gate)


def test_a_stop_that_moved_in_is_doubted_the_second_time(gate) -> None:
    """What is met at the same place twice is hardly somebody who stood in the way."""
    auto(gate)
    gate.leaves[0].travel = 850.0
    open_up(gate)
    assert not in_doubt(gate)
    open_up(gate)
    assert in_doubt(gate) == "the active leaf met something at the same place twice"


def test_two_different_places_are_two_obstacles(gate) -> None:
    """Met once here and once there, nothing is wrong with the gate."""
    auto(gate)
    for place in (500.0, 700.0):
        gate.leaves[0].blocked_above = place
        open_up(gate)
    assert not in_doubt(gate)


@pytest.mark.parametrize("at", ["a running gate", "a finding run"])
def test_exchanged_leads_are_doubted(gate, at: str) -> None:
    """A counter that goes against the command is a wire or a drive that is not as it was."""
    auto(gate)
    gate.tap("open button")
    gate.until_state("opening")
    gate.run(2.0)
    if at == "a finding run":
        gate.supply_v = 2.0
        gate.run(1.0)
        gate.supply_v = 27.3
        gate.run(1.0)
    else:
        gate.tap("step button")
        gate.run(2.0)
    gate.leaves[0].sign = -1
    gate.tap("open button")
    gate.until_shown(lambda shown: gate.rests(), 100.0)
    assert in_doubt(gate) == "the active leaf ran the wrong way: its counter went against the command"


def test_the_doubt_outlives_a_loss_of_power(gate) -> None:
    """Switching off and on makes no travel fit."""
    auto(gate)
    gate.leaves[1].travel = 1080.0
    open_up(gate)
    gate.supply_v = 2.0
    gate.run(1.0)
    gate.supply_v = 27.3
    gate.run(1.0)
    assert in_doubt(gate)
