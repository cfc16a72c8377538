"""What a leaf squeezes at its hinge, against the lever law: one torque, and force that grows as the lever shrinks."""

from __future__ import annotations

import math

import pytest

from sim.mechanics import leaf as formulas
from sim.mechanics.linkage import Linkage
from sim.mechanics.obstacle import GAP_THINGS, LEAST_LEVER, Obstacle, in_hinge_gap
from sim.mechanics.plant import DriveNetwork, Plant
from sim.site import Site
from sim.units import SECOND, Us

LEVER_M = 0.10
POST_M = 0.05
HEEL = {"post_m": POST_M, "heel_along_m": 0.08, "heel_across_m": 0.06}
"""A heel corner 0.10 m from the hinge line: where the gap is as wide as the post stands off, that is its lever."""

NETWORK = DriveNetwork(voc=(27.3, 27.3), z=((0.12, 0.12), (0.12, 0.12)), rth=(0.1, 0.1))
WIDTH_M = 2.0


def plant(**leaf: object) -> Plant:
    """A gate whose active leaf has no friction, and the gap above."""
    active = {"hinge_friction_n_m": 0.0, "hinge_viscous_n_m_s": 0.0, "hinge_gap": HEEL, **leaf}
    return Plant(Site.model_validate({"name": "Bramble Gate, invented", "leaves": {"active": active}}))


def squeezed(at_lever_m: float, thing: Obstacle, torque_n_m: float) -> float:
    """Steady force [N] on a thing that a free leaf is pushed against with one torque."""
    gate = plant()
    gate.release(0)
    gate.place_leaf(0, thing.angle)
    gate.place_obstacle(0, 0, thing)
    assert thing.radius_m == pytest.approx(at_lever_m)
    gate.push(0, torque_n_m / WIDTH_M)
    gate.run_to(Us(60 * SECOND))
    while gate.now < 60 * SECOND:
        gate.run_to(Us(60 * SECOND))
    return gate.slot_force(0, 0)


def at(radius_m: float, angle: float) -> Obstacle:
    return Obstacle("rest", angle, radius_m, True, 2_000_000.0, 100_000.0)


def in_gap() -> Obstacle:
    return in_hinge_gap(
        plant().site.leaves.active, POST_M, name="stick", stiffness_n_m=2_000_000.0, damping_n_s_m=100_000.0
    )


@pytest.mark.parametrize(("radius_m", "force_n"), [(2.0, 150.0), (1.0, 300.0), (0.5, 600.0)])
def test_one_torque_along_the_leaf(radius_m: float, force_n: float) -> None:
    """Facts 6.2 row: a static torque of 300 N·m is 150 N at the tip of 2 m, 300 N at 1 m, 600 N at 0.5 m."""
    assert squeezed(radius_m, at(radius_m, in_gap().angle), 300.0) == pytest.approx(force_n, rel=0.005)


def test_the_same_torque_in_the_hinge_gap() -> None:
    """Facts 6.2 row: the same 300 N·m is 3000 N at 0.1 m, which is the lever of this gap."""
    assert squeezed(LEVER_M, in_gap(), 300.0) == pytest.approx(3000.0, rel=0.005)


def test_a_drive_squeezes_as_many_times_harder_as_its_lever_is_shorter() -> None:
    """The drive run against a rest at the closing edge and against the same rest in the hinge gap, at one angle and
    with one current limit. What each presses with is the ram's thrust times its own lever over the rest's (law of the
    lever, textbook), so that for one thrust the gap at 0.1 m gets 20 times what the edge at 2 m gets."""

    def held(thing: Obstacle) -> tuple[float, float]:
        """(force on the rest, the same by the law of the lever) [N]."""
        gate = plant()
        gate.set_network(NETWORK)
        gate.place_leaf(0, thing.angle)
        gate.place_obstacle(0, 0, thing)
        gate.command(0, 1.0, slew_per_s=0.5, limit_a=3.0)
        while gate.now < 5 * SECOND:
            gate.run_to(Us(5 * SECOND))
        by_law = Linkage(gate.site, 0).force_at(gate.angle(0), thing.radius_m, gate.ram_force(0))
        return gate.slot_force(0, 0), by_law

    gap = in_gap()
    squeeze, by_law = held(gap)
    assert squeeze == pytest.approx(by_law, rel=1e-3)
    edge, by_law = held(at(WIDTH_M, gap.angle))
    assert edge == pytest.approx(by_law, rel=1e-3)
    assert squeeze > 19.0 * edge


@pytest.mark.parametrize("what", GAP_THINGS)
def test_a_thing_is_met_where_the_gap_is_as_thin_as_it_is(what: str) -> None:
    """Facts 6.3 gap formula: at the angle of the first touch the gap is the thing's thickness, and its lever is the
    derivative of the gap, taken numerically."""
    thick = GAP_THINGS[what].thickness_m
    model = Site(name="Bramble Gate, invented").leaves.active
    gap, thing = model.hinge_gap, in_hinge_gap(model, thick)
    numbers = (gap.post_m, gap.heel_along_m, gap.heel_across_m)
    assert formulas.hinge_gap(*numbers, thing.angle) == pytest.approx(thick)
    step = 1e-5
    slope = formulas.hinge_gap(*numbers, thing.angle + step) - formulas.hinge_gap(*numbers, thing.angle - step)
    assert thing.radius_m == pytest.approx(-slope / (2 * step), rel=1e-6)
    assert thing.opening


def test_a_gap_at_its_dead_point_has_a_least_lever() -> None:
    """Where the gap no longer changes the lever law knows no bound; the thing then has the least lever there is."""
    model = plant().site.leaves.active
    narrowest = POST_M - math.hypot(0.08, 0.06)
    assert in_hinge_gap(model, narrowest + 1e-9).radius_m == LEAST_LEVER
    with pytest.raises(ValueError, match="never"):
        in_hinge_gap(model, 0.5)
