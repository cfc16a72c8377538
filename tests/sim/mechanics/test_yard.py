"""Where leaves meet bodies: the same on both sides of the opening and at both hinges, seen in the right mirror."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sim.mechanics.axes import LeafAxes, axes_of
from sim.mechanics.yard import AHEAD, SHAPES, Body, Meeting, is_in_arc, meeting, stands_on_hinge
from sim.site import Site

OPENING_M = 4.02
INSIDE = LeafAxes(0.0, mirrored=False, outwards=False)
REACH = 2.0
TURNS = st.one_of(st.just(0.0), st.floats(-math.pi, math.pi))
BODIES = st.builds(Body, st.sampled_from(sorted(SHAPES)), st.floats(-3, 7), st.floats(-4, 4), st.booleans(), TURNS)
MIRRORS = st.builds(LeafAxes, st.sampled_from([0.0, OPENING_M]), st.booleans(), st.booleans())


def met(body: Body, axes: LeafAxes, angle: float) -> Meeting | str | None:
    return meeting(body, axes, reach_m=REACH, clearance_m=0.06, angle=angle)


def test_a_sites_leaves_hang_where_its_opening_ends() -> None:
    """The active hinge is the origin, the inactive one lies across the opening; both open to the site's side."""
    for side in ("inside", "outside"):
        drives = {name: {"kind": "underground"} for name in ("active", "inactive")}
        guards = {"outer_beam": "not fitted"}
        site = Site.model_validate(
            {"name": "Larch Mews, invented", "opens_towards": side, "drives": drives, "guards": guards}
        )
        assert axes_of(site, 0) == LeafAxes(0.0, False, side == "outside")
        assert axes_of(site, 1) == LeafAxes(site.opening_width_m, True, side == "outside")


@given(axes=MIRRORS, x=st.floats(-5, 8), y=st.floats(-5, 5))
def test_there_and_back_is_the_same_place(axes: LeafAxes, x: float, y: float) -> None:
    """A point of the plan in a leaf's axes, put back on the plan, is where it was."""
    assert axes.on_plan(axes.own((x, y))) == (pytest.approx(x), pytest.approx(y))


@given(body=BODIES, axes=MIRRORS, angle=st.floats(0, 1.6))
def test_a_mirrored_body_is_met_alike(body: Body, axes: LeafAxes, angle: float) -> None:
    """Whoever stands for a leaf of any kind where another stands for the active one that opens to the inside, is met
    at the same angle, at the same radius, on the same way."""
    x, y = INSIDE.own((body.x_m, body.y_m))
    there = axes.on_plan((x, y))
    turn = -body.turn if axes.mirrored is not axes.outwards else body.turn
    twin = replace(body, x_m=there[0], y_m=there[1], turn=turn)
    here, seen = met(body, INSIDE, angle), met(twin, axes, angle)
    # behind the hinge, out of any swing, a rounding may decide from which side it is told
    assume(not isinstance(here, Meeting) or abs(here.angle - AHEAD) < 2.5)
    if isinstance(here, Meeting):
        assert isinstance(seen, Meeting)
        assert (seen.angle, seen.radius_m) == (pytest.approx(here.angle), pytest.approx(here.radius_m))
        assert seen.opening is here.opening
    else:
        assert seen == here
    assert stands_on_hinge(twin, axes) == stands_on_hinge(body, INSIDE)


@pytest.mark.parametrize("outwards", [False, True])
def test_a_body_before_the_gate_is_in_the_arc_of_leaves_that_open_to_it(outwards: bool) -> None:
    """A metre before the gate one is swept by leaves that open outwards and not by those that open to the inside."""
    axes = LeafAxes(0.0, False, outwards)
    for y, side in ((1.0, "inside"), (-1.0, "outside")):
        there = Body("adult", 1.0, y, lying=False)
        swept = is_in_arc(there, axes, reach_m=REACH, open_stop=math.radians(92))
        assert swept is (side == ("outside" if outwards else "inside"))
