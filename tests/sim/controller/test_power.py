"""Power: a self-check, and never a movement, when it comes; what was at rest is known, what was moving is not."""

from __future__ import annotations

from sim.controller.ports import BOARD_MINIMUM_V


def cut(gate, seconds: float = 1.0) -> None:
    """Cut the power for a while and let the board come up."""
    gate.supply_v = 2.0
    gate.run(seconds)
    assert gate.duties == (0.0, 0.0)
    gate.supply_v = 27.0
    gate.run(0.02)


def test_nothing_moves_when_power_returns(gate) -> None:
    """Power that comes back starts nothing, whatever is held pressed. Facts 2.3: no unexpected start."""
    for name in ("open button", "step button", "timer contact"):
        gate.press(name)
    cut(gate)
    gate.run(120.0)
    assert not any(o.active.duty or o.inactive.duty for t, o in gate.trace if t > gate._began)
    assert gate.state == "closed"


def test_level_at_power_up_is_no_command_until_given_again(gate) -> None:
    """A control that is pressed when power comes is ignored until it was let go and pressed again."""
    gate.press("open button")
    cut(gate)
    gate.run(2.0)
    assert "open button to be let go" in gate.controller.panel().waits_for
    gate.release("open button")
    gate.run(5.0)
    assert gate.state == "closed"
    gate.tap("open button")
    gate.until_state("open")


def test_position_at_rest_survives(gate) -> None:
    """A gate that rested when power went knows where it is, and a counter that starts anew does not matter."""
    cut(gate)
    for leaf in gate.leaves:
        leaf.offset += 12_345
        leaf.shown += 12_345
    cut(gate)
    gate.run(1.0)
    assert gate.state == "closed"
    gate.tap("open button")
    gate.until_state("open")
    assert gate.positions == (1000, 1000)


def test_position_lost_while_moving_is_found_by_a_slow_run(gate) -> None:
    """After a loss under way: the gate stays and says so; the first command finds the position slowly."""
    gate.tap("open button")
    gate.run(6.0)
    cut(gate)
    gate.run(2.0)
    assert gate.state == "position unknown"
    assert gate.message == ("position unknown: it stays as it is, and the first movement will be a slow finding run")
    gate.mark()
    gate.tap("open button")
    gate.until_state("open")
    assert gate.plot() == [
        "open given by open button",
        "outer beam: passed",
        "inner beam: passed",
        "finding its position: by open button",
        "opening: by open button",
        "open",
    ]
    assert gate.positions == (1000, 1000)
    moves = [
        (o.active.duty, o.inactive.duty)
        for t, o in gate.trace
        if t > gate._began and (o.active.duty or o.inactive.duty)
    ]
    assert moves[:3] == [(0.35, 0.0), (0.0, -0.35), (-0.35, 0.0)]


def test_after_a_finding_run_the_drive_pauses_before_it_opens(gate) -> None:
    """The leaf was just driven against its closed stop: it is let go before it is driven the other way. CP."""
    gate.tap("open button")
    gate.run(6.0)
    cut(gate)
    gate.run(1.0)
    gate.tap("open button")
    gate.until_state("open")
    ways = [(t, (o.active.duty > 0) - (o.active.duty < 0)) for t, o in gate.trace]
    closed = max(t for t, way in ways if way < 0)
    stood = [t for t, way in ways if t > closed and way == 0]
    opened = min(t for t, way in ways if t > closed and way > 0)
    assert stood
    assert opened - min(stood) >= 200_000


def test_finding_run_for_a_closing_ends_closed(gate) -> None:
    """Commanded to close with its position unknown, the gate is closed when its position is found."""
    gate.tap("open button")
    gate.run(6.0)
    cut(gate)
    gate.run(1.0)
    gate.tap("close button")
    gate.until_state("closed")
    assert gate.message == "closed, position found"


def test_guard_ends_a_finding_run(gate) -> None:
    """A finding run is guarded like learning; the position stays unknown."""
    gate.tap("open button")
    gate.run(6.0)
    cut(gate)
    gate.run(1.0)
    gate.tap("close button")
    gate.until(lambda: gate.duties[1] < 0)
    gate.run(2.0)
    gate.trip("outer beam")
    gate.run(5.0)
    assert gate.state == "position unknown"
    assert gate.message == "finding run ended early: outer beam reads open"
    assert gate.duties == (0.0, 0.0)


def test_brown_out_in_a_movement_is_safe(gate) -> None:
    """A supply that sags below the board's minimum lets the drives go at once and starts nothing on return."""
    gate.scans_when_dead = True
    gate.tap("open button")
    gate.run(6.0)
    gate.supply_v = BOARD_MINIMUM_V - 0.5
    gate.run(0.01)
    assert gate.duties == (0.0, 0.0)
    assert gate.state == "no power"
    gate.supply_v = 26.0
    gate.run(60.0)
    assert gate.duties == (0.0, 0.0)
    assert gate.state == "position unknown"


def test_settings_and_transmitters_survive(gate) -> None:
    """What was written stays: sheet, learned travel, transmitters, seal, log."""
    gate.write({"soft start": 0.5})
    gate.ask("enrol", "Ada", "step")
    gate.send("one", 1, 3)
    gate.ask("seal", "Mira")
    before = gate.controller.panel()
    cut(gate)
    gate.run(1.0)
    after = gate.controller.panel()
    assert (after.settings, after.travel, after.transmitters, after.sealed) == (
        before.settings,
        before.travel,
        before.transmitters,
        True,
    )
    assert after.log[: len(before.log)] == before.log


def test_leaf_pauses_between_the_finding_run_and_the_opening(gate) -> None:
    """The leaf that was shut last is not driven open in the same instant: drive and bridge need the pause."""
    gate.tap("open button")
    gate.run(6.0)
    cut(gate)
    gate.run(2.0)
    gate.mark()
    gate.tap("open button")
    gate.until_state("opening")
    gate.run(2.0)
    drives = [(at, outputs.active.duty) for at, outputs in gate.trace if at > gate._began]
    closed = max(place for place, (_, duty) in enumerate(drives) if duty < 0.0)
    opened = min(at for at, duty in drives[closed:] if duty > 0.0)
    assert opened - drives[closed + 1][0] >= 200_000
