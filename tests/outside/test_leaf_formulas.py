"""Formulas of a leaf, its hinges and its stops, against other ways to the same answer.

The fact sheet's numbered values of them stand in the table of check values.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from sim.mechanics import leaf


def test_inertia_with_thickness_by_integration() -> None:
    """m·(w²/3 + t²/12), facts 6.1, against a sum over small pieces of the rectangle (an independent way)."""
    width, thick, mass, count = 2.0, 0.06, 120.0, 400
    piece = mass / count**2
    total = sum(
        piece * ((width * (i + 0.5) / count) ** 2 + (thick * ((j + 0.5) / count - 0.5)) ** 2)
        for i in range(count)
        for j in range(count)
    )
    assert leaf.inertia(mass, width, thick) == pytest.approx(total, rel=1e-5)


def rebound(damping: float, stiffness: float, inertia: float, speed: float) -> float:
    """Speed away from the stop over speed into it, integrated by scipy until the push is gone [-]."""

    def motion(_: float, state: np.ndarray) -> list[float]:
        return [state[1], -(stiffness * state[0] + damping * state[1]) / inertia]

    def push(_: float, state: np.ndarray) -> float:
        return stiffness * state[0] + damping * state[1]

    push.terminal, push.direction = True, -1.0  # type: ignore[attr-defined]
    # a heavily damped leaf creeps out with the slow time constant c/k
    long = 60.0 * (math.sqrt(inertia / stiffness) + damping / stiffness)
    run = solve_ivp(motion, (0.0, long), [0.0, speed], method="LSODA", rtol=1e-10, atol=1e-14, events=push)
    assert run.t_events[0].size == 1, "the leaf never left the stop"
    return float(-run.y_events[0][0][1] / speed)


@pytest.mark.parametrize("restitution", [0.95, 0.8, 0.5, 0.3, 0.2, 0.136, 0.135, 0.1, 0.05])
@pytest.mark.parametrize(("stiffness", "inertia", "speed"), [(40_000.0, 160.0, 0.1), (500_000.0, 40.0, 1.3)])
def test_the_leaf_comes_back_with_that_share_of_its_speed(
    restitution: float, stiffness: float, inertia: float, speed: float
) -> None:
    """A leaf that strikes the stop leaves it with e times its speed, to 1e-6 (scipy LSODA, event push = 0)."""
    damping = leaf.restitution_damping(restitution, stiffness, inertia)
    assert rebound(damping, stiffness, inertia, speed) == pytest.approx(restitution, abs=1e-6)


def test_a_stop_that_could_pull_would_be_another_stop() -> None:
    """The common shorter rule, parting where x is 0 again, gives another damping: at e = 0.5 by an eighth and more.

    That rule (−ln e = π·ζ/√(1 − ζ²)) lets the stop hold the leaf back; here it must not agree.
    """
    loss = -math.log(0.5)
    pulling = loss / math.hypot(math.pi, loss) * 2.0
    assert leaf.restitution_damping(0.5, 1.0, 1.0) > 1.125 * pulling


def test_all_or_nothing() -> None:
    """e = 1 needs no damping; e = exp(−2) is the critical damping 2·√(k·J); 0 and more than 1 are refused."""
    assert leaf.restitution_damping(1.0, 40_000.0, 160.0) == pytest.approx(0.0, abs=1e-9)
    assert leaf.restitution_damping(math.exp(-2.0), 40_000.0, 160.0) == pytest.approx(2.0 * 2529.822, rel=1e-6)
    for wrong in (0.0, -0.1, 1.01, math.nan):
        with pytest.raises(ValueError, match="coefficient of restitution"):
            leaf.restitution_damping(wrong, 40_000.0, 160.0)


@given(st.floats(1e-6, 0.999), st.floats(1e-6, 0.999))
def test_less_rebound_needs_more_damping(one: float, other: float) -> None:
    """The damping falls as the restitution grows."""
    low, high = sorted((one, other))
    assert leaf.restitution_damping(low, 1e4, 100.0) >= leaf.restitution_damping(high, 1e4, 100.0)


def test_friction_of_sound_hinges() -> None:
    """Facts 6.3: 120 kg, μ 0.15, r_m 15 mm, spacing 1.4 m, r 10 mm: 2.65 + 2.52 N·m, to the digits printed."""
    thrust = leaf.bearing_friction(120.0, 1.0, 0.15, 0.015, 0.0, 1.4)
    journals = leaf.bearing_friction(120.0, 1.0, 0.15, 0.0, 0.010, 1.4)
    assert thrust == pytest.approx(2.65, abs=0.005)
    assert journals == pytest.approx(2.52, abs=0.005)
    assert leaf.bearing_friction(120.0, 1.0, 0.15, 0.015, 0.010, 1.4) == pytest.approx(thrust + journals, rel=1e-12)


def test_play_in_the_hinges_drops_the_tip() -> None:
    """Facts 6.3: 3 mm over 1.4 m is 4.3 mm at 2 m, to the digits printed."""
    assert leaf.sag(0.003, 1.4, 2.0) == pytest.approx(0.0043, abs=0.00005)


def test_grease() -> None:
    """1 at 20 °C whatever k is; each ten kelvin colder multiplies by the same number (law of the exponential)."""
    assert leaf.grease_factor(20.0, 0.04) == 1.0
    assert leaf.grease_factor(-10.0, 0.0) == 1.0
    assert leaf.grease_factor(0.0, 0.04) == pytest.approx(leaf.grease_factor(10.0, 0.04) ** 2, rel=1e-12)
    assert leaf.grease_factor(-5.0, 0.04) == pytest.approx(2.718281828, rel=1e-9)


def test_the_gap_between() -> None:
    """Facts 6.3: with the heel corner at (60, 50) mm and the post 70 mm behind, 97 mm at 30° and 57 mm at 60°."""
    assert leaf.hinge_gap(0.07, 0.06, 0.05, math.radians(30)) == pytest.approx(0.097, abs=0.0005)
    assert leaf.hinge_gap(0.07, 0.06, 0.05, math.radians(60)) == pytest.approx(0.057, abs=0.0005)


@given(st.floats(0.0, 0.2), st.floats(-0.1, 0.2), st.floats(-0.2, 2.3))
def test_the_rate_of_the_gap(along: float, across: float, angle: float) -> None:
    """d(gap)/dθ against a central difference of the gap itself, step 1e-6 rad."""
    ahead, behind = (leaf.hinge_gap(0.07, along, across, angle + step) for step in (1e-6, -1e-6))
    assert leaf.hinge_gap_rate(along, across, angle) == pytest.approx((ahead - behind) / 2e-6, abs=1e-8)


@pytest.mark.parametrize("caught", [0.12, 0.08, 0.05, 0.025])
def test_the_angle_at_which_a_hand_is_caught(caught: float) -> None:
    """The closing gap is as thin as a forearm, a hand or a finger at the root that scipy finds by brentq."""
    root = brentq(lambda angle: leaf.hinge_gap(0.07, 0.06, 0.05, angle) - caught, 0.0, math.pi / 2, xtol=1e-13)
    angle = leaf.hinge_gap_angle(caught, 0.07, 0.06, 0.05)
    assert angle == pytest.approx(root, abs=1e-10)
    assert leaf.hinge_gap_rate(0.06, 0.05, angle) < 0.0, "the gap closes there"


@given(st.floats(0.001, 0.2), st.floats(-0.1, 0.2), st.floats(0.05, 3.0))
def test_the_angle_undoes_the_gap(along: float, across: float, beyond: float) -> None:
    """Anywhere between widest and narrowest, angle → gap → angle comes back."""
    angle = beyond - math.atan2(across, along)
    gap = leaf.hinge_gap(0.07, along, across, angle)
    assert leaf.hinge_gap_angle(gap, 0.07, along, across) == pytest.approx(angle, abs=1e-6)


def test_a_gap_that_never_is() -> None:
    """Wider than the widest, narrower than the narrowest, or the same at every angle: a sentence with the limits."""
    for gap in (0.16, -0.02):
        with pytest.raises(ValueError, match=r"between -0\.008102 m and 0\.1481 m"):
            leaf.hinge_gap_angle(gap, 0.07, 0.06, 0.05)
    with pytest.raises(ValueError, match="at every angle"):
        leaf.hinge_gap_angle(0.07, 0.07, 0.0, 0.0)


def test_the_lever_of_what_is_caught() -> None:
    """Virtual work: torque × dθ = force × d(gap). 300 N·m at a lever of 50 mm press with 6000 N (facts 6.3, shut)."""
    lever = -leaf.hinge_gap_rate(0.06, 0.05, 0.0)
    assert leaf.force_at(300.0, lever) == pytest.approx(6000.0, rel=1e-12)
