"""Leaf order: delays, the lap, making room. Common practice: first to open is last to close."""

from __future__ import annotations

import pytest


def starts(gate) -> list[tuple[float, float, float]]:
    """(seconds since the mark, active duty, inactive duty) at each change of what is driven."""
    told: list[tuple[float, float, float]] = []
    for at, outputs in gate.trace:
        duties = (outputs.active.duty, outputs.inactive.duty)
        if at > gate._began and (not told or told[-1][1:] != duties):
            told.append((round((at - gate._began) / 1e6, 2), *duties))
    return told


def overtaken(gate) -> list[str]:
    """Looks at every instant whether the second leaf is ahead of the first inside the lap."""
    found: list[str] = []

    def look(g) -> None:
        first, second = g.leaves[0].position, g.leaves[1].position
        if second > first + 10 and first < 150 and second < 150:
            found.append(f"{g.now}: {first:.0f} {second:.0f}")

    gate.on_step.append(look)
    return found


def test_delays(gate) -> None:
    """The first leaf opens at once and the second after its delay; closing it is the other way about."""
    gate.write({"leaf delay, opening": 3, "leaf delay, closing": 5})
    gate.mark()
    gate.tap("open button")
    gate.until_state("open")
    assert starts(gate)[1:3] == [(2.21, 1.0, 0.0), (5.21, 1.0, 1.0)]
    gate.mark()
    gate.tap("close button")
    gate.until_state("closed")
    assert starts(gate)[1:4] == [(2.21, 0.0, -1.0), (7.21, -1.0, -0.35), (8.82, -1.0, 0.0)]


def test_inactive_leaf_first(gate) -> None:
    """The sheet, not the name, says which leaf goes first."""
    gate.write({"opens first": "inactive"})
    gate.ask("learn")
    gate.until(lambda: gate.message.startswith("learning finished"), 300.0)
    gate.run(1.0)
    gate.write({"leaf delay, opening": 3})
    gate.mark()
    gate.tap("open button")
    gate.until_state("open")
    assert starts(gate)[1:3] == [(2.21, 0.0, 1.0), (5.21, 1.0, 1.0)]


@pytest.mark.parametrize("opening", [0, 15])
@pytest.mark.parametrize("closing", [0, 15])
def test_no_delay_lets_the_second_leaf_overtake_in_the_lap(gate, opening: int, closing: int) -> None:
    """At both ends of the delays' ranges the order inside the lap is kept by counts."""
    found = overtaken(gate)
    gate.write({"leaf delay, opening": opening, "leaf delay, closing": closing})
    for _ in range(2):
        gate.tap("open button")
        gate.until_state("open")
        gate.tap("close button")
        gate.until_state("closed")
    assert found == []


def test_without_closing_delay_the_last_leaf_waits_before_the_lap(gate) -> None:
    """It stops, says what it waits for, and comes in when the other is home."""
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.until(lambda: gate.duties == (0.0, -1.0))
    gate.run(0.3)
    assert 150 <= gate.positions[0] <= 250
    assert gate.controller.panel().waits_for == (
        "inactive leaf to be home before the active leaf comes into the lap",
    )
    gate.until_state("closed")
    assert gate.positions == (0, 0)


def test_slow_second_leaf_is_waited_for(gate) -> None:
    """However long the second leaf takes, the first stays out of the lap until it is home."""
    found = overtaken(gate)
    gate.write({"leaf delay, closing": 3})
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.until(lambda: gate.duties[1] < 0)
    gate.until(lambda: gate.duties[0] < 0)
    held_at = []
    gate.on_step.append(lambda g: held_at.append(g.leaves[0].position) if g.leaves[1].position > 20 else None)
    gate.until_state("closed")
    assert min(held_at) > 150
    assert found == []


def test_first_leaf_makes_room_when_it_shut_before_the_other(gate) -> None:
    """Jogged into the wrong order: the first leaf opens out of the lap, the other shuts, then the first shuts."""
    gate.ask("jog", "inactive", "open")
    gate.run(8.0)
    gate.ask("jog", "inactive", "release")
    gate.run(1.0)
    gate.mark()
    gate.tap("close button")
    gate.until_state("closed")
    assert [duties for _, *duties in starts(gate)[1:]] == [
        [0.35, 0.0],
        [0.35, -1.0],
        [0.0, -1.0],
        [0.0, -0.35],
        [-1.0, -0.35],
        [-1.0, 0.0],
        [-0.35, 0.0],
        [0.0, 0.0],
    ]
    assert gate.positions == (0, 0)


def test_halted_in_the_lap_while_opening_then_closed(gate) -> None:
    """Both leaves just off the stop, the first ahead: the second shuts first, the first waits where it is."""
    gate.tap("step button")
    gate.until(lambda: gate.leaves[1].position > 30)
    gate.tap("step button")
    gate.run(2.0)
    first_at = gate.positions[0]
    gate.tap("close button")
    gate.until(lambda: gate.duties[1] < 0)
    gate.run(0.3)
    assert gate.positions[0] == first_at
    gate.until_state("closed")


def test_back_off_inside_the_lap_keeps_the_order_of_closing(gate) -> None:
    """Both leaves in the lap, one met something: on the way back the second is home before the first moves."""
    gate.write({"leaf delay, opening": 0.0, "back-off distance": 20, "slow speed": 20})
    found = overtaken(gate)
    gate.tap("open button")
    gate.until(lambda: gate.positions[1] >= 60)
    gate.leaves[0].blocked_above = gate.leaves[0].position + 5.0
    gate.until_state("backing off")
    first_at = gate.positions[0]
    assert first_at < 250
    gate.until(lambda: gate.duties[1] < 0)
    while gate.positions[1] > 10:
        assert gate.positions[0] == pytest.approx(first_at, abs=2)
        gate.step()
    gate.until(gate.rests)
    assert gate.positions[1] == 0
    assert gate.positions[0] < first_at - 100
    assert found == []


def test_back_off_outside_the_lap_waits_for_nobody(gate) -> None:
    """There both go back at once."""
    gate.write({"leaf delay, opening": 0.0})
    gate.tap("open button")
    gate.until(lambda: gate.positions[1] >= 400)
    gate.leaves[1].blocked_above = 420.0
    gate.until(gate.closes)
    assert max(gate.duties) < 0.0


def test_first_leaf_that_made_room_pauses_before_it_turns(gate) -> None:
    """Between the two ways it is let go for three tenths of a second, though the other is home by then: slow enough,
    it makes its room for longer than the other needs to be found at its stop."""
    gate.write({"slow speed": 20})
    gate.ask("jog", "inactive", "open")
    gate.run(0.6)
    gate.ask("jog", "inactive", "release")
    gate.run(1.0)
    gate.mark()
    gate.tap("close button")
    gate.until(lambda: gate.duties[0] > 0)
    gate.until(lambda: gate.duties[0] == 0)
    stood = gate.now
    gate.until(lambda: gate.duties[0] < 0)
    assert gate.now - stood >= 300_000
