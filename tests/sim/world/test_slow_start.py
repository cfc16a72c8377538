"""Where closing goes slow: told of the whole closing, also where a leaf waits for the other one on its way."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from sim.bench.trial import as_installed
from sim.site import load_site
from sim.units import SECOND, Us
from sim.world.actions import checked
from sim.world.effects.timing import condition
from sim.world.standing import standing
from sim.world.world import World

SITES = Path(__file__).parents[3] / "scenarios" / "sites"


def closed_with(zone: float) -> float | None:
    """The gap at which closing went slow, with a slow zone of so many percent of the travel [m]."""
    site = load_site(SITES / "steep_garth.yaml")
    found = as_installed(site)
    world = World(site, seed=0, arrival=replace(found, sheet={**found.sheet, "slow zone before stop": zone}))
    for button, state in (("open button", "open"), ("close button", "closed")):
        world.do(checked("press", {"control": button}))
        world.run_to(Us(world.now + SECOND))
        world.do(checked("release", {"control": button}))
        world.run_to(Us(world.now + 90 * SECOND), condition(world, f"fully {state}"))
        assert world.headline().state == state
    return standing(world).slow_start_gap_m


def test_a_leaf_that_waits_within_its_slow_zone_wipes_out_nothing() -> None:
    """The last leaf home halts on its way until the first is home, and goes on slowly. That is the same closing: the
    gap at which the first one went slow still stands, and the longer the zone the wider it is (common practice)."""
    short, longer, longest = (closed_with(zone) for zone in (20.0, 28.0, 35.0))
    assert short is not None
    assert longer is not None
    assert longest is not None
    assert 0.0 < short < longer < longest
