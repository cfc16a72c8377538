"""A whole cycle (open, dwell 30 s, close) with its controller and its recording, against the naive loop."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from types import ModuleType

import pytest

from sim.bench.trial import as_installed
from sim.kernel import compiler
from sim.site import load_site
from sim.units import SECOND, to_seconds
from sim.world.actions import checked
from sim.world.world import World

pytestmark = pytest.mark.benchmark

ROOT = Path(__file__).resolve().parents[2]

BAR = 25.0
"""The product must be at least this many times as fast as the naive loop, in one run."""

DWELL = 30

CYCLES = 4
"""Run in each turn: one is over in less than ten milliseconds, much of it spent on coming back after the other."""


@pytest.fixture(scope="module")
def world() -> World:
    """A gate that is set up and has learned its travel."""
    if not compiler.load():
        pytest.skip("the compiler is not there or switched off, and a whole cycle is judged compiled")
    site = load_site(ROOT / "scenarios/sites/mill_lane.yaml")
    return World(site, arrival=as_installed(site))


def cycle(world: World) -> float:
    """Open, wait, close, as one presses the buttons; returns the simulated seconds it took."""
    began = world.now
    for control, open_ in (("open button", True), ("close button", False)):
        world.do(checked("press", {"control": control}))
        world.run_to(world.now + SECOND // 2)
        world.do(checked("release", {"control": control}))
        until = "fully open" if open_ else "fully closed"
        said = world.do(checked("wait until", {"what": until, "at_most_s": 90.0}))
        assert said.endswith("yes."), said
        if open_:
            world.run_to(world.now + DWELL * SECOND)
    return to_seconds(world.now - began)


def test_a_whole_cycle_against_the_naive_loop(
    world: World,
    naive: ModuleType,
    in_turn: Callable[[Mapping[str, Callable[[], float]], int], dict[str, list[float]]],
    ratio: Callable[[list[float], list[float]], float],
) -> None:
    """Run to the next event, the whole product is at least 25 times as fast as visiting every millisecond."""
    naive_seconds = 82.0

    def visit_every_millisecond() -> float:
        gate = naive.run(naive_seconds, dwell=float(DWELL))
        assert gate.log[-1][1] == "resting"
        return naive_seconds

    def several_cycles() -> float:
        return sum(cycle(world) for _ in range(CYCLES))

    rates = in_turn({"product": several_cycles, "naive": visit_every_millisecond}, 5)
    times = ratio(rates["product"], rates["naive"])
    print(f"\nwhole cycle: {times:.0f} times the naive loop (bar {BAR:g}); simulated seconds per second:")
    for name, values in rates.items():
        print(f"  {name:8s} {sorted(values)[len(values) // 2]:10.0f}")
    assert times >= BAR
