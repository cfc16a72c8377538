"""Ram, arm and motor formulas against the fact sheet's arithmetic (rows C30 to C37, C45 to C53)."""

from __future__ import annotations

import math

import pytest

from sim.mechanics import motor
from sim.mechanics.arm import Arm
from sim.mechanics.ram import Ram
from sim.site.models import Drive, Motor

RAM = Ram(0.15, 0.15, 0.85, 0.05)
"""The example of facts 6.4."""

ARM = Arm(-0.1, 0.2, 0.3, 0.45, 0.6)
"""The example of facts 6.5."""

SET = Motor(resistance_ohm=1.2, constant_v_s_rad=0.050, no_load_a=0.7, inductance_h=0.001, rotor_kg_m2=1.5e-5)
"""The first set of facts 5.3."""

TRAIN = Drive(motor=SET, gear_ratio=20.0, gear_efficiency=0.85, screw_lead_m=0.005, screw_efficiency=0.35)

RPM = 60 / (2 * math.pi)

RESULTS = [
    # (what, computed, expected, absolute tolerance): source facts section 9, the row named
    ("C30 ram length shut", RAM.length(0.0), 1.0050, 0.0005),
    ("C30 ram length at 90°", RAM.length(math.pi / 2), 0.7071, 0.0005),
    ("C31 stroke", RAM.stroke(math.pi / 2), 0.29788, 0.0005),
    ("C32 lever shut", RAM.lever(0.0), 0.1343, 0.0005),
    ("C32 lever at 45°", RAM.lever(math.pi / 4), 0.2084, 0.0005),
    ("C32 lever at 90°", RAM.lever(math.pi / 2), 0.1697, 0.0005),
    ("C33 tip speed shut", 2.0 * 0.016 / RAM.lever(0.0), 0.2382, 0.0024),
    ("C33 tip speed at 45°", 2.0 * 0.016 / RAM.lever(math.pi / 4), 0.1536, 0.0015),
    ("C34 opening time at 16 mm/s", RAM.stroke(math.pi / 2) / 0.016, 18.618, 0.186),
    ("C36 crank shut", math.degrees(ARM.crank_angle(0.0)), 1.15, 0.2),
    ("C36 crank at 90°", math.degrees(ARM.crank_angle(math.pi / 2)), 152.52, 0.2),
    ("C37 tip force at 3 A, shut", motor.ram_force(TRAIN, 3.0) * RAM.lever(0.0) / 2.0, 57.755, 1.155),
    ("C45 no-load speed", motor.no_load_speed(SET, 24.0) * RPM, 4423.23, 44.0),
    ("C46 stall current", motor.stall_current(SET, 24.0), 20.0, 0.2),
    ("C46 stall torque", motor.shaft_torque(SET, 20.0), 0.965, 0.00965),
    ("C47 peak efficiency", motor.peak_efficiency(SET, 24.0), 0.6608, 0.0066),
    ("C48 half duty, 3 A", motor.speed_at(SET, 12.0, 3.0) * RPM, 1604.28, 16.0),
    ("C49 hot stall", 24.0 / motor.hot_resistance(SET, 100.0), 15.216, 0.152),
    ("C50 ram force at 8 A", motor.ram_force(TRAIN, 8.0), 2729.10, 27.3),
    ("C51 stall behind a cable", motor.stall_current(SET, 24.0, 0.665), 12.869, 0.129),
    ("C53 self-locking friction", motor.self_locking_friction(0.005, 0.014), 0.1137, 0.0006),
]


@pytest.mark.parametrize(("computed", "expected", "within"), [r[1:] for r in RESULTS], ids=[r[0] for r in RESULTS])
def test_formula(computed: float, expected: float, within: float) -> None:
    """Each formula gives the fact sheet's number within its tolerance."""
    assert computed == pytest.approx(expected, abs=within)


@pytest.mark.parametrize("degrees", [0.0, 10.0, 45.0, 70.0, 90.0, 110.0])
def test_lever_is_the_derivative_of_the_length(degrees: float) -> None:
    """Row C35: the lever equals −dd/dθ by a central difference of 1e-6 rad, to 1e-4 of itself."""
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
