"""Leaf order at the cover strip. Common practice (facts 6.6): the leaf that is free to move when the other is shut
opens first and closes last; otherwise strip and leaf meet."""

from __future__ import annotations

import math

import pytest

from sim.kernel.network import DriveNetwork
from sim.mechanics import lap
from sim.mechanics.plant import Plant
from sim.site.models import CoverStrip, Site

CASES = [("active", "inside", 0), ("active", "outside", 1), ("inactive", "inside", 1), ("inactive", "outside", 0)]
"""(carrier, face, free leaf) for leaves that open inwards."""


def gate(carrier: str, face: str, net: DriveNetwork) -> Plant:
    """A gate with its strip on a given leaf and face."""
    strip = CoverStrip.model_validate({"carrier": carrier, "face": face})
    plant = Plant(Site(name="Quince Lane, invented", cover_strip=strip))
    plant.set_network(net)
    return plant


@pytest.mark.parametrize(("carrier", "face", "free"), CASES)
def test_which_leaf_is_free(carrier: str, face: str, free: int, net: DriveNetwork, run) -> None:
    """Shut, the free leaf opens alone and the other one doesn't move; the covered leaf takes the free one along."""
    plant = gate(carrier, face, net)
    assert lap.free_leaf(plant.site) == free
    plant.command(free, 0.5)
    run(plant, 4.0)
    assert math.degrees(plant.angle(free)) > 8.0
    assert plant.angle(1 - free) == 0.0
    assert plant.lap_force() == 0.0
    plant = gate(carrier, face, net)
    plant.command(1 - free, 0.5)
    run(plant, 4.0)
    assert plant.lap_force() > 50.0
    assert plant.touching(0) == plant.touching(1) == "other leaf"
    assert plant.lap_side() == 1
    assert plant.angle(free) > 0.01, "pushed along by the other"


@pytest.mark.parametrize(("carrier", "face", "free"), CASES)
def test_closing_in_order_shuts_both(carrier: str, face: str, free: int, net: DriveNetwork, run) -> None:
    """Covered leaf home first, free leaf last: both reach their closed stops and nothing clashes on the way."""
    plant = gate(carrier, face, net)
    for leaf in (0, 1):
        plant.place_leaf(leaf, 1.2)
    plant.command(1 - free, -0.6)
    run(plant, 6.0)
    plant.command(free, -0.6)
    for _ in range(60):
        run(plant, 0.5)
        assert plant.lap_side() >= 0
    assert plant.touching(0) == plant.touching(1) == "closed stop"


@pytest.mark.parametrize(("carrier", "face", "free"), CASES)
def test_closing_out_of_order_clashes(carrier: str, face: str, free: int, net: DriveNetwork, run) -> None:
    """Free leaf home first: the covered leaf is stopped at the strip, short of its stop, and both press there."""
    plant = gate(carrier, face, net)
    for leaf in (0, 1):
        plant.place_leaf(leaf, 1.2)
    plant.command(free, -0.6)
    run(plant, 15.0)
    plant.command(1 - free, -0.6)
    run(plant, 30.0)
    assert plant.lap_side() == -1
    assert plant.lap_force() > 50.0
    assert plant.touching(1 - free) == "other leaf"
    width = plant.site.leaves.active.width_m
    apart = width * (math.sin(plant.angle(1 - free)) - math.sin(plant.angle(free)))
    assert apart == pytest.approx(0.065, abs=0.004), "strip 5 mm and leaf 60 mm thick"


def test_leaves_that_come_together_level_are_not_thrown_apart(site: Site, run) -> None:
    """Two released leaves that swing shut side by side meet edge on; the strip makes no energy of it."""
    plant = Plant(site)
    for leaf, ahead in ((0, 0.0), (1, 0.018)):
        plant.release(leaf)
        plant.place_leaf(leaf, 0.30 + ahead, -0.08)
    fastest = 0.0
    for _ in range(400):
        run(plant, 0.01)
        fastest = max(fastest, abs(plant.speed(0)), abs(plant.speed(1)))
    assert fastest <= 0.08


def test_formulas_agree_with_the_plant(plant: Plant, run) -> None:
    """The plain lap formula and the kernel's notion of it change at the same angle (2 mm of hysteresis)."""
    plant.release(0)
    for angle in (0.05, 0.15, 0.21, 0.24, 0.35):
        plant.place_leaf(0, angle)
        run(plant, 0.001)
        assert (plant.lap_side() != 0) is lap.is_lapped(plant.site, angle, 0.0)


def test_gap_between_edges(site: Site) -> None:
    """Shut: what the widths leave of the opening; one leaf square to the other: by Pythagoras."""
    assert lap.gap_between_edges(site, 0.0, 0.0) == pytest.approx(0.02)
    assert lap.gap_between_edges(site, math.pi / 2, 0.0) == pytest.approx(math.hypot(2.02, 2.0))
