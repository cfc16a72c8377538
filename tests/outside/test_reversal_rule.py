"""What the alternative rule set asks after a contact, on the real gates: back within 2 s, and by 50.8 mm at the edge.

Facts 2.6, "obstruction response": restated on trade pages, seen. The other rule set limits the force, which
is tested where it is measured.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from sim.bench.trial import CLOSERS, OPENERS, as_installed
from sim.instruments.reversal import judge_reversal, reversal
from sim.instruments.rule_sets import REVERSAL
from sim.site import Site, load_site
from sim.units import LEAVES, SCAN, SECOND
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World

SITES = Path(__file__).parents[2] / "scenarios" / "sites"
GATES = ("mill_lane", "orchard_row", "walnut_court", "ferry_terrace", "brick_field")
"""Rams, drives in the ground, arms that push, and motors on the mains."""

AT_DEG = 45.0
"""Where the thing stands in the way of the leaf that opens first."""

LEAST = {"back-off distance": 4.0}
"""The least that the sheet allows; whatever it says, the rule must hold."""


def tap(world: World, controls: tuple[str, ...]) -> None:
    control = next(name for name in controls if name in world.site.controls)
    world.do(checked("press", {"control": control}))
    world.run_to(world.now + SECOND // 5)
    world.do(checked("release", {"control": control}))


def put_in_the_way(world: World, leaf: int, share: float) -> None:
    """A test body on the leaf's arc, at a share of its width from the hinge."""
    site = world.site
    reach = share * site.leaves.pair[leaf].width_m
    along, inside = reach * math.cos(math.radians(AT_DEG)), reach * math.sin(math.radians(AT_DEG))
    place = {
        "body": "test body",
        "x_m": round(along if leaf == 0 else site.opening_width_m - along, 3),
        "y_m": round(inside if site.opens_towards == "inside" else -inside, 3),
    }
    world.do(checked("place body", place))


def recorded(world: World, leaf: int, sign: float) -> tuple[list[float], list[float], float | None]:
    """(times [s], how far the edge is on its way [mm], when the body was met) for 30 s."""
    width = world.site.leaves.pair[leaf].width_m
    times, places, met = [], [], None
    for _ in range(30 * SECOND // SCAN):
        world.run_to(world.now + SCAN)
        angle = world.plant.angle(leaf)
        times.append(world.now / SECOND)
        places.append(sign * angle * width * 1000.0)
        near = abs(math.degrees(angle) - AT_DEG) < 20.0
        if met is None and near and world.plant.contact_force(leaf) > 5.0:
            met = times[-1]
    return times, places, met


def learned(site: Site) -> World:
    return World(site, arrival=Arrival(sheet={**as_installed(site).sheet, **LEAST}, learned=True))


@pytest.mark.parametrize("share", [0.85, 1.0], ids=["beside the edge", "at the edge"])
@pytest.mark.parametrize("way", ["closing", "opening"])
@pytest.mark.parametrize("name", GATES)
def test_after_a_contact_it_goes_back_in_time_and_far_enough(name: str, way: str, share: float) -> None:
    """Felt by the edge or by effort alone, opening or closing: it begins within 2 s and frees at least 50.8 mm."""
    world = learned(load_site(SITES / f"{name}.yaml"))
    leaf = LEAVES.index(world.site.opens_first)
    if way == "closing":
        tap(world, OPENERS)
        world.run_to(world.now + 45 * SECOND)
        assert world.stands(fully_open=True)
    put_in_the_way(world, leaf, share)
    tap(world, OPENERS if way == "opening" else CLOSERS)
    times, places, met = recorded(world, leaf, 1.0 if way == "opening" else -1.0)
    assert met is not None, "nothing was met: the play shows nothing"
    verdict = judge_reversal(reversal(times, places, met), REVERSAL)
    assert verdict.outcome == "met", str(verdict)
