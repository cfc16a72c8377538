"""Points of a plan: an opening and the angle that makes it belong together, and what a gate can't have is said."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.instruments.measuring_points import (
    OPENINGS,
    gap_at_angle,
    impossible,
    measuring_heights,
    points,
    touch_angle,
)
from sim.site import Leaf, Leaves, Site
from sim.units import DIRECTIONS, Direction


def site(width_m: float = 2.0, stop_deg: float = 92.0, between_m: float = 0.02, height_m: float = 1.8) -> Site:
    """Two equal leaves with a gap between them when shut."""
    leaf = Leaf(width_m=width_m, open_stop_deg=stop_deg, height_m=height_m)
    pair = Leaves(active=leaf, inactive=leaf)
    return Site(name="Larch Bank").model_copy(update={"leaves": pair, "opening_width_m": 2 * width_m + between_m})


@given(
    direction=st.sampled_from(DIRECTIONS),
    leaf=st.integers(0, 1),
    width=st.floats(0.8, 5.0),
    stop=st.floats(50.0, 130.0),
    share=st.floats(0.05, 0.95),
)
def test_the_angle_of_an_opening_leaves_that_opening(
    direction: Direction, leaf: int, width: float, stop: float, share: float
) -> None:
    """Going from an opening to its leaf angle and back gives the opening again, inside the leaf's travel."""
    gate = site(width, stop)
    shut, opened = (gap_at_angle(gate, leaf, direction, angle) for angle in (0.0, math.radians(stop)))
    gap = min(shut, opened) + share * abs(opened - shut)
    angle = touch_angle(gate, leaf, direction, gap)
    assert 0.0 < angle < math.radians(stop)
    assert gap_at_angle(gate, leaf, direction, angle) == pytest.approx(gap, abs=1e-9)


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_a_gate_of_usual_size_has_every_point(direction: Direction) -> None:
    """Nothing is left out on the reference leaf, and heights above ground count the gap under the leaf."""
    plan = points(site(), "inactive", direction)
    assert [impossible(site(), point) for point in plan] == [""] * 9
    assert [(point.gap_mm, point.above_edge_mm, point.height_mm) for point in plan[:3]] == [
        (50.0, 50.0, pytest.approx(110.0)),
        (50.0, 900.0, pytest.approx(960.0)),
        (50.0, 1500.0, pytest.approx(1560.0)),
    ]
    assert str(plan[0]) == f"inactive leaf, {direction}, gap 50 mm, 50 mm above the lower edge"


def test_what_a_gate_can_not_have_is_said_in_words() -> None:
    """A short leaf that opens little never leaves 500 mm; leaves far apart never come as near as 50 mm."""
    small, apart = site(0.5, 45.0), site(between_m=0.12)
    said = {point.gap_mm: impossible(small, point) for point in points(small, "active", "opening")}
    assert said[500.0] == "the opening is only 383 mm with the leaf shut"
    assert said[300.0] == ""
    said = {point.gap_mm: impossible(apart, point) for point in points(apart, "active", "closing")}
    assert said == {50.0: "the opening is never less than 120 mm", 300.0: "", 500.0: ""}


def test_openings_of_the_callers_own() -> None:
    """Whoever asks for a wider opening gets it, at each height; the whole plan is the default."""
    assert [point.gap_mm for point in points(site(), "active", "closing", (700.0,))] == [700.0] * 3
    assert OPENINGS == (50.0, 300.0, 500.0)


@given(height=st.floats(500.0, 4000.0), clearance=st.floats(0.0, 500.0))
def test_heights_stay_on_the_leaf(height: float, clearance: float) -> None:
    """Every height lies on the leaf, none above 2500 mm from the ground unless the leaf's half does."""
    low, middle, high = measuring_heights(height, clearance)
    assert 0.0 < low.above_edge_mm < height
    assert middle.above_edge_mm == height / 2
    assert 0.0 < high.above_edge_mm <= height - 300.0
    assert high.above_edge_mm + clearance <= 2500.0 + 1e-9
