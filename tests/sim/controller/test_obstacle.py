"""Obstacles by effort and by standing still: closing reverses, opening backs off, and there is an end to trying."""

from __future__ import annotations

import pytest


def closing(gate) -> None:
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.run(4.0)
    gate.mark()


def test_closing_reverses_by_effort(gate) -> None:
    """More effort than learned plus margin, twice 50 ms apart: both leaves reverse and open fully."""
    closing(gate)
    gate.leaves[0].blocked_below = 500.0
    gate.until_state("open")
    assert gate.story() == [
        (1.12, "active leaf: needed more effort than learned, closing: reverses"),
        (1.12, "reversing: obstacle: active leaf needed more effort than learned"),
        (1.42, "opening: after obstacle: active leaf needed more effort than learned"),
        (4.92, "open"),
    ]
    assert gate.message == "open, after obstacle: active leaf needed more effort than learned"


def test_reaction_time_by_effort(gate) -> None:
    """From the first excess to the drives being let go it takes no more than 100 ms."""
    closing(gate)
    gate.leaves[1].blocked_below = gate.leaves[1].position - 1.0
    touched = gate.now
    gate.until(lambda: gate.duties == (0.0, 0.0))
    assert gate.now - touched <= 100_000


def test_opening_backs_off(gate) -> None:
    """While opening both leaves go back by the back-off distance, halt, and wait for a command."""
    gate.tap("open button")
    gate.run(4.0)
    gate.mark()
    gate.leaves[1].blocked_above = 300.0
    gate.run(30.0)
    assert gate.plot() == [
        "inactive leaf: needed more effort than learned, opening: backs off",
        "backing off: obstacle: inactive leaf needed more effort than learned",
        "stopping: obstacle: inactive leaf needed more effort than learned",
    ]
    assert gate.positions[1] == pytest.approx(220, abs=5)


def test_first_leaf_goes_back_at_once_where_the_second_is_far_behind(gate) -> None:
    """Inside the lap a leaf that met something waits for the other only where it would come near it."""
    gate.write({"leaf delay, opening": 1.0, "back-off distance": 5})
    gate.tap("open button")
    gate.until(lambda: gate.positions[0] >= 230)
    gate.leaves[0].blocked_above = 240.0
    gate.until_state("backing off")
    assert 15 < gate.positions[1] < 100, "the second leaf is on its way, and far behind"
    gate.run(0.6)
    assert gate.positions[0] < 235


def test_leaf_that_waits_for_the_other_has_its_own_time_to_go_back(gate) -> None:
    """Side by side in the lap the first leaf waits for the second, and then goes back as far as it should."""
    gate.write({"slow speed": 20, "leaf delay, opening": 0.0, "back-off distance": 20})
    gate.tap("open button")
    gate.until(lambda: gate.positions[0] >= 230)
    gate.leaves[0].blocked_above = gate.leaves[0].position + 5.0
    gate.until_state("backing off")
    met = gate.positions[0]
    assert met < 250, "both are in the lap"
    gate.until(gate.rests)
    assert met - gate.positions[0] == pytest.approx(200, abs=6)


def test_way_back_is_no_crawl(gate) -> None:
    """Slow speed set low slows the slow zones, and not what takes the load off somebody."""
    gate.write({"slow speed": 20, "back-off distance": 20})
    gate.tap("open button")
    gate.run(6.0)
    gate.leaves[0].blocked_above = gate.leaves[0].position + 10.0
    gate.until_state("backing off")
    met = gate.positions
    gate.until(gate.rests)
    assert met[0] - gate.positions[0] == pytest.approx(200, abs=6)


def test_standing_still_without_effort_is_an_obstacle_too(gate) -> None:
    """A leaf that stands where no stop was learned is stopped by its quiet counter, whatever its current."""
    closing(gate)
    gate.leaves[0].connected = False
    gate.run(1.0)
    assert "active leaf: stood still where no stop was learned, closing: reverses" in gate.plot()


def test_near_the_stop_standing_still_is_an_arrival(gate) -> None:
    """Within the window of the learned stop the leaf has arrived; just before it, it has met something."""
    closing(gate)
    gate.leaves[0].blocked_below = 15.0
    gate.until_state("closed")
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.run(4.0)
    gate.leaves[0].blocked_below = 40.0
    gate.until_state("open")


def test_effort_that_was_learned_is_no_obstacle(gate) -> None:
    """The load is judged per place and way: what was needed on the working cycles may be needed again."""
    for _ in range(3):
        gate.tap("open button")
        gate.until_state("open")
        gate.tap("close button")
        gate.until_state("closed")
    assert not any("obstacle" in line or "effort" in line for line in gate.plot())


def test_retries_have_an_end(gate) -> None:
    """With auto-close the gate tries again so many times, then stays open and says why."""
    gate.write({"auto-close": "on", "auto-close after": 5, "obstacle retries": 2})
    gate.tap("open button")
    gate.until_state("open, waiting to close")
    gate.mark()
    gate.leaves[0].blocked_below = 500.0
    gate.run(300.0)
    met = [line for line in gate.plot() if line.startswith("active leaf: ")]
    assert met == [
        "active leaf: needed more effort than learned, closing: reverses",
        "active leaf: needed more effort than learned, closing: reverses",
        "active leaf: needed more effort than learned, closing: reverses; it stays open",
    ]
    assert gate.state == "open"
    assert gate.message == "open, after obstacle: active leaf needed more effort than learned; it stays open"
    gate.leaves[0].blocked_below = -1e9
    gate.run(60.0)
    assert gate.state == "open"
    gate.tap("close button")
    gate.until_state("closed")


def test_motor_that_does_nothing_ends_in_words(gate) -> None:
    """A lead that came off: the leaf stands though it is driven; the panel says that, not the cause."""
    gate.leaves[0].connected = False
    gate.tap("open button")
    gate.run(15.0)
    assert gate.message == "obstacle: active leaf stood still where no stop was learned"
    assert gate.duties == (0.0, 0.0)


def test_reopening_that_meets_something_backs_off(gate) -> None:
    """Caught between two obstacles the gate ends at rest, not in a circle."""
    closing(gate)
    gate.leaves[0].blocked_below = 500.0
    gate.until(lambda: gate.state == "opening")
    gate.leaves[0].blocked_above = 620.0
    gate.run(60.0)
    assert gate.duties == (0.0, 0.0)
    assert gate.plot()[-1].startswith("stopping: obstacle")
