"""Rams, arms and pins between train and leaf: output, lever, dead points, whichever way the leaves open."""

from __future__ import annotations

import math
from typing import Any, Final

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from sim.kernel.network import DriveNetwork
from sim.mechanics.linkage import Linkage
from sim.mechanics.mounting import Mounting
from sim.mechanics.plant import Plant, Reason
from sim.site.drives import AnyDrive, ArticulatedArm, Drive, Drives, Underground
from sim.site.models import Guards, Leaf, Leaves, Site, Weather
from sim.units import Us

MANY: Final = settings(
    max_examples=120, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.filter_too_much]
)

NET: Final = DriveNetwork((27.3, 27.3), ((0.12, 0.12), (0.12, 0.12)), rth=(0.665, 0.665))

WAYS: Final = ("inside", "outside")

ARM: Final = ArticulatedArm(crank_m=0.35, link_m=0.55)
"""An arm that reaches a leaf both ways."""

DRIVES: Final = {
    ("ram", "inside"): Drive(),
    ("ram", "outside"): Drive(post_across_m=0.02, post_inside_m=0.3, retracted_m=0.82, stroke_m=0.4),
    ("arm", "inside"): ARM,
    ("arm", "outside"): ARM,
    ("pin", "inside"): Underground(),
    ("pin", "outside"): Underground(),
}


def site_of(drive: AnyDrive, ways: Any = "inside", **leaf: Any) -> Site:
    """Two like leaves without friction, on this drive."""
    smooth = Leaf(**{"hinge_friction_n_m": 0.0, "hinge_viscous_n_m_s": 0.0} | leaf)
    return Site(
        name="Quince Lane, invented",
        opens_towards=ways,
        opening_width_m=2 * smooth.width_m + 0.02,
        leaves=Leaves(active=smooth, inactive=smooth),
        drives=Drives(active=drive, inactive=drive),
        guards=Guards(outer_beam="not fitted"),
        weather=Weather(temperature_c=20.0),
    )


@st.composite
def rams(draw: st.DrawFn) -> Site:
    """A site with rams that fit: pivots drawn, the ram as long as they ask for."""
    ways, stop = draw(st.sampled_from(WAYS)), draw(st.floats(45.0, 120.0))
    pivots = {
        "post_across_m": draw(st.floats(0.02, 0.4)),
        "post_inside_m": draw(st.floats(0.02, 0.4)),
        "bracket_along_m": draw(st.floats(0.6, 1.9)),
        "bracket_offset_m": draw(st.floats(0.0, 0.2)),
    }
    mounting = Mounting.of(Drive(**pivots), ways == "inside")
    lengths = [mounting.apart(math.radians(stop) * part / 20) for part in range(21)]
    short, long = min(lengths) - 0.02, max(lengths) + 0.02
    try:
        return site_of(Drive(**pivots, retracted_m=short, stroke_m=long - short), ways, open_stop_deg=stop)
    except ValidationError:
        assume(False)
        raise


@st.composite
def arms(draw: st.DrawFn) -> Site:
    """A site with arms that reach: pivots and crank drawn, then a link among those that reach."""
    ways, stop = draw(st.sampled_from(WAYS)), draw(st.floats(45.0, 130.0))
    part, crank = draw(st.floats(0.02, 0.98)), draw(st.floats(0.1, 1.4))
    pivots = {
        "axis_across_m": draw(st.floats(-0.5, 1.0)),
        "axis_inside_m": draw(st.floats(0.02, 1.0)),
        "bracket_along_m": draw(st.floats(0.1, 1.9)),
        "bracket_offset_m": draw(st.floats(0.0, 0.4)),
        "crank_m": crank,
    }
    mounting = Mounting.of(ArticulatedArm(**pivots), ways == "inside")
    apart = [mounting.apart(math.radians(stop) * step / 20) for step in range(21)]
    least, most = max(max(apart) - crank, crank - min(apart), 0.05), min(min(apart) + crank, 2.0)
    assume(least < most)
    try:
        return site_of(ArticulatedArm(**pivots, link_m=least + part * (most - least)), ways, open_stop_deg=stop)
    except ValidationError:
        assume(False)
        raise


def drawn(site: Site, angle: float) -> float:
    """Output for a leaf angle, from the pure geometry of what is drawn; an arm's to whole turns."""
    drive, inside = site.drives.active, site.opens_towards == "inside"
    if isinstance(drive, Underground):
        return angle
    mounting = Mounting.of(drive, inside)
    if isinstance(drive, ArticulatedArm):
        return mounting.crank_rad(angle) - mounting.crank_rad(0.0)
    return (mounting.apart(0.0) - mounting.apart(angle)) * (1.0 if inside else -1.0)


