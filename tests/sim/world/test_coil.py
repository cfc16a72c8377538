"""The coil of the lock: a pulse leaves it cold; fed for long it gets hot by its loss and takes less current."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.site import load_site
from sim.units import MINUTE, SECOND
from sim.world.world import World

BENCH = Path(__file__).parents[3] / "scenarios" / "sites" / "reference_bench.yaml"
RISE_PER_W = 4.0
"""A quarter of a watt leaves it for each kelvin [K/W]."""
COPPER = 0.00393
"""Of copper at 20 °C [1/K] (facts, from a handbook)."""


@pytest.fixture
def world() -> World:
    """The bench, a second after its board came up."""
    made = World(load_site(BENCH))
    made.run_to(made.now + SECOND)
    return made


def feed(world: World, on: bool) -> None:
    """As the board does it."""
    world.cabinet.set_lock(on)
    world.host.rewired()


def coil_a(world: World) -> float:
    """What it takes now [A]."""
    world.cabinet.settle()
    return float(world.cabinet.netlist.solution().current("lock, coil").real)


def coil_ohm(world: World) -> float:
    """Coil and warmth [Ω]."""
    net = world.cabinet.netlist
    return float(sum(net[name].ohm for name in ("lock, coil", "lock, warmth of the coil")))


def test_a_pulse_leaves_it_cold(world: World) -> None:
    """Three seconds at 15 W into 120 J/K: under half a kelvin, and no step of its resistance."""
    cold = coil_ohm(world)
    feed(world, on=True)
    world.run_to(world.now + 3 * SECOND)
    feed(world, on=False)
    assert 0.2 < world.coil.rise_k() < 0.5
    assert coil_ohm(world) == cold


def test_fed_for_long_it_is_hot_and_takes_less(world: World) -> None:
    """In the end its rise is its loss times its resistance to heat, and its ohms those of copper as warm as that."""
    feed(world, on=True)
    world.run_to(world.now + SECOND)
    cold_a = coil_a(world)
    world.run_to(world.now + 60 * MINUTE)
    hot_a, ohm = coil_a(world), coil_ohm(world)
    assert world.coil.rise_k() == pytest.approx(RISE_PER_W * hot_a**2 * ohm, abs=1.5)
    assert ohm == pytest.approx(9.6 * (1.0 + COPPER * world.coil.rise_k()), abs=0.06)
    assert hot_a < 0.9 * cold_a
    feed(world, on=False)
    world.run_to(world.now + 60 * MINUTE)
    assert coil_ohm(world) == pytest.approx(9.6, abs=0.05)


def test_it_warms_the_same_however_time_is_cut() -> None:
    """Ten minutes in one piece and in pieces of three seconds: one digest."""
    digests = []
    for piece in (10 * MINUTE, 3 * SECOND):
        world = World(load_site(BENCH), seed=2)
        world.run_to(world.now + SECOND)
        feed(world, on=True)
        end = world.now + 10 * MINUTE
        while world.now < end:
            world.run_to(min(end, world.now + piece))
        digests.append(world.digest())
    assert digests[0] == digests[1]
