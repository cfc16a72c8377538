"""Where a leaf is measured, and the UL-style lengths, against other figures: facts C69, C73, C74, 2.6."""

from __future__ import annotations

import math

import pytest

from sim.instruments.measuring_points import measuring_heights, points, touch_angle
from sim.instruments.reversal import judge_reversal, reversal
from sim.instruments.rule_sets import (
    BOTTOM_ZONE,
    CRUSH,
    HINGE_ZONE,
    REVERSAL,
    SPHERE,
    WALL_ZONE,
    ZONE_HEIGHT,
    Figure,
)
from sim.site import Leaf, Leaves, Site

SITE = Site(name="Larch Bank")


def test_c69_lengths_given_in_inches() -> None:
    """2¼, 4, 16 and 72 inches are 57.15, 101.6, 406.4 and 1828.8 mm (facts C69; an inch is 25.4 mm)."""
    assert BOTTOM_ZONE.least is not None
    assert BOTTOM_ZONE.most is not None
    lengths = [SPHERE.value, BOTTOM_ZONE.least.value, BOTTOM_ZONE.most.value, ZONE_HEIGHT.value]
    assert lengths == [57.15, 101.6, 406.4, 1828.8]
    assert HINGE_ZONE.least == BOTTOM_ZONE.least
    assert WALL_ZONE.most is not None
    assert WALL_ZONE.most.value == 406.4


def test_c73_heights_of_a_swing_leaf() -> None:
    """A leaf of 1.8 m is measured at 50, 900 and 1500 mm above its lower edge (facts C73)."""
    assert [height.above_edge_mm for height in measuring_heights(1800.0)] == [50.0, 900.0, 1500.0]


def test_nothing_is_measured_above_two_and_a_half_metres() -> None:
    """300 mm below the top, but never above 2500 mm from the ground (facts 1.4, trade restatement and memory)."""
    assert [height.above_edge_mm for height in measuring_heights(3200.0)] == [50.0, 1600.0, 2500.0]
    assert measuring_heights(3200.0, 100.0)[2].above_edge_mm == 2400.0
    assert measuring_heights(2800.0, 0.0)[2].above_edge_mm == 2500.0


@pytest.mark.parametrize("direction", ["closing", "opening"])
def test_c74_readings_of_one_leaf_and_direction(direction: str) -> None:
    """Three openings, three heights, three readings: 27 (facts C74); openings 50, 300, 500 mm (facts 1.4)."""
    plan = points(SITE, "active", direction)  # type: ignore[arg-type]
    assert len(plan) * CRUSH.repeats.value == 27
    assert sorted({point.gap_mm for point in plan}) == [50.0, 300.0, 500.0]
    assert len({(point.gap_mm, point.height) for point in plan}) == 9


def test_an_opening_is_a_clear_distance_on_the_plan() -> None:
    """Closing edge to its own place at the open stop: a chord of the circle it runs on (2·w·sin(θ/2), textbook)."""
    leaf = Leaf(width_m=2.0, open_stop_deg=90.0)
    site = SITE.model_copy(update={"leaves": Leaves(active=leaf, inactive=leaf)})
    for gap in (0.05, 0.3, 0.5):
        angle = touch_angle(site, 0, "opening", gap)
        edge, stop = (math.cos(angle) * 2.0, math.sin(angle) * 2.0), (0.0, 2.0)
        assert math.dist(edge, stop) == pytest.approx(gap, abs=1e-12)


def test_reversal_asks_for_two_seconds_and_two_inches() -> None:
    """Reversal starts within 2 s and goes back at least 50.8 mm (facts 2.6, trade restatement of UL 325)."""
    assert (REVERSAL.start.value, REVERSAL.travel.value) == (2.0, 50.8)
    for stood_s, back_mm, word in (
        (1.9, 60.0, "met"),
        (2.1, 60.0, "not met"),
        (1.9, 50.0, "not met"),
        (1.9, 51.0, "met"),
    ):
        record = [0.0, 1.0, 1.0 + stood_s, 1.0 + stood_s + 0.5, 9.0]
        place = [-100.0, 0.0, 0.0, -back_mm, -back_mm]
        assert judge_reversal(reversal(record, place, 1.0)).outcome == word, (stood_s, back_mm)


def test_every_figure_says_where_it_comes_from() -> None:
    """Lengths from memory are not shown as a standard's text (facts 2.6 tags each)."""
    figures = [SPHERE, ZONE_HEIGHT, BOTTOM_ZONE.least, BOTTOM_ZONE.most, HINGE_ZONE.least, WALL_ZONE.most]
    figures += [REVERSAL.start, REVERSAL.travel]
    for figure in figures:
        assert isinstance(figure, Figure)
        assert figure.origin.startswith(("restated on a trade page", "from memory"))
