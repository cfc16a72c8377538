"""What each guard does, in each direction, and what follows when it clears. Common practice."""

from __future__ import annotations

import pytest

from sim.controller import guards
from sim.controller.guards import Reading

PASSED = ["outer beam: passed", "inner beam: passed"]


def opened(gate):
    gate.tap("open button")
    gate.until_state("open")
    gate.run(1.0)
    gate.mark()


def closing(gate, seconds: float = 6.0):
    opened(gate)
    gate.tap("close button")
    gate.run(seconds)
    assert gate.closes()
    gate.mark()


def opening(gate, seconds: float = 6.0):
    gate.tap("open button")
    gate.run(seconds)
    assert gate.opens()
    gate.mark()


@pytest.mark.parametrize(
    ("ohms", "volts", "reading"),
    [
        (0.0, 0.0, Reading.TRIPPED),
        (4_100.0, 1.10, Reading.TRIPPED),
        (4_999.0, 1.2499, Reading.TRIPPED),
        (5_001.0, 1.2502, Reading.OUT_OF_BAND),
        (7_379.0, 1.5630, Reading.OUT_OF_BAND),
        (7_381.0, 1.5633, Reading.CLEAR),
        (8_200.0, 1.65, Reading.CLEAR),
        (9_019.0, 1.7285, Reading.CLEAR),
        (9_021.0, 1.7287, Reading.OUT_OF_BAND),
        (9_100.0, 1.7358, Reading.OUT_OF_BAND),
        (16_400.0, 2.20, Reading.OUT_OF_BAND),
        (1e9, 3.30, Reading.BROKEN),
    ],
)
def test_edge_line_is_read_by_its_resistance(ohms: float, volts: float, reading: Reading) -> None:
    """Facts C62 gives the voltages of 0, 4.1, 8.2, 16.4 kΩ and open; facts 2.2 the band of 7.38 to 9.02 kΩ."""
    assert guards.line_volts(ohms) == pytest.approx(volts, rel=0.02, abs=1e-9)
    assert guards.read(2, guards.line_volts(ohms)) is reading


def test_reopen_while_closing(gate) -> None:
    """Reopen: a closing gate stops and opens fully though the guard clears at once; then it waits for a command."""
    closing(gate)
    gate.trip("outer beam")
    gate.run(0.1)
    gate.clear("outer beam")
    gate.run(30.0)
    assert gate.story() == [
        (0.01, "outer beam reads open"),
        (0.01, "reversing: outer beam reads open"),
        (0.11, "outer beam reads closed"),
        (0.31, "opening: after outer beam reads open"),
        (5.1, "open"),
    ]
    assert gate.positions == (1000, 1000)


def test_reopen_does_nothing_while_opening(gate) -> None:
    """Reopen acts on closing alone."""
    opening(gate, 4.0)
    gate.trip("outer beam")
    gate.until_state("open")
    assert gate.plot() == ["outer beam reads open", "open"]


def test_reopen_stops_within_one_scan(gate) -> None:
    """The drives are let go, with the brake, at the scan that reads the guard."""
    closing(gate)
    gate.trip("outer beam")
    gate.run(0.01)
    assert gate.duties == (0.0, 0.0)
    assert gate.outputs.active.brake
    assert gate.outputs.inactive.brake


def test_back_off_while_closing(gate) -> None:
    """Back off: both leaves reverse by a fixed amount, halt, and wait for a new command."""
    closing(gate)
    before = gate.positions
    gate.trip("active edge")
    gate.run(4.0)
    gate.clear("active edge")
    gate.run(60.0)
    assert gate.story() == [
        (0.01, "active edge reads pressed"),
        (0.01, "backing off: active edge reads pressed"),
        (1.16, "stopping: active edge reads pressed"),
        (4.01, "active edge reads clear"),
    ]
    for was, now in zip(before, gate.positions, strict=True):
        assert now - was == pytest.approx(80, abs=5)


def test_back_off_while_opening(gate) -> None:
    """Back off acts on opening as well: the leaves close by the fixed amount and halt."""
    opening(gate)
    before = gate.positions
    gate.trip("inactive edge")
    gate.run(10.0)
    assert gate.plot() == [
        "inactive edge reads pressed",
        "backing off: inactive edge reads pressed",
        "stopping: inactive edge reads pressed",
    ]
    for was, now in zip(before, gate.positions, strict=True):
        assert was - now == pytest.approx(80, abs=5)


def test_back_off_from_opening_never_drives_past_a_reopening_guard(gate) -> None:
    """Backing off from an opening would close: with a reopening guard tripped the gate only stops."""
    opening(gate)
    gate.trip("outer beam")
    gate.trip("active edge")
    gate.run(5.0)
    assert not any(min(o.active.duty, o.inactive.duty) < 0 for t, o in gate.trace if t > gate._began)


