"""The date on the board: the site's day and hour, kept through a cut, lost in a long one, set by a watch."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.devices.clock_reserve import reserve_v
from sim.site import load_site
from sim.units import SECOND
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World

SITES = Path(__file__).parents[3] / "scenarios" / "sites"
HOUR = 3600 * SECOND


def bench(arrival: Arrival | None = None) -> World:
    """The reference bench on midsummer's day at ten."""
    site = load_site(SITES / "reference_bench.yaml")
    day = site.surroundings.model_copy(update={"day": 172})
    return World(site.model_copy(update={"surroundings": day, "starts_at_h": 10.0}), arrival=arrival)


def do(world: World, kind: str) -> str:
    """One act."""
    return world.do(checked(kind, {}))


def last(world: World) -> tuple[str, str]:
    """The last line of the board's log, with its date."""
    panel = world.controller.panel()
    return panel.dates[-1], panel.log[-1][1]


def test_the_day_is_the_sites() -> None:
    """Day 172 is 21 June."""
    world = bench()
    world.run_to(SECOND)
    assert last(world) == ("21 June, 10:00:00", "board: has power again")


def test_who_commissioned_it_was_there_the_day_before() -> None:
    """What was lived through before anybody arrived bears an earlier date, and the clock is right on arrival."""
    world = bench(Arrival(sheet={"leaves fitted": "2"}))
    dates = world.controller.panel().dates
    assert all(date.startswith("20 June, 10:00:0") for date in dates)
    world.run_to(world.now + 30 * SECOND)
    do(world, "set clock")
    assert last(world)[0].startswith("21 June, 10:00:5"), "twenty seconds to set it"


@pytest.mark.parametrize(("hours", "date"), [(1.0, "21 June, 11:"), (60.0, "23 June, 22:"), (100.0, "clock not set")])
def test_how_long_it_lives_on_its_reserve(hours: float, date: str) -> None:
    """It keeps time through a night or two; after four days without power it says that it stood still."""
    world = bench()
    world.run_to(SECOND)
    do(world, "isolate")
    do(world, "remove battery link")
    world.run_to(world.now + round(hours * HOUR))
    do(world, "restore")
    world.run_to(world.now + 2 * SECOND)
    assert last(world)[0].startswith(date)
    assert ("set it" in world.controller.panel().message) is (hours > 72.0)


def test_set_by_a_watch_it_is_right_again() -> None:
    """After four days it is four days later."""
    world = bench()
    world.run_to(SECOND)
    do(world, "isolate")
    do(world, "remove battery link")
    world.run_to(world.now + 96 * HOUR)
    do(world, "restore")
    world.run_to(world.now + 2 * SECOND)
    said = do(world, "set clock")
    assert "the clock is set: 25 June, 10:0" in said
    told = "21 June, 10:00:31 board: runs on its battery; clock not set board: has power again"
    assert told in do(world, "read status and log")


def test_the_reserve_is_three_days() -> None:
    """It falls to the 2.0 V at which the clock stops in 72 hours: ln(3.0 / 2.0) time constants."""
    assert reserve_v(0.0) == 3.0
    assert reserve_v(71.0 * 3600.0) > 2.0 > reserve_v(73.0 * 3600.0)
