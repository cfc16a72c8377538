"""The signal-margin reader at a beam of the bench."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.instruments.toolbag import Toolbag
from sim.site import load_site, with_changes
from sim.units import SECOND
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.history import Event
from sim.world.world import World

BENCH = load_site(Path(__file__).parents[3] / "scenarios" / "sites" / "reference_bench.yaml")


@pytest.fixture
def world() -> World:
    return World(BENCH, seed=3, bag=Toolbag, arrival=Arrival())


def do(world: World, kind: str, **arguments: object) -> str:
    return world.do(checked(kind, arguments))  # type: ignore[arg-type]


def read(world: World) -> Event:
    do(world, "read instrument", instrument="signal margin reader")
    return [event for event in world.events if event.kind == "reading"][-1]


def plug(world: World, guard: str = "outer beam") -> None:
    do(world, "place instrument", instrument="signal margin reader", function="signal margin", at=guard)


def test_it_reads_what_comes_over_what_is_needed(world: World) -> None:
    """(15 m / 4.42 m)² in clear air, to its fineness and noise; a lens of which half is dirty gives half."""
    plug(world)
    assert float(read(world).data["value"]) == pytest.approx((15.0 / 4.42) ** 2, rel=0.05)
    world.refit(with_changes(world.site, {"guards.outer_beam.receiver_dirt": 0.5}))
    assert float(read(world).data["value"]) == pytest.approx((15.0 / 4.42) ** 2 / 2.0, rel=0.05)


def test_it_remembers_the_least_since_it_was_plugged_in(world: World) -> None:
    """Somebody walks through the beam and is gone: now it reads as before, at its least it read nothing."""
    plug(world)
    do(world, "walk body", body="adult", path="2.0,-2.0 2.0,-0.3 2.0,-2.0", speed_m_s=1.5)
    world.run_to(world.now + 5 * SECOND)
    told = read(world).data
    assert float(told["least"]) == 0.0
    assert float(told["value"]) > 10.0
    assert float(told["most"]) >= float(told["value"]) * 0.95


def test_without_feed_it_reads_nothing(world: World) -> None:
    """A receiver that is dark has no margin; one whose emitter is dark has one of 0."""
    plug(world)
    do(world, "unplug", guard="emitter supply")
    assert float(read(world).data["value"]) == 0.0
    do(world, "unplug", guard="accessory supply")
    assert "no feed" in do(world, "read instrument", instrument="signal margin reader")


def test_only_at_a_beam(world: World) -> None:
    """An edge has no light: refused in words."""
    said = do(
        world, "place instrument", instrument="signal margin reader", function="signal margin", at="active edge"
    )
    assert "no photo beam's receiver" in said


@pytest.mark.parametrize(
    ("what", "sound", "key", "value", "seen"),
    [
        ("light of a photo beam", "light is on", "guards.outer_beam.receiver_dirt", 0.99, "light is out"),
        ("lenses of a photo beam", "are clear", "guards.outer_beam.emitter_dirt", 0.5, "on the emitter's lens"),
        ("lenses of a photo beam", "a hood", "guards.outer_beam.hood_deg", 90.0, "no hood"),
        (
            "posts of a photo beam",
            "at each other",
            "guards.outer_beam.receiver_aim_deg",
            -20.0,
            "receiver looks past",
        ),
        ("posts of a photo beam", "at each other", "guards.outer_beam.emitter_lean_deg", 20.0, "emitter looks past"),
        ("what is near a photo beam", "nothing", "surroundings.foliage.0.along_y_m", 0.95, "box bush reaches"),
        ("what is near a photo beam", "nothing", "surroundings.mirrors.0.reflectance", 0.8, "garage door shines"),
    ],
)
def test_what_the_eye_sees_of_a_beam(world: World, what: str, sound: str, key: str, value: float, seen: str) -> None:
    """A fact that changed is seen, in words; before, it was not."""

    def look() -> str:
        return do(world, "measure", instrument="look", function=what, at="outer beam")

    assert sound in look()
    world.refit(with_changes(world.site, {key: value}))
    assert seen in look()


def test_plugged_in_it_changes_nothing(world: World) -> None:
    """It reads; the gate with it is the gate without it, and lifted it leaves no listener."""
    listeners = len(world.host.changed), len(world.people.beams.listeners)
    plug(world)
    do(world, "lift instrument", instrument="signal margin reader")
    assert (len(world.host.changed), len(world.people.beams.listeners)) == listeners