def goes_back_from_opening(gate) -> None:
    """The active edge is pressed while opening and let go; the gate is on its way back to closed."""
    opening(gate)
    gate.trip("active edge")
    gate.run(0.1)
    gate.clear("active edge")
    gate.until(lambda: min(gate.duties) < 0.0, 2.0)


def test_edge_pressed_anew_ends_a_way_back_that_closes(gate) -> None:
    """An edge pressed while opening, let go, and pressed again on the way back: it has met somebody else."""
    gate.write({"active edge": "back off"})
    goes_back_from_opening(gate)
    gate.run(0.8)
    gate.trip("active edge")
    gate.run(0.02)
    assert gate.duties == (0.0, 0.0)
    gate.run(3.0)
    assert gate.state == "part way open"


def test_edge_that_chatters_is_freed_all_the_same(gate) -> None:
    """Pressed anew before the load is off, an edge leaves the way back what takes it off, and no more."""
    gate.write({"active edge": "back off", "back-off distance": 10})
    goes_back_from_opening(gate)
    before = gate.positions
    gate.trip("active edge")
    gate.until_state("part way open")
    for was, now in zip(before, gate.positions, strict=True):
        assert 15 <= was - now <= 30


@pytest.mark.parametrize("reaction", ["back off", "reopen"])
def test_load_comes_off_though_the_stop_is_pressed(gate, reaction: str) -> None:
    """After contact the leaf goes back until it is free even if the stop opens meanwhile; then it halts."""
    gate.write({"active edge": reaction})
    closing(gate)
    gate.trip("active edge")
    gate.run(0.1)
    pressed_at = gate.positions
    gate.trip("stop circuit")
    gate.run(3.0)
    assert gate.state == "halted"
    for was, now in zip(pressed_at, gate.positions, strict=True):
        assert 15 <= now - was <= 30
    assert gate.plot()[-1] == "halted: the stop circuit is open"


def test_stop_and_edge_in_one_scan_still_free_the_contact(gate) -> None:
    """Edge and stop at the same scan: the drives stop, the load is taken off, the gate halts."""
    closing(gate)
    gate.trip("active edge")
    gate.trip("stop circuit")
    gate.run(0.01)
    assert gate.duties == (0.0, 0.0)
    pressed_at = gate.positions
    gate.run(3.0)
    assert gate.state == "halted"
    assert 15 <= gate.positions[0] - pressed_at[0] <= 30


@pytest.mark.parametrize("way", ["open button", "close button"])
def test_halt_starts_nothing_when_it_is_let_go(gate, way: str) -> None:
    """Halt: everything stops within one scan; letting go starts nothing, and auto-close stays cancelled."""
    opened(gate)
    gate.write({"auto-close": "on", "auto-close after": 5})
    if way == "open button":
        gate.tap("close button")
        gate.until_state("closed")
    gate.tap(way)
    gate.run(5.0)
    gate.mark()
    gate.trip("stop circuit")
    gate.run(0.01)
    assert gate.duties == (0.0, 0.0)
    gate.run(1.0)
    gate.clear("stop circuit")
    gate.run(120.0)
    assert gate.plot() == ["stop circuit reads open", "halted: the stop circuit is open", "stop circuit reads closed"]
    assert gate.duties == (0.0, 0.0)


def test_stop_halts_an_open_gate_that_waits_to_close(gate) -> None:
    """A halt while the gate waits cancels auto-close until a new command."""
    gate.write({"auto-close": "on", "auto-close after": 5})
    gate.tap("open button")
    gate.until_state("open, waiting to close")
    gate.trip("stop circuit")
    gate.run(0.5)
    gate.clear("stop circuit")
    gate.run(60.0)
    assert gate.state == "open"
    gate.tap("open button")
    gate.until_state("closed")


def test_beam_declared_as_halt(gate) -> None:
    """Any guard can be told to halt: it stops both ways and starts nothing when it clears."""
    gate.write({"inner beam": "halt"})
    closing(gate)
    gate.trip("inner beam")
    gate.run(2.0)
    gate.clear("inner beam")
    gate.run(30.0)
    assert gate.plot() == ["inner beam reads open", "stopping: inner beam reads open", "inner beam reads closed"]


@pytest.mark.parametrize("ohms", [1e9, 16_400.0, 6_000.0])
def test_edge_line_that_is_no_edge_any_more_keeps_the_gate_still(gate, ohms: float) -> None:
    """A broken or wrong edge line is a device that can't do its work: no movement by itself, either way."""
    gate.edge_ohms["inactive edge"] = ohms
    gate.tap("open button")
    gate.run(20.0)
    assert gate.state == "closed"
    assert gate.message.startswith("open refused: inactive edge reads")


