"""A learned gate that is found open, or part way: its own controller left it there, and knows where it stands."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from sim.site import load_site
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World

SITE = load_site(Path(__file__).parents[3] / "scenarios" / "sites" / "reference_bench.yaml")

SHEET = {
    "leaves fitted": "2",
    "drive kind": "linear ram",
    "opens first": "active",
    "leaf delay, opening": 2.0,
    "leaf delay, closing": 3.0,
    "slow zone before stop": 20.0,
    "electric lock": "fitted",
}


def stands(world: World) -> list[float]:
    """Both leaf angles [°]."""
    return [math.degrees(world.plant.angle(leaf)) for leaf in (0, 1)]


@pytest.mark.parametrize(
    ("angles", "state"), [((90.0, 90.0), "open"), ((45.0, 40.0), "part way open"), ((20.0, 0.0), "part way open")]
)
def test_it_stands_where_it_was_left_and_closes_from_there(angles: tuple[float, float], state: str) -> None:
    """Within a few degrees: a leaf that is let go runs on a little."""
    world = World(SITE, seed=3, arrival=Arrival(sheet=SHEET, learned=True, angles_deg=angles))
    assert stands(world) == pytest.approx(angles, abs=4.0)
    assert world.controller.panel().state == state
    world.do(checked("press", {"control": "close button"}))
    world.do(checked("wait", {"seconds": 0.5}))
    world.do(checked("release", {"control": "close button"}))
    world.do(checked("wait until", {"what": "fully closed", "at_most_s": 90.0}))
    assert stands(world) == pytest.approx((0.0, 0.0), abs=2.0)


def test_a_fault_comes_when_it_stands_there() -> None:
    """What keeps an open gate from shutting has not kept it from opening before."""
    faults = (("edge line broken", 1.0),)
    world = World(SITE, seed=3, arrival=Arrival(sheet=SHEET, learned=True, angles_deg=(90.0, 90.0), faults=faults))
    assert world.controller.panel().state == "open"
    world.do(checked("press", {"control": "close button"}))
    world.do(checked("wait", {"seconds": 5.0}))
    assert stands(world)[0] > 85.0
