"""Figures of wear against others' mathematics: a beam worked out by elements, skewed rectangles, light of the sun."""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely import affinity
from shapely.geometry import box

from sim.mechanics import hanging, train
from sim.mechanics.sun import direct_w_m2, julian_day, place_of_sun
from sim.site import Drive, Leaf, Post, Site, Weather


def pressed_straight(bow: float, length: float, diameter: float) -> float:
    """Force in the middle that presses a bowed round steel rod straight [N], by Hermite beam elements.

    Stiffness of one element of length a: E·I/a³ times the usual matrix (any text on finite elements).
    """
    parts, modulus = 16, 210e9
    second = math.pi * diameter**4 / 64.0
    a = length / parts
    one = modulus * second / a**3 * np.array(
        [[12, 6 * a, -12, 6 * a], [6 * a, 4 * a * a, -6 * a, 2 * a * a],
         [-12, -6 * a, 12, -6 * a], [6 * a, 2 * a * a, -6 * a, 4 * a * a]]
    )  # fmt: skip
    whole = np.zeros((2 * (parts + 1), 2 * (parts + 1)))
    for index in range(parts):
        at = 2 * index
        whole[at : at + 4, at : at + 4] += one
    free = [each for each in range(2 * (parts + 1)) if each not in (0, 2 * parts)]
    load = np.zeros(len(free))
    load[free.index(parts)] = 1.0  # the middle's deflection: node parts / 2, slot 2 * (parts / 2)
    moved = np.linalg.solve(whole[np.ix_(free, free)], load)
    return bow * length / float(moved[free.index(parts)])


@pytest.mark.parametrize("bow", [0.001, 0.004, 0.009])
def test_a_bent_rods_friction_is_that_of_a_beam_pressed_straight(bow: float) -> None:
    """Elements and our closed formula agree; both guides and the bow rub with the same coefficient."""
    drive = Drive(rod_bow=bow)
    force = pressed_straight(bow, drive.stroke_m, train.ROD_M)
    assert train.rod_drag(drive) == pytest.approx(2.0 * train.GLAND_FRICTION * force, rel=1e-6)


@pytest.mark.parametrize(("width", "height"), [(2.0, 1.8), (3.5, 1.2), (1.2, 2.4)])
@pytest.mark.parametrize("degrees", [0.1, 0.3, 0.8])
def test_a_racked_leafs_droop_is_that_of_a_skewed_rectangle(width: float, height: float, degrees: float) -> None:
    """Shapely skews a rectangle; from the difference of its diagonals we give back how far its edge went down."""
    skewed = affinity.skew(box(0.0, 0.0, width, height), ys=-degrees, origin=(0.0, 0.0))
    corners = list(skewed.exterior.coords)[:4]
    at_hinge = sorted((c for c in corners if c[0] < width / 2), key=lambda c: c[1])
    at_edge = sorted((c for c in corners if c[0] > width / 2), key=lambda c: c[1])
    apart = math.dist(at_hinge[0], at_edge[1]) - math.dist(at_hinge[1], at_edge[0])
    leaf = Leaf(width_m=width, height_m=height, out_of_square_m=abs(apart))
    assert hanging.racked(leaf) == pytest.approx(-at_edge[0][1], rel=2e-3)


def test_a_post_that_leans_two_degrees_pulls_like_a_hinge_line_that_does() -> None:
    """Check value 27: 120 kg, 2 m, 2°: 41.084 N·m."""
    leaf = Leaf(width_m=2.0, mass_kg=120.0, post=Post(lean=math.tan(math.radians(2.0))))
    assert hanging.lean_torque(leaf) == pytest.approx(41.084, rel=0.01)


def test_steel_and_aluminium_grow_as_tables_say() -> None:
    """4 m of steel over 50 K: 2.4 mm; of aluminium 4.6 mm (12 and 23 millionths per kelvin, any table)."""
    for per_k, wanted in ((12e-6, 2.4e-3), (23e-6, 4.6e-3)):
        leaf = Leaf(width_m=2.0, expansion_per_k=per_k, sun_gain_c=25.0)
        site = Site(name="Larch Bank, invented", leaves={"active": leaf, "inactive": leaf}, opening_width_m=4.02)
        noon = Weather(temperature_c=45.0, sunshine=1.0)
        assert 0.02 - hanging.meeting_gap(site, noon) == pytest.approx(wanted, rel=1e-3)


def test_a_high_sun_is_as_strong_as_the_standard_day() -> None:
    """Midsummer noon at 50° north: 63.4° high (90 − 50 + 23.4), and square to it some 900 W/m² in clear air (common
    figure of solar engineering, from memory)."""
    sun = place_of_sun(julian_day(2026, 172, 12.0), math.radians(50.0), 0.0)
    assert math.degrees(sun.elevation) == pytest.approx(63.4, abs=0.2)
    assert direct_w_m2(sun.elevation) == pytest.approx(900.0, rel=0.06)
