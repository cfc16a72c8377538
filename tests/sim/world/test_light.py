"""What sways into a beam and what shines into it: at which instants it changes, and that nothing is asked between."""

from __future__ import annotations

import math
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from sim.devices import optics
from sim.devices.beam import RELEASE
from sim.mechanics import gust
from sim.site import load_site, with_changes
from sim.units import MINUTE, SCAN, SECOND
from sim.world.arrival import Arrival
from sim.world.beams import KNOT
from sim.world.meddling import Meddling, meddle
from sim.world.world import World

BENCH = load_site(Path(__file__).parents[3] / "scenarios" / "sites" / "reference_bench.yaml")

BREEZE: dict[str, Any] = {
    "weather.wind_m_s": 7.0,
    "weather.wind_from_deg": 180.0,
    "weather.gust_intensity": 0.3,
    "surroundings.foliage.0.along_y_m": 0.95,
}
EVENING: dict[str, Any] = {
    "surroundings.day": 96,
    "starts_at_h": 17.4,
    "weather.sunshine": 1.0,
    "guards.outer_beam.hood_deg": 90.0,
}


def yard(changes: Mapping[str, Any], *, seed: int = 4, every_scan: bool = False) -> World:
    site = with_changes(BENCH, changes) if changes else BENCH
    return World(site, seed=seed, arrival=Arrival(), every_scan=every_scan)


def changes_of(world: World, guard: str = "outer beam") -> list[int]:
    """When a guard tripped or cleared [µs]."""
    return [e.at for e in world.events if e.kind == "guard" and e.data["guard"] == guard]


def queued(world: World) -> list[str]:
    return [getattr(entry[3], "name", "") for entry in world.clock._queue]


def test_a_branch_sways_through_the_beam_at_knots_of_the_gusts() -> None:
    """It trips and clears at knots and nowhere else, where the gust's own formula bends the branch that far."""
    world = yard(BREEZE)
    began = world.now
    world.run_to(began + 5 * MINUTE)
    found = changes_of(world)
    assert len(found) >= 4
    assert all(at % KNOT == 0 for at in found)
    bush = world.site.surroundings.foliage[0]
    gap = world.site.guards.outer_beam.y_m - (bush.y_m + bush.along_y_m / 2.0)  # type: ignore[union-attr]
    first = began // KNOT + 1
    values = gust.knots(4, world.site.weather.gust_time_s, first, (world.now - began) // KNOT)
    # the wind bends it by its square: 0.2 m at 10 m/s
    within = [bush.sway_m * (7.0 * (1.0 + 0.3 * value) / 10.0) ** 2 >= gap for value in values]
    by_hand = [
        (first + index) * KNOT
        for index, (before, now) in enumerate(zip([False, *within], within, strict=False))
        if before is not now and (first + index) * KNOT < world.now
    ]
    assert found == by_hand


def test_swaying_is_the_same_however_the_run_is_cut() -> None:
    """In one piece, in crumbs, and with a controller asked at every scan instant."""
    digests = []
    for piece, every_scan in ((90 * SECOND, False), (13 * SCAN, False), (90 * SECOND, True)):
        world = yard(BREEZE, every_scan=every_scan)
        end = world.now + 90 * SECOND
        while world.now < end:
            world.run_to(min(end, world.now + piece))
        assert changes_of(world)
        digests.append(world.digest())
    assert len(set(digests)) == 1


def test_nothing_is_queued_where_nothing_can_sway_or_shine() -> None:
    """In calm air, in steady wind, with the bush out of reach of any gust, under clouds: nothing waits."""
    steady = {**BREEZE, "weather.gust_intensity": 0.0}
    far = {**BREEZE, "surroundings.foliage.0.y_m": -9.0, "surroundings.mirrors": []}
    for changes in ({}, {"surroundings.foliage.0.along_y_m": 0.95}, steady, far, {"starts_at_h": 17.4}):
        world = yard(changes)
        world.run_to(world.now + SECOND)
        assert not [name for name in queued(world) if "in a photo beam" in name]
    assert [name for name in queued(yard(BREEZE)) if "foliage in a photo beam" in name]


def test_the_sun_comes_into_the_lens_at_a_whole_minute_and_goes() -> None:
    """It is looked for ahead: one instant is queued. The contact opens at a whole minute of the visible clock, when
    what the receiver needs has grown beyond what comes, and closes again after sunset."""
    world = yard(EVENING)
    world.run_to(world.now + SECOND)
    assert len([name for name in queued(world) if name == "sun in a photo beam"]) == 1
    began = world.arrived
    world.run_to(world.now + 150 * MINUTE)
    found = changes_of(world)
    assert len(found) == 2
    assert all((at - began) % MINUTE == 0 for at in found)
    beam = optics.beams_of(world.site)["outer beam"]
    for at, sign, enough in zip(found, (1, -1), (RELEASE, 1.0), strict=True):
        minute = (at - began) // MINUTE

        def light(minute: int) -> float:
            sun = optics.sun_over(world.site.surroundings, world.site.starts_at_h + minute / 60.0)
            scene = optics.in_weather(world.site, world.weather, sun=sun)
            return dict(optics.light_at(scene, "outer beam"))["outer beam"]

        # a change of less than 2 % of what it needs is let pass: a minute may be early or late by that
        assert (light(minute) - enough) * sign < 0.04
        assert (light(minute - 2) - enough) * sign > -0.04
    assert beam.hood_deg == 90.0


def test_the_instructor_brings_rain_fog_and_sun() -> None:
    """Weather that changes while the gate stands changes what comes to the lenses at once, and back."""
    world = yard({"guards.outer_beam.rain_loss": 0.5})
    before = world.cabinet.beam_margin("outer beam")
    assert before is not None
    meddle(world, Meddling("weather", values={"rain_mm_h": 10.0}))
    wet = world.cabinet.beam_margin("outer beam")
    # half at each lens, and half a per cent in the air between
    assert wet == pytest.approx(0.25 * before * optics.air_share(4.42, math.inf, 10.0))
    meddle(world, Meddling("weather", values={"rain_mm_h": 0.0, "visibility_m": 20.0}))
    foggy = world.cabinet.beam_margin("outer beam")
    assert foggy == pytest.approx(before * optics.air_share(4.42, 20.0) / optics.air_share(4.42, 20_000.0))
    meddle(world, Meddling("weather", values={"visibility_m": 20_000.0}))
    assert world.cabinet.beam_margin("outer beam") == before
