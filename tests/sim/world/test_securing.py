"""Leaves propped and roped while somebody works on them, and what that asks of the work."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.errors import Refused
from sim.instruments.toolbag import Toolbag
from sim.site import Site, load_site, with_changes
from sim.units import from_seconds
from sim.world.actions import checked
from sim.world.world import World

BENCH = Path(__file__).parents[3] / "scenarios" / "sites" / "reference_bench.yaml"


@pytest.fixture
def bench() -> Site:
    """The reference bench."""
    return load_site(BENCH)


def do(world: World, kind: str, **arguments: str | float) -> str:
    """One act."""
    return world.do(checked(kind, arguments))


def test_hinges_are_undone_only_while_something_carries_the_leaf(bench: Site) -> None:
    """Free, it would fall; propped, the work is done, and the facts are as they were built."""
    world = World(bench, bag=Toolbag)
    world.refit(with_changes(bench, {"leaves.active.sag_m": 0.03, "leaves.active.hinge_friction_n_m": 200.0}))
    do(world, "isolate")
    do(world, "remove battery link")
    with pytest.raises(Refused, match="prop or rope it"):
        do(world, "replace", what="hinges of the active leaf")
    do(world, "prop leaf", leaf="active")
    do(world, "replace", what="hinges of the active leaf")
    do(world, "free leaf", leaf="active")
    assert world.site == world.designed


def test_each_act_has_its_time_and_asks_for_the_right_order(bench: Site) -> None:
    """Two minutes for a prop; nothing is tied twice or untied when it isn't."""
    world = World(bench, bag=Toolbag)
    with pytest.raises(Refused, match="neither propped nor roped"):
        do(world, "free leaf", leaf="active")
    before = world.now
    do(world, "prop leaf", leaf="active")
    assert world.now - before == from_seconds(120.0)
    with pytest.raises(Refused, match="is propped already"):
        do(world, "rope leaf", leaf="active")


def test_a_drive_started_against_a_rope_is_told_as_a_danger(bench: Site) -> None:
    """Jogged, the leaf doesn't move, and whoever tied it is told."""
    world = World(bench, bag=Toolbag)
    do(world, "rope leaf", leaf="inactive")
    do(world, "jog press", leaf="inactive", direction="open")
    world.run_to(world.now + from_seconds(4.0))
    do(world, "jog release", leaf="inactive")
    told = [event for event in world.events if event.kind == "danger"]
    assert [event.data["what"] for event in told] == ["leaf secured"]
    assert abs(world.plant.angle(1)) < 0.01


def test_the_wind_is_waited_for_and_not_mended(bench: Site) -> None:
    """An hour later it blows as it usually does."""
    world = World(bench, bag=Toolbag)
    world.refit(with_changes(bench, {"weather.wind_m_s": 12.0}))
    assert world.plant.wind_m_s() == pytest.approx(12.0)
    before = world.now
    do(world, "come back on a calm day")
    assert world.now - before >= from_seconds(3600.0)
    assert world.plant.wind_m_s() == 0.0
    assert world.site == world.designed
