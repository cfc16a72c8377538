"""Tellegen's theorem on the real thing: in every state the nets of a gate go through in a whole cycle, the sources
give what the rest takes. The theorem holds for any network that keeps Kirchhoff's laws, whatever it is made of."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.bench.trial import as_installed
from sim.devices.cabinet import Live
from sim.instruments.course import live_now
from sim.site import load_site
from sim.units import SECOND
from sim.wiring.elements import Element
from sim.wiring.reduction import operating_point
from sim.wiring.solve import solve
from sim.world.actions import checked
from sim.world.world import World

BENCH = Path(__file__).resolve().parents[2] / "scenarios" / "sites" / "reference_bench.yaml"


def worst(key: tuple[Element, ...]) -> float:
    """What is left over of all powers, as a share of all that is given or taken."""
    solved = solve(key)
    powers = [complex(solved.power(element.name)) for element in key]
    size = sum(abs(power) for power in powers)
    return abs(sum(powers)) / size if size else 0.0


@pytest.fixture(scope="module")
def states() -> tuple[list[tuple[Element, ...]], list[tuple[Element, ...]]]:
    """Every different state of both nets in a whole cycle, with mains and then from the battery."""
    world = World(load_site(BENCH), arrival=as_installed(load_site(BENCH)))
    low: dict[tuple[Element, ...], None] = {}
    mains: dict[tuple[Element, ...], None] = {}

    def seen() -> None:
        low[world.cabinet.netlist.key] = None
        mains[world.cabinet.mains.key] = None

    world.host.changed.append(seen)
    for act in ("", "isolate"):
        if act:
            world.do(checked(act, {}))
        for control, until in (("open button", "fully open"), ("close button", "fully closed")):
            world.do(checked("press", {"control": control}))
            world.run_to(world.now + SECOND // 2)
            world.do(checked("release", {"control": control}))
            assert world.do(checked("wait until", {"what": until, "at_most_s": 90.0})).endswith("yes.")
    return list(low), list(mains)


def test_every_state_of_the_low_voltage_side(states) -> None:  # type: ignore[no-untyped-def]
    """Nothing is left over but rounding: insulation of gigaohms and screws of micro-ohms stand in one net."""
    assert len(states[0]) >= 8
    assert max(worst(key) for key in states[0]) < 1e-6


def test_every_state_of_the_mains_side(states) -> None:  # type: ignore[no-untyped-def]
    """The same of complex powers."""
    assert len(states[1]) >= 2
    assert max(worst(key) for key in states[1]) < 1e-6


def left_over(world: World, live: Live, *, stages: bool = True) -> float:
    """The same while the drives run: currents that the kernel found, power stages as loads and as sources."""
    driven, look = world.cabinet.driven(world.host.drives.signs), world.cabinet.look()
    drawn = operating_point(driven.network, driven.ports, live.duty, live.motor_a, live.emf_v)
    powers = [(look.volts(e.a, e.b, live) or 0.0) * look.amps(e.name, live) for e in driven.key]
    for leaf, port in enumerate(driven.ports if stages else ()):
        powers.append((look.volts(port.input_plus, port.input_minus, live) or 0.0) * drawn.input_a[leaf])
    return abs(sum(powers)) / sum(abs(power) for power in powers)


def test_while_the_drives_run() -> None:
    """Four times a second through an opening: supply, battery, cables, motors and stages balance; with the power
    stages' own intake left out they don't."""
    world = World(load_site(BENCH), arrival=as_installed(load_site(BENCH)))
    world.do(checked("press", {"control": "open button"}))
    world.run_to(world.now + SECOND // 2)
    world.do(checked("release", {"control": "open button"}))
    found, without = [], []
    for _ in range(60):
        world.run_to(world.now + SECOND // 4)
        live = live_now(world)
        if max(abs(amps) for amps in live.motor_a) > 0.5:
            found.append(left_over(world, live))
            without.append(left_over(world, live, stages=False))
    assert len(found) > 30
    assert max(found) < 1e-6
    assert min(without) > 0.01
