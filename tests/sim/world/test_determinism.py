"""Same site, seed and acts give the same run, however it is cut, watched or scanned."""

from __future__ import annotations

import random
from collections.abc import Iterable

import pytest

from sim.controller.ports import Controller
from sim.controller.readable import ReadableController
from sim.instruments.toolbag import Toolbag
from sim.site import Site
from sim.units import SECOND, Us
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World

Play = list[tuple[float, str, dict[str, object]]]

SHEET = {
    "inner beam": "not fitted",
    "outer beam": "reopen",
    "leaves fitted": "2",
    "drive kind": "linear ram",
    "leaf delay, opening": 3.0,
    "leaf delay, closing": 5.0,
    "slow zone before stop": 25.0,
    "auto-close": "on",
    "auto-close after": 5.0,
}

PASSAGE: Play = [
    (1.0, "press", {"control": "open button"}),
    (1.5, "release", {"control": "open button"}),
    (40.0, "press", {"control": "close button"}),
    (40.5, "release", {"control": "close button"}),
    (48.0, "cover beam", {"guard": "outer beam"}),
    (52.0, "uncover beam", {"guard": "outer beam"}),
    (90.0, "place body", {"body": "adult", "x_m": 2.0, "y_m": 1.0}),
    (140.0, "remove body", {"body": "adult"}),
    (150.0, "press", {"control": "stop button"}),
    (151.0, "release", {"control": "stop button"}),
]
"""A visit with a reversal, somebody in the arc, and a stop."""

LONG = Us(200 * SECOND)


def world_of(site: Site, *, every_scan: bool = False, controller: Controller | None = None) -> World:
    """A gate found commissioned and learned."""
    arrival = Arrival(sheet={**SHEET, "opens first": site.opens_first}, learned=True)
    return World(site, seed=7, bag=Toolbag, arrival=arrival, every_scan=every_scan, controller=controller)


def played(world: World, play: Play, cuts: Iterable[int] = ()) -> str:
    """The digest after a play, run in pieces that end at `cuts` [µs since arrival]."""
    zero = world.arrived
    ends = sorted({*(cut for cut in cuts if cut < LONG), *(round(at * SECOND) for at, _, _ in play), LONG})
    acts = {round(at * SECOND): (kind, arguments) for at, kind, arguments in play}
    for end in ends:
        world.run_to(zero + end)
        if end in acts:
            kind, arguments = acts[end]
            world.do(checked(kind, arguments))
    return world.digest()


@pytest.fixture(scope="module")
def once(site: Site) -> str:
    """The digest of the play in one go."""
    return played(world_of(site), PASSAGE)


def test_the_same_acts_give_the_same_run(site: Site, once: str) -> None:
    """Twice the same, bit for bit."""
    assert played(world_of(site), PASSAGE) == once


@pytest.mark.parametrize("seed", range(3))
def test_how_a_run_is_cut_changes_nothing(site: Site, once: str, seed: int) -> None:
    """Random tick sizes, as frames make them, give the digest of one go."""
    chance = random.Random(seed)
    cuts, at = [], 0
    while at < LONG:
        at += chance.choice((10_000, 20_000, 170_000, 1_000_000, 9_990_000))
        cuts.append(at)
    assert played(world_of(site), PASSAGE, cuts) == once


def test_scanning_every_ten_milliseconds_changes_nothing(site: Site, once: str) -> None:
    """Run-to-event is the every-scan run, bit for bit: the controller may sleep, the gate may not notice."""
    watched, dense = world_of(site), world_of(site, every_scan=True)
    assert played(dense, PASSAGE) == played(watched, PASSAGE) == once
    assert watched.host.scans < dense.host.scans / 10


@pytest.mark.slow
def test_whole_turns_at_every_scan_change_nothing(site: Site, once: str) -> None:
    """On real copper and real leaves too, the controller's readable form does to the bit what its short way does."""
    world = world_of(site, every_scan=True, controller=ReadableController())
    assert played(world, PASSAGE) == once


def test_recording_changes_nothing(site: Site, once: str) -> None:
    """With the recorder off the same things happen."""
    world = world_of(site)
    world.plant.record(False)
    assert played(world, PASSAGE) == once


def test_another_act_gives_another_run(site: Site, once: str) -> None:
    """The digest does tell runs apart."""
    other = [*PASSAGE[:-1], (151.01, "release", {"control": "stop button"})]
    assert played(world_of(site), other) != once