@MANY
@given(st.one_of(rams(), arms()), st.floats(0.01, 0.99))
def test_the_lever_is_the_derivative_of_the_output(site: Site, part: float) -> None:
    """Virtual work: lever = d(output)/dθ by a central difference of 1e-6 rad, for rams and arms both ways."""
    linkage, step = Linkage(site, 0), 1e-6
    angle = math.radians(site.leaves.active.open_stop_deg) * part
    slope = (linkage.travel(angle + step) - linkage.travel(angle - step)) / (2 * step)
    assert linkage.lever(angle) == pytest.approx(slope, rel=1e-4, abs=1e-6)


@MANY
@given(rams(), st.floats(0.0, 1.0))
def test_a_rams_output_is_what_is_drawn(site: Site, part: float) -> None:
    """What a ram has run in (inside) or out (outside) since shut, to 1e-12 of the pivots' distance as drawn."""
    angle = math.radians(site.leaves.active.open_stop_deg) * part
    assert Linkage(site, 0).travel(angle) == pytest.approx(drawn(site, angle), abs=1e-12)


@MANY
@given(arms())
def test_an_arms_output_is_what_is_drawn_and_never_jumps(site: Site) -> None:
    """A crank's turning since shut is that of the drawn triangle but for whole turns, and goes on evenly: also past
    half a turn, where an angle taken between ±180° would begin anew."""
    linkage, before = Linkage(site, 0), 0.0
    stop = math.radians(site.leaves.active.open_stop_deg)
    for step in range(1, 401):
        angle = stop * step / 400
        turned, lever = linkage.travel(angle), linkage.lever(angle)
        off = (turned - drawn(site, angle)) / (2 * math.pi), (turned + drawn(site, angle)) / (2 * math.pi)
        assert min(abs(each - round(each)) for each in off) < 1e-9
        assert turned - before == pytest.approx(lever * stop / 400, abs=0.3)
        before = turned
    assert before > 0.0, "opening is positive whichever way the crank turns"


@MANY
@given(st.one_of(rams(), arms()))
def test_opening_is_positive_and_shut_is_nothing(site: Site) -> None:
    """Output 0 with the leaf shut, more and more while it opens; the lever is positive all the way."""
    linkage = Linkage(site, 0)
    stop = math.radians(site.leaves.active.open_stop_deg)
    outputs = [linkage.travel(stop * part / 50) for part in range(51)]
    assert outputs[0] == pytest.approx(0.0, abs=1e-12)
    assert outputs == sorted(outputs)
    assert min(linkage.lever(stop * part / 50) for part in range(51)) > 0.0


def test_a_pin_turns_with_its_leaf() -> None:
    """A drive on the hinge pin has the leaf's angle as output and 1 as lever."""
    linkage = Linkage(site_of(Underground()), 0)
    assert [linkage.travel(angle) for angle in (-0.2, 0.0, 1.1)] == [-0.2, 0.0, 1.1]
    assert linkage.lever(0.7) == 1.0


@pytest.mark.parametrize("ways", WAYS)
@pytest.mark.parametrize("kind", ["ram", "arm", "pin"])
@pytest.mark.parametrize("degrees", [12.0, 35.0, 55.0])
def test_what_holds_a_push_is_its_torque_over_the_lever(kind: str, ways: str, degrees: float) -> None:
    """Virtual work in a run: a leaf pushed with 60 N at 2 m is held by a train that gives out torque/lever, the lever
    worked out from what is drawn by a central difference. Within what a leaf that counts as standing may be short of:
    1e-9 rad/s in a step of its inertia, 1.6e-4 N·m."""
    site = site_of(DRIVES[kind, ways], ways, open_stop_deg=62.0, hinge_viscous_n_m_s=200.0)
    plant = Plant(site)
    plant.place_leaf(0, math.radians(degrees))
    plant.place_leaf(1, 1.2)
    plant.push(0, 60.0)
    assert plant.run_to(Us(20_000_000)).reason is Reason.REACHED
    angle, step = plant.angle(0), 1e-6
    lever = (drawn(site, angle + step) - drawn(site, angle - step)) / (2 * step)
    assert plant.speed(0) == 0.0
    assert abs(plant.ram_force(0)) == pytest.approx(120.0 / abs(lever), abs=2e-4 / abs(lever))
    assert plant.ram_force(0) < 0.0, "the push opens, the train holds against it"


