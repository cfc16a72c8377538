"""Ram, arm and train formulas against other ways to the same answer.

The fact sheet's numbered values of them stand in the table of check values.
"""

from __future__ import annotations

import math

import pytest

from sim.mechanics import motor
from sim.mechanics.arm import Arm
from sim.mechanics.ram import Ram
from sim.site.models import Drive, Motor

RAM = Ram(0.15, 0.15, 0.85, 0.05)
"""The example of facts 6.4."""

SET = Motor(resistance_ohm=1.2, constant_v_s_rad=0.050, no_load_a=0.7, inductance_h=0.001, rotor_kg_m2=1.5e-5)
"""The first set of facts 5.3."""

TRAIN = Drive(motor=SET, gear_ratio=20.0, gear_efficiency=0.85, screw_lead_m=0.005, screw_efficiency=0.35)


@pytest.mark.parametrize("degrees", [0.0, 10.0, 45.0, 70.0, 90.0, 110.0])
def test_lever_is_the_derivative_of_the_length(degrees: float) -> None:
    """The lever equals −dd/dθ by a central difference of 1e-6 rad, to 1e-4 of itself."""
    angle, step = math.radians(degrees), 1e-6
    slope = (RAM.length(angle + step) - RAM.length(angle - step)) / (2 * step)
    assert RAM.lever(angle) == pytest.approx(-slope, rel=1e-4)


@pytest.mark.parametrize("degrees", [0.0, 30.0, 45.0, 60.0, 90.0])
def test_length_by_the_cosine_rule(degrees: float) -> None:
    """Facts 6.4: d² = rA² + rB² − 2·rA·rB·cos γ, γ = 180° − atan(b/a) − θ − atan(e/L); h = rA·rB·sin γ / d."""
    rear, front = math.hypot(0.15, 0.15), math.hypot(0.85, 0.05)
    gamma = math.pi - math.atan(1.0) - math.radians(degrees) - math.atan(0.05 / 0.85)
    length = math.sqrt(rear**2 + front**2 - 2 * rear * front * math.cos(gamma))
    assert RAM.length(math.radians(degrees)) == pytest.approx(length, rel=1e-12)
    assert RAM.lever(math.radians(degrees)) == pytest.approx(rear * front * math.sin(gamma) / length, rel=1e-12)


def test_reflected_rotor_weighs_more_than_the_leaf() -> None:
    """Facts 6.2: 1.5e-5 kg·m² at 3376 turns to one is 171 kg·m², the lever that gives this ratio being h/r."""
    lever = 3376 * motor.travel_per_turn(TRAIN)
    assert motor.reflected_inertia(TRAIN, lever) == pytest.approx(171, rel=0.01)


def test_the_set_holds_by_itself() -> None:
    """A train that loses more than half can't be turned back (screw law, facts 5.3)."""
    assert motor.holds_by_itself(TRAIN)
    assert not motor.holds_by_itself(TRAIN.model_copy(update={"gear_efficiency": 0.9, "screw_efficiency": 0.9}))


def test_an_arm_out_of_reach_says_so() -> None:
    """The reach test |c1 − c2| ≤ D ≤ c1 + c2 of facts 6.5 refuses in words."""
    with pytest.raises(ValueError, match="can't reach"):
        Arm(-1.0, 0.2, 0.3, 0.45, 0.6).crank_angle(0.0)
