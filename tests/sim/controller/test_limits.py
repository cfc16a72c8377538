"""Limit switches on the line gate: how a leaf that nothing counts learns, arrives, and is found out.

What is asked of it stands in design section 4; the same on the real world is in the tests of sensing.
"""

from __future__ import annotations

import re
from typing import Final

import pytest

from sim.units import LEAVES

OPENS: Final = "to the board, open when reached"
BOARD: Final = (OPENS, "to the board, closed when reached")
WIRINGS: Final = ("in the motor lead", *BOARD)


def to(gate, button: str, state: str) -> None:
    gate.tap(button)
    gate.until_state(state)


@pytest.mark.parametrize("wiring", WIRINGS)
def test_from_switch_to_switch(make_switched, wiring: str) -> None:
    """Learned, it goes from one switch to the other and says where it is; what it learned is time, in words."""
    gate = make_switched(wiring)
    took_s = re.findall(r"(active|inactive) leaf ([\d.]+) s of slow running", gate.message)
    assert [leaf for leaf, _ in took_s] == ["active", "inactive"]
    assert [float(seconds) for _, seconds in took_s] == [pytest.approx(1000 / (0.35 * 200.0), abs=0.4)] * 2
    for _ in range(2):
        to(gate, "open button", "open")
        assert gate.positions == (1000, 1000)
        to(gate, "close button", "closed")
        assert gate.positions == (0, 0)


@pytest.mark.parametrize("wiring", WIRINGS)
@pytest.mark.parametrize("leaf", [0, 1])
def test_each_way_has_its_switch(make_switched, wiring: str, leaf: int) -> None:
    """A leaf that stands before its switch is stopped by something; design section 4, obstacle."""
    gate = make_switched(wiring)
    to(gate, "open button", "open")
    gate.leaves[leaf].blocked_below = 300.0
    gate.tap("close button")
    gate.until_state("reversing")
    assert gate.positions[leaf] == 300
    gate.until_state("open")
    assert gate.positions == (1000, 1000)


@pytest.mark.parametrize("wiring", BOARD)
@pytest.mark.parametrize("leaf", [0, 1])
def test_both_reached_is_refused_and_shown(make_switched, wiring: str, leaf: int) -> None:
    """No leaf is at both ends: nothing begins, the reason names the leaf, and its two lines block; others don't."""
    gate = make_switched(wiring)
    lines = {line.name: line for line in gate.controller.panel().inputs}
    there, away = ("open (24.1 V)", "closed (0.1 V)") if wiring == OPENS else ("closed (0.1 V)", "open (24.1 V)")
    for each in LEAVES:
        shut, far = lines[f"{each} closed limit"], lines[f"{each} open limit"]
        assert (shut.reads, shut.meaning, shut.blocks) == (there, "reached", False)
        assert (far.reads, far.meaning, far.blocks) == (away, "not reached", False)
    gate.switches.stuck[leaf, 1] = True
    gate.run(0.1)
    gate.tap("open button")
    gate.run(4.0)
    assert gate.message == f"open refused: both limit switches of the {LEAVES[leaf]} leaf read reached"
    assert gate.duties == (0.0, 0.0)
    lines = {line.name: line for line in gate.controller.panel().inputs}
    wrong = "reached, and so is the other one"
    for index, each in enumerate(LEAVES):
        told = [
            (lines[f"{each} {end} limit"].meaning, lines[f"{each} {end} limit"].blocks) for end in ("open", "closed")
        ]
        assert told == ([(wrong, True)] * 2 if index == leaf else [("not reached", False), ("reached", False)])


@pytest.mark.parametrize("wiring", BOARD)
def test_one_leaf_shows_and_asks_its_own_switches_only(make_switched, wiring: str) -> None:
    """What is wired to the other leaf's inputs of a gate with one leaf means nothing."""
    gate = make_switched(wiring, learns=False)
    gate.write({"leaves fitted": 1, "inactive edge": "not fitted"})
    gate.switches.stuck = {(1, 1): True, (1, -1): True}
    gate.run(0.1)
    names = [line.name for line in gate.controller.panel().inputs if line.name.endswith("limit")]
    assert names == ["active open limit", "active closed limit"]
    gate.ask("learn")
    gate.until_shown(lambda shown: shown.message.startswith("learning finished"), 400.0)


def test_without_switches_there_are_no_lines(make_fresh) -> None:
    """A board whose sheet has no limit switch says nothing of their inputs."""
    gate = make_fresh()
    assert not [line for line in gate.controller.panel().inputs if line.name.endswith("limit")]


@pytest.mark.parametrize("wiring", BOARD)
@pytest.mark.parametrize("leaf", [0, 1])
def test_moved_by_hand_it_is_no_longer_closed(make_switched, wiring: str, leaf: int) -> None:
    """A leaf at rest that left its switch was moved by somebody, and is looked for before it goes anywhere."""
    gate = make_switched(wiring)
    assert gate.state == "closed"
    gate.leaves[leaf].position = 40.0
    gate.run(0.1)
    gate.ask("acknowledge")
    assert gate.state == "part way open"


