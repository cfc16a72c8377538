"""Hold-to-run and emergency access on the real gate: how far a leaf runs on, and what it meets."""

from __future__ import annotations

import math
from typing import Any

import pytest

from sim.bench.trial import as_installed
from sim.site import Site, with_changes
from sim.units import SCAN, SECOND
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World

PAIR = {"open and close buttons": "hold-to-run"}

OVERTRAVEL_MM = 60.0
"""How far a closing edge may run on after the control is let go: the working travel of a deep soft edge is 50 mm and
more (facts 2.2, common practice), so what it touches at that moment is not yet hard pressed. No source of its own."""


def gate(site: Site, *, dense: bool = False, **changes: Any) -> World:
    made = with_changes(site, changes)
    return World(made, arrival=Arrival(sheet={**as_installed(made).sheet, **PAIR}, learned=True), every_scan=dense)


def do(world: World, kind: str, seconds: float = 0.0, **arguments: object) -> None:
    world.do(checked(kind, arguments))
    world.run_to(world.now + round(seconds * SECOND))


def edges_mm(world: World) -> list[float]:
    widths = [leaf.width_m for leaf in world.site.leaves.pair]
    return [world.plant.angle(leaf) * width * 1000.0 for leaf, width in enumerate(widths)]


@pytest.mark.parametrize("way", ["open button", "close button"])
@pytest.mark.parametrize("after_s", [6.0, 9.0])
def test_let_go_the_leaves_stand_within_their_overtravel(site: Site, way: str, after_s: float) -> None:
    """Released in the middle of the travel, both ways: neither edge goes further than its overtravel, ever."""
    world = gate(site)
    do(world, "press", 14.0, control="open button")
    do(world, "release", 2.0, control="open button")
    before = edges_mm(world)
    do(world, "press", after_s, control=way)
    assert max(abs(now - was) for was, now in zip(before, edges_mm(world), strict=True)) > 50.0
    at = edges_mm(world)
    do(world, "release", 0.0, control=way)
    for _ in range(5 * SECOND // SCAN):
        world.run_to(world.now + SCAN)
        assert all(abs(now - was) <= OVERTRAVEL_MM for was, now in zip(at, edges_mm(world), strict=True))
    assert world.rests()


def test_held_to_the_end_both_ways_it_opens_and_shuts_in_order(site: Site) -> None:
    """No leaf meets the other: held, the gate opens wholly, and shuts wholly, with nothing clashing.

    So slow a closing is longer than the run-time limit of the sheet: it ends there, and is given again.
    """
    world = gate(site)
    do(world, "press", 60.0, control="open button")
    assert world.stands(fully_open=True)
    do(world, "release", 1.0, control="open button")
    do(world, "press", 70.0, control="close button")
    assert world.controller.panel().message == "held too long"
    do(world, "release", 1.0, control="close button")
    do(world, "press", 30.0, control="close button")
    assert world.stands(fully_open=False)
    assert not any(event.kind == "clash" for event in world.events)


def test_what_the_edge_touches_under_a_hand_is_freed(site: Site) -> None:
    """A test body at the meeting edge: the leaf backs off though the button is held on, and nothing stays pressed."""
    world = gate(site)
    do(world, "press", 60.0, control="open button")
    do(world, "release", 1.0, control="open button")
    leaf = world.site.leaves.active.width_m
    place = round(leaf * math.cos(math.radians(45.0)), 3)
    do(world, "place body", 1.0, body="test body", x_m=place, y_m=place)
    do(world, "press", 60.0, control="close button")
    assert "backing off: active edge reads pressed" in [text for _, text in world.controller.panel().log]
    assert world.plant.contact_force(0) == 0.0
    assert world.rests()


def test_asked_more_often_it_is_the_same_gate(site: Site) -> None:
    """The twin that is scanned every ten milliseconds tells the same story to the same instant."""
    stories = []
    for dense in (False, True):
        world = gate(site, dense=dense, **{"access.emergency": {}, "controls": ["open button", "close button"]})
        do(world, "press", 8.0, control="open button")
        do(world, "release", 1.0, control="open button")
        do(world, "press", 4.0, control="close button")
        do(world, "press", 1.0, control="emergency contact")
        do(world, "release", 40.0, control="close button")
        assert world.stands(fully_open=True)
        stories.append((world.digest(), world.controller.panel().log, edges_mm(world)))
    assert stories[0] == stories[1]
