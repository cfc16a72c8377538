"""Bodies, leaves and light on random scenes, turned and not, against shapely."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely import Point as Spot

from sim.devices.optics import Scene, light_at
from sim.devices.sightline import Box, pierced
from sim.mechanics.axes import LeafAxes
from sim.mechanics.yard import SHAPES, Body, Meeting, is_in_arc, meeting, stands_on_hinge
from sim.site import Beam
from sim.world.beams import box_of

REACH = 2.0
STOP = math.radians(95.0)
TINY = 1e-6

TURNS = st.one_of(st.just(0.0), st.floats(-math.pi, math.pi))
BODIES = st.builds(
    Body, st.sampled_from(sorted(SHAPES)), st.floats(-2.0, 6.0), st.floats(-4.0, 4.0), st.booleans(), TURNS
)
AXES = st.builds(LeafAxes, st.sampled_from([0.0, 4.02]), st.booleans(), st.booleans())


def plan_of(body: Body) -> Polygon:
    """Its outline, drawn by shapely's own turning of a rectangle."""
    from shapely import affinity, box

    x, y = body.size_m[0] / 2.0, body.size_m[1] / 2.0
    return affinity.translate(
        affinity.rotate(box(-x, -y, x, y), body.turn, (0, 0), use_radians=True), body.x_m, body.y_m
    )


def leaf_at(axes: LeafAxes, angle: float) -> LineString:
    """A leaf on the plan."""
    tip = axes.on_plan((REACH * math.cos(angle), REACH * math.sin(angle)))
    return LineString([(axes.hinge_x_m, 0.0), tip])


@settings(max_examples=200)
@given(body=BODIES, axes=AXES, angle=st.floats(0.0, STOP))
def test_a_leaf_meets_a_body_where_shapely_says(body: Body, axes: LeafAxes, angle: float) -> None:
    """On its way to the meeting the leaf is clear of the body, there it touches it at the radius said, just behind it
    is in it; where none is said, no angle of the leaf touches the body; `in the leaf` is what shapely sees too."""
    plan = plan_of(body)
    found = meeting(body, axes, reach_m=REACH, clearance_m=0.06, angle=angle)
    assume(not stands_on_hinge(body, axes))
    assume(plan.distance(Spot(axes.hinge_x_m, 0.0)) > 1e-3)
    if isinstance(found, str):
        assert leaf_at(axes, angle).distance(plan) < TINY
        return
    if found is None:
        assert not any(leaf_at(axes, STOP * step / 90.0).intersects(plan) for step in range(91))
        assert leaf_at(axes, angle).distance(plan) > 0.0
        return
    assert isinstance(found, Meeting)
    on_the_way = [angle + (found.angle - angle) * step / 40.0 for step in range(40)]
    assert all(leaf_at(axes, each).distance(plan) > 0.0 for each in on_the_way if abs(each - found.angle) > TINY)
    assert leaf_at(axes, found.angle).distance(plan) < TINY
    touched = axes.on_plan((found.radius_m * math.cos(found.angle), found.radius_m * math.sin(found.angle)))
    assert plan.exterior.distance(Spot(touched)) < TINY
    assert found.radius_m <= REACH + TINY
    behind = found.angle + (1e-4 if found.opening else -1e-4)
    deep = plan.intersection(Spot(axes.hinge_x_m, 0.0).buffer(REACH, quad_segs=256)).area
    assume(deep > 1e-3)  # more than a corner that only just reaches in
    assert leaf_at(axes, behind).distance(plan) < 1e-3


@settings(max_examples=200)
@given(body=BODIES, axes=AXES)
def test_a_body_is_in_the_arc_where_a_leaf_sweeps_over_it(body: Body, axes: LeafAxes) -> None:
    """Whatever leaf shapely sees touch it on its way from shut to open; and none does where it is not in the arc."""
    plan = plan_of(body)
    hinge = Spot(axes.hinge_x_m, 0.0)
    assume(plan.distance(hinge) > 1e-2)
    steps = [STOP * step / 1000.0 for step in range(1, 1000)]
    sector = Polygon([(axes.hinge_x_m, 0.0), *(leaf_at(axes, each).coords[1] for each in steps)])
    overlap = sector.intersection(plan).area
    assume(overlap == 0.0 or overlap > 1e-4)
    assume(not (overlap == 0.0 and sector.distance(plan) < 1e-3))
    assert is_in_arc(body, axes, reach_m=REACH, open_stop=STOP) is (overlap > 0.0)


POINTS = st.tuples(st.floats(-3.0, 7.0), st.floats(-4.0, 4.0), st.floats(0.05, 2.0))


@settings(max_examples=300)
@given(one=POINTS, other=POINTS, body=BODIES)
def test_a_slanting_ray_is_stopped_where_shapely_and_its_height_say(
    one: tuple[float, float, float], other: tuple[float, float, float], body: Body
) -> None:
    """On the plan shapely says from where to where the ray is over the body; it is stopped when it is low enough
    anywhere between."""
    assume(math.dist(one[:2], other[:2]) > 0.1)
    plan, height = plan_of(body), body.size_m[2]
    length = math.dist(one[:2], other[:2])
    shadow = LineString([one[:2], other[:2]]).intersection(plan)
    found = pierced(one, other, box_of(body))
    if shadow.is_empty:
        assert found is None
        return
    assume(shadow.length > 1e-6)
    shares = sorted(Spot(one[:2]).distance(Spot(each)) / length for each in shadow.coords)
    lowest = min(one[2] + share * (other[2] - one[2]) for share in shares)
    assume(abs(lowest - height) > 1e-6)
    assert (found is not None) is (lowest <= height)
    if found is not None and max(one[2], other[2]) < height:
        assert found == pytest.approx((shares[0], shares[-1]), abs=1e-9)


BEAMS = st.builds(
    lambda y, height, left, right, turned: Beam(
        y_m=y,
        height_m=height,
        emitter_x_m=right if turned else left,
        receiver_x_m=left if turned else right,
    ),
    st.floats(-2.0, 3.0),
    st.floats(0.1, 1.0),
    st.floats(-1.0, 0.0),
    st.floats(3.0, 5.0),
    st.booleans(),
)


@settings(max_examples=300)
@given(beam=BEAMS, bodies=st.lists(BODIES, max_size=5))
def test_light_comes_where_no_body_touches_its_line(beam: Beam, bodies: list[Body]) -> None:
    """Any number of bodies, standing, lying, turned: light comes when shapely sees none of them on the line, of those
    that are as high as the beam."""
    line = LineString([(beam.emitter_x_m, beam.y_m), (beam.receiver_x_m, beam.y_m)])
    plans = [plan_of(body) for body in bodies if body.size_m[2] >= beam.height_m]
    assume(all(plan.intersects(line) is (plan.intersection(line).length > 1e-9) for plan in plans))
    scene = Scene({"outer beam": beam}, bodies=tuple(box_of(body) for body in bodies))
    assert bool(light_at(scene, "outer beam")) is not any(plan.intersects(line) for plan in plans)


def test_a_box_of_a_body_is_the_body() -> None:
    """What light sees and what a leaf meets is one outline."""
    body = Body("van", 1.0, 2.0, lying=False, turn=0.7)
    box = box_of(body)
    assert isinstance(box, Box)
    corners = [(body.x_m + x, body.y_m + y) for x, y in body.corners()]
    assert Polygon(corners).symmetric_difference(plan_of(body)).area == pytest.approx(0.0, abs=1e-9)
    assert (box.along, box.across, box.height, box.turn) == (*body.size_m, 0.7)
