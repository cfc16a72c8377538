"""What gives at the closing edge: the frame bends and twists, and a soft edge is only where its profile reaches."""

from __future__ import annotations

import math
from typing import Any, Final

import pytest

from sim.mechanics import hanging
from sim.mechanics.obstacle import Obstacle, force_gauge
from sim.mechanics.plant import Plant, Reason
from sim.site.models import Edge, Guards, Leaf, Leaves, Site, Weather
from sim.units import Us

MEETING: Final = 0.5
"""Leaf angle at which the gauge stands [rad]."""

SPEED: Final = 0.1
"""Of the tip [m/s]."""


def site_of(edge: Edge | None = None, **leaf: Any) -> Site:
    """A 120 kg leaf of 2 m, 40 kg at its tip, held by its drive at 0.6 m; with this soft edge or none."""
    model = Leaf(**{"hinge_friction_n_m": 0.0, "hinge_viscous_n_m_s": 0.0, "thickness_m": 0.01} | leaf)
    return Site(
        name="Quince Lane, invented",
        leaves=Leaves(active=model, inactive=model),
        guards=Guards(active_edge=edge or "not fitted"),
        weather=Weather(temperature_c=20.0),
    )


def peak(site: Site, height_m: float, radius_m: float = 2.0) -> float:
    """Greatest force on the gauge's spring when the released leaf strikes it at a height [N]."""
    plant = Plant(site)
    plant.release(0)
    plant.place_leaf(1, 1.3)
    plant.place_leaf(0, MEETING, -SPEED / 2.0)
    plant.place_obstacle(0, 0, force_gauge(MEETING, radius_m, height_m=height_m))
    run(plant, 0.3)
    return plant.gauge_curve().raw_peak_n


def run(plant: Plant, seconds: float) -> None:
    """Run on, whatever happens on the way."""
    end = Us(plant.now + round(seconds * 1e6))
    while plant.run_to(end).reason is not Reason.REACHED:
        pass


def struck(stiffness: float) -> float:
    """v·√(k·m) for 40 kg (facts 6.2, textbook)."""
    return SPEED * math.sqrt(stiffness * 40.0)


def series(*springs: float) -> float:
    """Springs one behind the other (textbook)."""
    return 1.0 / sum(1.0 / each for each in springs)


def test_a_frame_that_bends_lowers_the_peak() -> None:
    """Frame and gauge are springs in series: level with the drive 447 N become v·√(k·m) of 200 and 500 N/mm."""
    assert peak(site_of(), 0.6) == pytest.approx(struck(5e5), rel=0.01)
    assert peak(site_of(edge_give_n_m=2e5), 0.6) == pytest.approx(struck(series(5e5, 2e5)), rel=0.01)


@pytest.mark.parametrize("height", [0.05, 0.3, 0.6, 1.2, 2.0])
def test_a_frame_that_twists_gives_more_the_further_from_its_drive(height: float) -> None:
    """A torsion spring c about the drive's height gives c/(h − 0.6 m)² at a height h: hard level with the drive, soft
    at the top (by hand)."""
    off = height - 0.6
    twist = 50_000.0
    expected = struck(series(5e5, twist / off**2) if off else 5e5)
    assert peak(site_of(edge_twist_n_m_rad=twist), height) == pytest.approx(expected, rel=0.01)


def test_bend_and_twist_add_up() -> None:
    """Both in series, and a leaf without either is rigid."""
    model = Leaf(edge_give_n_m=3e5, edge_twist_n_m_rad=40_000.0)
    assert hanging.edge_stiffness(model, 0.6, 1.6) == pytest.approx(series(3e5, 40_000.0), rel=1e-12)
    assert hanging.edge_stiffness(model, 0.6, 0.6) == 3e5
    assert hanging.edge_stiffness(Leaf(), 0.6, 1.6) is None
    assert hanging.edge_stiffness(Leaf(edge_twist_n_m_rad=4e4), 0.6, 0.6) is None


def test_away_from_the_closing_edge_the_frame_is_rigid() -> None:
    """What is struck half-way along meets the leaf next to its hinge and drive: give and twist are of its edge."""
    assert peak(site_of(edge_give_n_m=5e4), 0.6, 1.0) == pytest.approx(peak(site_of(), 0.6, 1.0), rel=1e-9)


@pytest.mark.parametrize(
    ("height", "soft"), [(0.05, False), (0.29, False), (0.31, True), (1.0, True), (1.49, True), (1.51, False)]
)
def test_the_soft_edge_is_where_its_profile_reaches(height: float, soft: bool) -> None:
    """A profile from 0.3 to 1.5 m: a gauge at 50 mm meets the hard leaf with the whole 447 N, one at 1 m the profile
    of 20 N/mm in series, and only that one presses it."""
    site = site_of(Edge(bottom_m=0.3, top_m=1.5))
    expected = struck(series(5e5, 2e4) if soft else 5e5)
    assert peak(site, height) == pytest.approx(expected, rel=0.01)
    plant = Plant(site)
    plant.release(0)
    plant.place_leaf(0, MEETING, -SPEED / 2.0)
    plant.place_leaf(1, 1.3)
    plant.place_obstacle(0, 0, Obstacle("test body", MEETING, 2.0, False, 5e5, height_m=height))
    pressed = False
    for _ in range(100):
        run(plant, 0.002)
        pressed = pressed or plant.edge_pressed(0)
    assert pressed is soft


def test_height_alone_changes_nothing_on_a_rigid_leaf_with_a_full_edge() -> None:
    """A profile over the whole height and a rigid frame: the same bits at every height."""
    site = site_of(Edge())
    assert len({peak(site, height) for height in (0.05, 0.5, 1.0, 2.0)}) == 1
