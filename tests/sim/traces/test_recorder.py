"""A real world's recording: reading it changes nothing, and how the run was cut shows nowhere in it."""

from __future__ import annotations

import random
from pathlib import Path

import numpy as np
import pytest

from sim.bench.trial import as_installed
from sim.site import Site, load_site
from sim.traces.digest import trace_digest
from sim.traces.query import Span, never_while, rose, spans, spans_of
from sim.traces.recorder import STATE, trace
from sim.traces.signal import Trace
from sim.units import SECOND
from sim.world.actions import checked
from sim.world.world import World

SITES = Path(__file__).parents[3] / "scenarios" / "sites"


@pytest.fixture(scope="module")
def site() -> Site:
    return load_site(min(SITES.glob("*.yaml")))


def opened(site: Site, slices: random.Random | None = None) -> World:
    """A gate that was told to open, six seconds later; run in one piece, or in pieces of random size."""
    world = World(site, arrival=as_installed(site))
    control = next(name for name in ("open button", "step button") if name in site.controls)
    end = world.now + 6 * SECOND
    world.do(checked("press", {"control": control}))
    while slices is not None and world.now < end - SECOND:
        world.run_to(world.now + slices.randrange(10_000, SECOND))
    world.run_to(end)
    return world


@pytest.fixture(scope="module")
def world(site: Site) -> World:
    return opened(site)


def test_how_a_run_is_cut_shows_nowhere(site: Site, world: World) -> None:
    """Law 1: run in one piece or in random slices, the trace is the same bit for bit."""
    assert trace_digest(trace(opened(site, random.Random(5)))) == trace_digest(trace(world))


def test_reading_a_trace_changes_nothing(world: World) -> None:
    """A trace is a look: the world's digest and the trace itself are the same after it."""
    before, first = world.digest(), trace_digest(trace(world))
    assert trace_digest(trace(world)) == first
    assert world.digest() == before


def test_the_trace_tells_what_happened(world: World) -> None:
    """The controller's state in words, the pressed control, the leaf that moves only while the gate opens."""
    taken: Trace = trace(world)
    assert taken.time_us[0] == 0, "a trace begins when the gate was found, even if it rested then"
    opening = spans_of(taken, STATE, lambda state: state == "opening")
    assert len(rose(opening)) == 1
    resting = [Span(int(taken.time_us[0]), opening[0].start)]
    leaf = world.site.opens_first
    assert float(taken[f"{leaf} leaf angle"][-1]) > 2.0
    moving = spans(taken, f"{leaf} leaf angle", lambda angle: angle > angle[0] + 0.5)
    assert never_while(moving, resting) is None
    assert np.array_equal(np.unique(taken["any control pressed"]), [1.0])