def test_edge_line_that_breaks_while_closing_acts_as_the_edge_would(gate) -> None:
    """A line that breaks under way is taken for contact: the gate backs off."""
    closing(gate)
    gate.edge_ohms["active edge"] = 1e9
    gate.run(5.0)
    assert gate.plot()[1] == "backing off: active edge reads line open"


def test_both_leaves_act_and_reversal_keeps_the_order_in_the_lap(gate) -> None:
    """A trip inside the lap: no delay is waited for, and the second leaf still only goes behind the first."""
    gate.write({"leaf delay, opening": 2})
    opened(gate)
    gate.tap("close button")
    gate.until(lambda: gate.closes() and gate.leaves[0].position < 100)
    gate.mark()
    gate.trip("outer beam")
    gate.until_state("open")
    starts = [
        (round((t - gate._began) / 1e6, 2), o.active.duty, o.inactive.duty) for t, o in gate.trace if t > gate._began
    ]
    assert starts[:2] == [(0.01, 0.0, 0.0), (0.31, 1.0, 1.0)]


def test_a_reversal_in_the_lap_waits_for_the_first_leaf_alone(gate) -> None:
    """Both leaves nearly level: the second starts once the first has its lead, long before the delay is over."""
    gate.write({"leaf delay, opening": 6})
    opened(gate)
    gate.tap("close button")
    gate.until(lambda: gate.closes() and gate.leaves[0].position < 30)
    gate.mark()
    gate.trip("outer beam")
    gate.until_state("open")
    starts = [
        (round((t - gate._began) / 1e6, 2), o.active.duty, o.inactive.duty) for t, o in gate.trace if t > gate._began
    ]
    assert starts[1] == (0.31, 1.0, 0.0)
    second = next(at for at, _, inactive in starts if inactive > 0.0)
    assert 0.31 < second < 3.0


def test_outside_the_lap_both_leaves_reverse_at_once(gate) -> None:
    """Outside the lap nothing makes the second leaf wait."""
    gate.write({"leaf delay, opening": 6})
    closing(gate, 4.0)
    gate.trip("outer beam")
    gate.run(0.5)
    assert gate.duties == (1.0, 1.0)


def test_stronger_answer_wins(gate) -> None:
    """Edge and beam together while closing: opening fully takes the load off as well, so it wins over backing off."""
    closing(gate)
    gate.trip("active edge")
    gate.trip("outer beam")
    gate.run(0.2)
    gate.tripped.clear()
    gate.until_state("open")


def test_edge_that_stays_pressed_while_reopening_does_not_close_on_what_it_touched(gate) -> None:
    """The edge may stay pressed while the gate frees itself; if it is still pressed after that, the gate stops."""
    gate.write({"active edge": "back off"})
    closing(gate)
    gate.trip("active edge")
    gate.trip("outer beam")
    gate.run(0.2)
    gate.clear("outer beam")
    gate.run(10.0)
    assert not any(min(o.active.duty, o.inactive.duty) < 0 for t, o in gate.trace if t > gate._began)
    assert gate.state == "part way open"


def test_guard_that_holds_stops_a_reversal(gate) -> None:
    """Somebody on the other side as well: the gate stands, and reopens once the way is clear."""
    closing(gate)
    gate.trip("outer beam")
    gate.run(0.1)
    gate.trip("inner beam")
    gate.run(3.0)
    assert gate.state == "held by a guard"
    assert gate.duties == (0.0, 0.0)
    gate.tripped.clear()
    gate.until_state("open")


def test_guard_that_halts_stops_a_reversal(gate) -> None:
    """A halt is a halt, in the middle of a reversal too."""
    gate.write({"inner beam": "halt"})
    closing(gate)
    gate.trip("outer beam")
    gate.run(0.1)
    gate.trip("inner beam")
    gate.run(3.0)
    gate.tripped.clear()
    gate.run(20.0)
    assert gate.state == "part way open"


@pytest.mark.parametrize("how", ["stop circuit", "step button"])
def test_halt_just_after_reopening_began_frees_the_contact_first(gate, how: str) -> None:
    """The leaf has hardly gone back when somebody halts it: it goes on until the load is off, and no further."""
    gate.write({"active edge": "reopen"})
    closing(gate)
    gate.trip("active edge")
    gate.until(lambda: gate.opens())
    pressed_at = gate.positions
    if how == "step button":
        gate.press(how)
    else:
        gate.trip(how)
    gate.run(3.0)
    assert gate.duties == (0.0, 0.0)
    for was, now in zip(pressed_at, gate.positions, strict=True):
        assert 15 <= now - was <= 45