@pytest.mark.parametrize("kind", ["ram", "arm", "pin"])
def test_leaves_that_open_outwards_open_on_the_same_command(kind: str) -> None:
    """Rams run out, arms bend the other way, and a positive duty still opens to the stop and a negative one shuts."""
    site = site_of(
        DRIVES[kind, "outside"], "outside", open_stop_deg=62.0, hinge_friction_n_m=5.0, hinge_viscous_n_m_s=2.0
    )
    plant = Plant(site)
    plant.set_network(NET)
    before = math.dist(*plant.ram_ends(0))
    for duty, stop in ((1.0, "open stop"), (-1.0, "closed stop")):
        for leaf in (0, 1):
            plant.command(leaf, duty)
        plant.run_to(Us(plant.now + 40_000_000))
        assert (plant.touching(0), plant.touching(1)) == (stop, stop)
        if kind == "ram" and duty > 0.0:
            assert math.dist(*plant.ram_ends(0)) > before + 0.1, "it has run out"


# -- beyond the stops: an arm's dead points ----------------------------------------------------------------------


@pytest.mark.parametrize("ways", WAYS)
def test_a_released_leaf_without_a_stop_ends_where_its_arm_is_stretched(ways: str) -> None:
    """With no closed stop a leaf swings through only until crank and link are all but straight: there the arm holds
    it, and nothing runs away."""
    site = site_of(ARM, ways, closed_stop_fitted=False)
    plant = Plant(site)
    plant.place_leaf(1, 1.3)
    plant.release(0)
    plant.place_leaf(0, 0.3, -0.8)
    lowest = 0.0
    for _ in range(400):
        plant.run_to(Us(plant.now + 5_000))
        lowest = min(lowest, plant.angle(0))
    mounting = Mounting.of(ARM, ways == "inside")
    reach = mounting.apart(lowest)
    assert lowest < -0.01, "it swung through"
    assert reach < 0.35 + 0.55 + 0.005, "the links are no longer than they are"


@pytest.mark.parametrize("duty", [-1.0, 1.0])
@pytest.mark.parametrize("missing", ["closed_stop_fitted", "open_stop_fitted"])
def test_a_driven_arm_without_stops_stays_sane(missing: str, duty: float) -> None:
    """Driven for a minute past where a stop should stand, the leaf ends somewhere, at rest, every number finite."""
    plant = Plant(site_of(ArticulatedArm(), **{missing: False}, hinge_friction_n_m=5.0))
    plant.set_network(NET)
    for leaf in (0, 1):
        plant.place_leaf(leaf, 0.7)
        plant.command(leaf, duty)
    plant.run_to(Us(60_000_000))
    for leaf in (0, 1):
        assert -0.7 < plant.angle(leaf) < 2.5
        assert abs(plant.speed(leaf)) < 1e-6
        assert math.isfinite(plant.ram_force(leaf))


@pytest.mark.parametrize("wind_m_s", [20.0, 40.0])
def test_a_storm_past_a_soft_stop_stays_sane(wind_m_s: float) -> None:
    """Where a stop gives so much that the arm comes near its dead point, forces stay finite and the leaf comes back
    when the wind is gone."""
    site = site_of(ArticulatedArm(), stop_stiffness_n_m_rad=5_000.0, solidity=1.0)
    plant = Plant(site)
    for leaf in (0, 1):
        plant.release(leaf)
        plant.place_leaf(leaf, 0.1)
    for leaf in (0, 1):
        plant.engage(leaf)
    plant.set_wind(Weather(wind_m_s=wind_m_s, wind_from_deg=0.0))
    plant.run_to(Us(10_000_000))
    blown = [plant.angle(leaf) for leaf in (0, 1)]
    assert all(-1.2 < angle < 0.2 for angle in blown), blown
    assert all(math.isfinite(plant.ram_force(leaf)) for leaf in (0, 1))


def test_which_way_a_ram_runs_does_not_hang_on_whether_a_stop_is_fitted() -> None:
    """A ram opens by running in if it does so up to where the stop should stand; that the leaf could swing further
    without one, to where the ram would be longer again, does not turn it round."""
    drive = Drive(
        post_across_m=0.1,
        post_inside_m=0.8,
        bracket_along_m=0.27,
        bracket_offset_m=0.25,
        retracted_m=0.423,
        stroke_m=0.256,
    )
    apart = Mounting.of(drive).apart
    assert apart(2.3) > apart(0.0) > apart(math.radians(46.0)), "longer again beyond its dead centre"
    for fitted in (True, False):
        linkage = Linkage(site_of(drive, open_stop_deg=46.0, open_stop_fitted=fitted), 0)
        assert linkage.lever(0.4) > 0.03
        assert linkage.travel(0.4) == pytest.approx(apart(0.0) - apart(0.4), abs=1e-12)
