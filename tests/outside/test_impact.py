"""Impact of a leaf on the force gauge, against the fact sheet's arithmetic and against converged runs.

The sheet's numbered values stand in the table of check values: a single leaf released from its drive, without
friction, met at 2.0 m, raw force of the spring. With the drive behind it and the amplifier, a run with finer and
finer steps is the judge.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from sim.kernel import compiler
from sim.kernel.network import DriveNetwork
from sim.mechanics.obstacle import force_gauge
from sim.mechanics.plant import GaugeCurve, Plant
from sim.site.models import Edge, Site
from sim.units import Us


@pytest.fixture(autouse=True, scope="module")
def compiled() -> None:
    """On the compiled kernel where there is one; both forms give the same bits by another test."""
    compiler.load()


def test_time_to_peak_with_an_edge(rig: Any) -> None:
    """Facts 6.2: with the edge in series the peak comes after about 71.6 ms, within 2 %."""
    curve = rig.strike(0.2, edge=Edge(stiffness_n_m=20_000.0))
    assert rig.time_of_peak(curve) == pytest.approx(0.0716, rel=0.02)


def test_the_curve_is_half_a_sine(rig: Any) -> None:
    """A mass on a spring: F(t) = v·√(k·m)·sin(t·√(k/m)) from first touch to release, sample by sample (textbook)."""
    curve = rig.strike(0.2)
    inside = curve.time_s < math.pi * math.sqrt(40 / 5e5)
    exact = 0.2 * math.sqrt(5e5 * 40) * np.sin(curve.time_s[inside] * math.sqrt(5e5 / 40))
    assert np.max(np.abs(curve.raw_n[inside] - exact)) < 0.02 * 894.43
    assert np.max(curve.raw_n[~inside]) < 0.02 * 894.43


@pytest.mark.parametrize(("radius", "thrust"), [(2.0, 400.0), (0.5, 150.0), (0.1, 150.0)])
def test_the_spring_gives_as_its_rate_says(rig: Any, radius: float, thrust: float) -> None:
    """At rest the gauge is pressed by force/rate, 500 N/mm (facts 1.3), wherever on the leaf it stands."""
    force, give = rig.press(radius, thrust)
    assert force == pytest.approx(thrust * 2.0 / radius, rel=0.005)
    assert give == pytest.approx(force / 5e5, rel=0.005)


def test_the_amplifier_lowers_the_peak(rig: Any) -> None:
    """First order, τ = 5 ms / 2.197 (facts 1.3): the shown curve is the raw one through that filter, peak lower.

    The judge is the exact response to a curve that is straight between samples, worked out here.
    """
    curve = rig.strike(0.2)
    tau = 0.005 / 2.197
    shown = np.zeros_like(curve.raw_n)
    decay = math.exp(-0.001 / tau)
    for n in range(1, shown.size):
        slope = (curve.raw_n[n] - curve.raw_n[n - 1]) / 0.001
        steady = curve.raw_n[n] - slope * tau
        shown[n] = steady + (shown[n - 1] - (curve.raw_n[n - 1] - slope * tau)) * decay
    assert np.max(np.abs(curve.force_n - shown)) < 0.005 * curve.peak_n
    assert curve.peak_n < 0.98 * curve.raw_peak_n


@pytest.fixture
def driven(ran: Callable[[Plant, float], Plant]) -> Callable[[int, float, Edge | None], GaugeCurve]:
    """The default leaf driven on the gauge at 10°, every step divided as finely as is said."""

    def drive(refined: int, duty: float, edge: Edge | None) -> GaugeCurve:
        plant = Plant(Site(name="Quince Lane, invented"))
        plant.refine(refined)
        plant.set_network(DriveNetwork(voc=(27.3, 27.3), z=((0.12, 0.12), (0.12, 0.12)), rth=(0.665, 0.665)))
        plant.set_edge(0, edge)
        plant.place_leaf(0, math.radians(40))
        plant.place_leaf(1, math.radians(80))
        plant.place_obstacle(0, 0, force_gauge(math.radians(10), 2.0))
        plant.command(0, -duty)
        return ran(plant, 14.0).gauge_curve()

    return drive


@pytest.mark.parametrize("duty", [0.55, 0.8])
@pytest.mark.parametrize("edge", [None, Edge()], ids=["bare", "soft edge"])
def test_with_its_drive_against_a_converged_run(driven: Any, duty: float, edge: Edge | None) -> None:
    """Two masses, motor, limit and amplifier: peaks within 0.5 % of a run at a 32nd of the step, whose own halving
    changes it by less than 0.05 % (converged)."""
    if not compiler.is_loaded():
        pytest.skip("needs the compiled kernel: it is absent or switched off")
    usual, half, fine = (driven(refined, duty, edge) for refined in (1, 16, 32))
    assert fine.raw_peak_n > 100.0
    for name in ("raw_peak_n", "peak_n"):
        converged = getattr(fine, name)
        assert getattr(half, name) == pytest.approx(converged, rel=0.0005)
        assert getattr(usual, name) == pytest.approx(converged, rel=0.005)


def test_the_drive_pushes_after_the_blow(driven: Any) -> None:
    """A driven leaf strikes harder than the same leaf let go at that speed, for the rotor goes on winding the ram
    (facts 6.2: a single mass under-reads)."""
    with_drive = driven(1, 0.8, None)
    plant = Plant(Site(name="Quince Lane, invented"))
    plant.set_network(DriveNetwork(voc=(27.3, 27.3), z=((0.12, 0.12), (0.12, 0.12)), rth=(0.665, 0.665)))
    plant.set_edge(0, None)
    plant.place_leaf(0, math.radians(40))
    plant.command(0, -0.8)
    while plant.angle(0) > math.radians(10):
        plant.run_to(Us(plant.now + 1000))
    released = abs(plant.speed(0)) * math.sqrt(5e5 * 40.0)
    assert with_drive.raw_peak_n > 1.02 * released
