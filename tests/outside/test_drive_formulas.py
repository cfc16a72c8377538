"""Rams, arms and trains against other ways to the same answer.

The fact sheet's numbered values of them stand in the table of check values.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from sim.kernel.network import DriveNetwork
from sim.mechanics import motor
from sim.mechanics.linkage import Linkage
from sim.mechanics.mounting import Mounting
from sim.mechanics.plant import Plant
from sim.site.drives import ArticulatedArm
from sim.site.models import Drive, Drives, Motor, Site

RAM = Drive(post_across_m=0.15, post_inside_m=0.15, bracket_along_m=0.85, bracket_offset_m=0.05)
"""The example of facts 6.4."""

ARM = ArticulatedArm(axis_across_m=0.1, axis_inside_m=0.2, crank_m=0.3, link_m=0.45, bracket_along_m=0.6)
"""The example of facts 6.5."""

SET = Motor(resistance_ohm=1.2, constant_v_s_rad=0.050, no_load_a=0.7, inductance_h=0.001, rotor_kg_m2=1.5e-5)
"""The first set of facts 5.3."""

TRAIN = Drive(motor=SET, gear_ratio=20.0, gear_efficiency=0.85, screw_lead_m=0.005, screw_efficiency=0.35)


def works(drive: Drive | ArticulatedArm) -> Linkage:
    """What a drive does, as the kernel has it."""
    return Linkage(Site(name="Quince Lane, invented", drives=Drives(active=drive)), 0)


@pytest.mark.parametrize("degrees", [0.0, 10.0, 45.0, 70.0, 90.0])
@pytest.mark.parametrize("drive", [RAM, ARM], ids=["ram", "arm"])
def test_the_lever_is_the_derivative_of_the_output(drive: Drive | ArticulatedArm, degrees: float) -> None:
    """Virtual work: the lever equals d(output)/dθ by a central difference of 1e-6 rad, to 1e-4 of itself."""
    angle, step, linkage = math.radians(degrees), 1e-6, works(drive)
    slope = (linkage.travel(angle + step) - linkage.travel(angle - step)) / (2 * step)
    assert linkage.lever(angle) == pytest.approx(slope, rel=1e-4)


@pytest.mark.parametrize("degrees", [0.0, 30.0, 45.0, 60.0, 90.0])
def test_length_by_the_cosine_rule(degrees: float) -> None:
    """Facts 6.4: d² = rA² + rB² − 2·rA·rB·cos γ, γ = 180° − atan(b/a) − θ − atan(e/L); h = rA·rB·sin γ / d."""
    rear, front = math.hypot(0.15, 0.15), math.hypot(0.85, 0.05)
    gamma = math.pi - math.atan(1.0) - math.radians(degrees) - math.atan(0.05 / 0.85)
    length = math.sqrt(rear**2 + front**2 - 2 * rear * front * math.cos(gamma))
    mounting, linkage, angle = Mounting.of(RAM), works(RAM), math.radians(degrees)
    assert mounting.apart(angle) == pytest.approx(length, rel=1e-12)
    assert mounting.apart(0.0) - linkage.travel(angle) == pytest.approx(length, rel=1e-12)
    assert linkage.lever(angle) == pytest.approx(rear * front * math.sin(gamma) / length, rel=1e-12)


@pytest.mark.parametrize(
    ("degrees", "crank_deg", "ratio"),
    [(0.0, 1.15, 1.93), (30.0, 50.8, 1.58), (45.0, 74.7, 1.62), (60.0, 99.5, 1.69), (90.0, 152.5, 1.83)],
)
def test_the_arm_of_the_example(degrees: float, crank_deg: float, ratio: float) -> None:
    """Crank angle and its rate at five leaf angles, to the digits that facts 6.5 print."""
    angle = math.radians(degrees)
    assert math.degrees(Mounting.of(ARM).crank_rad(angle)) == pytest.approx(crank_deg, abs=0.05)
    assert works(ARM).lever(angle) == pytest.approx(ratio, abs=0.006)


@pytest.mark.parametrize("drive", [RAM, ARM], ids=["ram", "arm"])
def test_both_rooms_have_one_geometry(drive: Drive | ArticulatedArm) -> None:
    """What is drawn and what is stepped come from the same triangle: its output, to 1e-12, at every degree."""
    mounting, linkage = Mounting.of(drive), works(drive)
    for degrees in range(93):
        angle = math.radians(degrees)
        if isinstance(drive, ArticulatedArm):
            drawn = mounting.crank_rad(angle) - mounting.crank_rad(0.0)
        else:
            drawn = mounting.apart(0.0) - mounting.apart(angle)
        assert linkage.travel(angle) == pytest.approx(drawn, abs=1e-12)


def test_reflected_rotor_weighs_more_than_the_leaf() -> None:
    """Facts 6.2: 1.5e-5 kg·m² at 3376 turns to one is 171 kg·m², the lever that gives this ratio being h/r."""
    lever = 3376 * motor.travel_per_turn(TRAIN)
    assert motor.reflected_inertia(TRAIN, lever) == pytest.approx(171, rel=0.01)


def test_the_set_holds_by_itself() -> None:
    """A train that loses more than half can't be turned back (screw law, facts 5.3)."""
    assert motor.holds_by_itself(TRAIN)
    assert not motor.holds_by_itself(TRAIN.model_copy(update={"gear_efficiency": 0.9, "screw_efficiency": 0.9}))


@pytest.mark.parametrize("drag", [0.0, 0.065])
@pytest.mark.parametrize("push", [20.0, 60.0, 120.0, 180.0])
def test_thrust_follows_from_the_current(
    rig: Any, ran: Callable[[Plant, float], Plant], push: float, drag: float
) -> None:
    """While a leaf is driven against a steady push, the ram's thrust is what the formula makes of the current.

    Within 0.5 %: the run still slows down a little, which takes some of the current.
    """
    drive = TRAIN.model_copy(update={"drag_n_m": drag})
    plant = Plant(rig.site.model_copy(update={"drives": Drives(active=drive)}))
    plant.set_network(DriveNetwork(voc=(24.0, 24.0), z=((0.0, 0.0), (0.0, 0.0))))
    plant.place_leaf(1, 1.0)
    plant.place_leaf(0, 0.5)
    plant.push(0, -push)
    plant.command(0, 1.0, limit_a=100.0)
    ran(plant, 4.0)
    assert plant.ram_force(0) == pytest.approx(motor.ram_force(drive, plant.motor_current(0)), rel=0.005, abs=1.0)
