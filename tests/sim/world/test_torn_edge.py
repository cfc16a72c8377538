"""A torn edge in the yard: what its leaf meets at the dead part is not felt, what reaches beyond it is."""

from __future__ import annotations

from typing import Any

import pytest

from sim.instruments.toolbag import Toolbag
from sim.site import Site, with_changes
from sim.units import SECOND
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World

SHEET = {
    "inner beam": "not fitted",
    "outer beam": "not fitted",
    "leaves fitted": "2",
    "drive kind": "linear ram",
    "leaf delay, opening": 3.0,
    "leaf delay, closing": 5.0,
    "slow zone before stop": 25.0,
}

TORN = {"guards.active_edge.dead_from_m": 0.5, "guards.active_edge.dead_to_m": 1.2}


def opened(site: Site, changes: dict[str, Any]) -> World:
    """The gate, learned and fully open; torn afterwards."""
    sheet = {**SHEET, "opens first": site.opens_first}
    world = World(site, seed=5, bag=Toolbag, arrival=Arrival(sheet=sheet, learned=True))
    tap(world, "open button", "fully open")
    if changes:
        world.refit(with_changes(world.site, changes))
    return world


def tap(world: World, control: str, until: str) -> None:
    world.do(checked("press", {"control": control}))
    world.run_to(world.now + SECOND // 2)
    world.do(checked("release", {"control": control}))
    world.do(checked("wait until", {"what": until, "at_most_s": 60.0}))


def tripped(world: World) -> bool:
    return any(e.kind == "guard" and e.data["guard"] == "active edge" and e.data["tripped"] for e in world.events)


@pytest.mark.parametrize(
    ("changes", "height_mm", "felt"),
    [({}, 900.0, True), (TORN, 900.0, False), (TORN, 300.0, True), (TORN, 1500.0, True)],
)
def test_a_gauge_is_felt_where_the_profile_is_whole(
    site: Site, changes: dict[str, Any], height_mm: float, felt: bool
) -> None:
    """The force gauge stands at one height: the edge trips above and below the torn part, and not on it."""
    world = opened(site, changes)
    gauge = {"leaf": "active", "gap_mm": 500.0, "height_mm": height_mm, "rest": "rigid rest"}
    world.do(checked("place force gauge", gauge))
    tap(world, "close button", "the gate moves")
    world.run_to(world.now + 40 * SECOND)
    assert [e for e in world.events if e.kind == "contact"]
    assert tripped(world) is felt


def test_a_person_taller_than_the_torn_part_is_felt(site: Site) -> None:
    """Somebody standing there presses the whole ones above and below as well."""
    world = opened(site, TORN)
    world.do(checked("place body", {"body": "adult", "x_m": 1.7, "y_m": 1.1}))
    tap(world, "close button", "the gate moves")
    world.run_to(world.now + 40 * SECOND)
    assert [e for e in world.events if e.kind in ("contact", "struck")]
    assert tripped(world)


def test_a_hand_at_the_dead_part_is_not_felt(site: Site) -> None:
    """Pressed every tenth of a metre, the torn part shows."""
    world = opened(site, TORN)
    for height in range(200, 1800, 100):
        world.do(checked("press edge", {"guard": "active edge", "height_mm": float(height)}))
        assert world.people.is_tripped("active edge") is not (500 <= height <= 1200), height
        world.do(checked("release edge", {"guard": "active edge"}))
    assert not world.people.is_tripped("active edge")