@pytest.mark.parametrize("wiring", BOARD)
def test_the_other_switch_reached_is_the_wrong_way(make_switched, wiring: str) -> None:
    """Leads exchanged: the leaf comes to the switch behind it; learning ends at once and keeps nothing."""
    gate = make_switched(wiring, learns=False)
    gate.leaves[0].sign = -1
    gate.ask("learn")
    gate.until(gate.opens)
    gate.until(lambda: gate.duties == (0.0, 0.0))
    assert gate.positions[0] == 0
    gate.run(3.0)
    assert "active leaf ran the wrong way: it came to the other limit switch" in gate.message
    assert gate.controller.panel().travel == (None, None)


@pytest.mark.parametrize("wiring", BOARD)
@pytest.mark.parametrize(("button", "way"), [("open button", -1), ("close button", 1)])
def test_a_leaf_that_does_not_leave_its_switch(make_switched, wiring: str, button: str, way: int) -> None:
    """Driven for the time of three seconds' slow running and still there: it isn't known where the leaf is."""
    gate = make_switched(wiring)
    if way > 0:
        to(gate, "open button", "open")
    gate.switches.stuck[0, way] = True
    gate.mark()
    gate.tap(button)
    gate.until(lambda: gate.duties[0] != 0.0)
    began = gate.now
    gate.until(lambda: gate.duties[0] == 0.0)
    assert 0.9e6 < gate.now - began < 2.0e6, "at full duty a third of three seconds, and its start"
    gate.run(3.0)
    assert any("active leaf: did not leave the limit switch it was driven from" in said for said in gate.plot())
    assert gate.state == "position unknown"


@pytest.mark.parametrize("wiring", WIRINGS)
def test_a_switch_far_from_where_it_was_learned(make_switched, wiring: str) -> None:
    """Something holds a switch down half way: that is no stop; within its window it is the stop."""
    gate = make_switched(wiring)
    gate.write({"seating push": 0})
    to(gate, "open button", "open")
    gate.switches.move(gate, 0, 400.0)
    gate.tap("close button")
    gate.until_state("reversing")
    assert "active leaf: came to its limit switch where none was learned, closing: reverses" in gate.plot()
    gate.until_state("open")
    gate.switches.move(gate, 0, 100.0)
    to(gate, "close button", "closed")
    gate.run(1.0)
    assert 50 <= gate.positions[0] <= 100, "it runs on a little after a switch that is only read"


@pytest.mark.parametrize("wiring", WIRINGS)
@pytest.mark.parametrize("button", ["open button", "close button"])
def test_a_motor_that_takes_no_current(make_switched, wiring: str, button: str) -> None:
    """It is told as what it is. A leaf that never took current is never taken to be at its stop."""
    gate = make_switched(wiring)
    if button == "close button":
        to(gate, "open button", "open")
    gate.leaves[0].connected = False
    gate.mark()
    gate.tap(button)
    gate.run(30.0)
    assert any("active leaf: was driven and took no current" in said for said in gate.plot())
    assert gate.state != ("closed" if button == "close button" else "open")


@pytest.mark.parametrize("wiring", WIRINGS)
def test_sent_back_to_its_switch_it_knows_so(make_switched, wiring: str) -> None:
    """A back-off longer than the way there ends at the switch; the leaf is closed, and a close says so."""
    gate = make_switched(wiring)
    gate.write({"back-off distance": 20})
    gate.leaves[0].blocked_above = 120.0
    gate.tap("open button")
    gate.until_state("backing off")
    gate.until(gate.rests)
    gate.leaves[0].blocked_above = 1e9
    gate.run(2.0)
    gate.tap("close button")
    gate.until(gate.rests)
    gate.run(1.0)
    assert (gate.state, gate.positions) == ("closed", (0, 0))
    to(gate, "open button", "open")


@pytest.mark.parametrize("wiring", WIRINGS)
@pytest.mark.parametrize("button", ["open button", "close button"])
def test_cut_off_on_its_way_it_finds_its_position(make_switched, wiring: str, button: str) -> None:
    """Nothing moves on power return; the first movement looks for the switches, then goes as commanded."""
    gate = make_switched(wiring)
    gate.tap("open button")
    gate.run(5.0)
    gate.supply_v = 5.0
    gate.run(1.0)
    gate.supply_v = 27.3
    gate.run(3.0)
    assert gate.state == "position unknown"
    gate.tap(button)
    gate.until(lambda: gate.state in ("open", "closed"))
    assert (gate.state, gate.positions) == (("open", (1000, 1000)) if button[0] == "o" else ("closed", (0, 0)))
    assert any(said.startswith("finding its position: by ") for said in gate.plot())


@pytest.mark.parametrize("wiring", WIRINGS)
def test_a_leaf_that_jams_while_learning_has_found_no_stop(make_switched, wiring: str) -> None:
    """Only its switch is a stop of a leaf that has one."""
    gate = make_switched(wiring, learns=False)
    gate.leaves[1].blocked_below = 200.0
    gate.ask("learn")
    gate.run(120.0)
    assert gate.message.startswith("learning ended early, nothing is kept: inactive leaf stood still")
    assert gate.controller.panel().travel == (None, None)
