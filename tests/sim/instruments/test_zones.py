"""Zones in the UL-style sense: one length decides, strictly between its bounds."""

from __future__ import annotations

import math

import pytest

from sim.instruments.rule_sets import BOTTOM_ZONE, HINGE_ZONE, WALL_ZONE, Zone
from sim.instruments.zones import edge_to_wall_mm, zones_of
from sim.site import Leaf, Leaves, Site, Wall
from sim.site.leaves import HingeGap


@pytest.mark.parametrize(
    ("zone", "length_mm", "is_one"),
    [
        (BOTTOM_ZONE, 101.6, False),
        (BOTTOM_ZONE, 102.0, True),
        (BOTTOM_ZONE, 406.0, True),
        (BOTTOM_ZONE, 406.4, False),
        (HINGE_ZONE, 101.6, False),
        (HINGE_ZONE, 5000.0, True),
        (WALL_ZONE, 406.4, False),
        (WALL_ZONE, 0.0, True),
    ],
)
def test_a_zone_lies_strictly_between_its_bounds(zone: Zone, length_mm: float, is_one: bool) -> None:
    """More than 4 and less than 16 inches under the leaf, more than 4 at the hinge, less than 16 to a wall (2.6)."""
    assert zone.holds(length_mm) is is_one


def test_a_zone_says_its_rule() -> None:
    """The rule prints itself from the data."""
    assert str(BOTTOM_ZONE) == "gap under the leaf: more than 101.6 mm and less than 406.4 mm"
    assert str(WALL_ZONE) == "open leaf to wall: less than 406.4 mm"


def test_the_wall_behind_an_open_leaf() -> None:
    """From the edge at its open stop to the nearest masonry, on each leaf's own side of the plan."""
    leaf = Leaf(width_m=2.0, open_stop_deg=90.0, ground_clearance_m=0.15, hinge_gap=HingeGap(post_m=0.11))
    walls = (Wall(x_m=-0.5, y_m=1.0, along_x_m=0.2, along_y_m=2.0), Wall(x_m=10.0, y_m=1.0))
    site = Site(name="Larch Bank", leaves=Leaves(active=leaf, inactive=leaf), walls=walls)
    assert edge_to_wall_mm(site, 0) == pytest.approx(300.0)
    assert edge_to_wall_mm(site, 1) == pytest.approx(4320.0)
    found = {(one.leaf, one.zone.name): (one.length_mm, one.is_zone) for one in zones_of(site)}
    assert found[("active", "wall behind the open leaf")] == (pytest.approx(300.0), True)
    assert found[("inactive", "wall behind the open leaf")][1] is False
    assert found[("active", "hinge")] == (pytest.approx(110.0), True)
    assert found[("active", "lower edge")] == (pytest.approx(150.0), True)


def test_without_walls_nothing_is_made_up() -> None:
    """A site file without masonry has no length to a wall."""
    site = Site(name="Larch Bank")
    assert edge_to_wall_mm(site, 0) is None
    assert [one.zone.name for one in zones_of(site)] == ["lower edge", "hinge"] * 2


def test_the_wall_outside_a_gate_that_opens_outwards() -> None:
    """Leaves that open outwards stand before the gate: a wall inside is none of theirs."""
    leaf = Leaf(width_m=2.0, open_stop_deg=90.0)
    walls = (Wall(x_m=-0.5, y_m=1.9, along_x_m=0.5, along_y_m=0.3), Wall(x_m=-0.8, y_m=-2.5, along_x_m=0.5))
    inside = Site(name="Quince Lane, invented", leaves=Leaves(active=leaf, inactive=leaf), walls=walls)
    outside = inside.model_copy(update={"opens_towards": "outside"})
    assert edge_to_wall_mm(inside, 0) == pytest.approx(0.0, abs=1e-6)
    assert edge_to_wall_mm(outside, 0) == pytest.approx(math.hypot(300.0, 200.0), abs=0.5)
