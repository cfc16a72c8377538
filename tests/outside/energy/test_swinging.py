"""Energy of a gate that nothing drives: kept where nothing rubs, falling where something does (textbook).

A look's speed belongs half a step before its place (the method is semi-implicit), so that single values of the
energy waver by some 0.02 %; that is no loss, and the bounds are well above it.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest

from sim.mechanics.plant import Plant, Reason
from sim.site.models import ArticulatedArm, Drive, Drives, Leaf, Leaves, Motor, Site, Underground, Weather
from sim.units import Us

Row = npt.NDArray[np.float64]

SMOOTH = {"gear_efficiency": 1.0, "drag_n_m": 0.0, "damping_n_m_s_rad": 0.0, "motor": Motor(no_load_a=0.0)}
"""A train that takes nothing; its motor is off, its bridge open."""


def seen(plant: Plant, seconds: int) -> tuple[Row, Row, Row, Row]:
    """(angle, speed, motor speed, force of the train) of the active leaf at every millisecond."""
    rows = []
    for _ in range(1000 * seconds):
        rows.append((plant.angle(0), plant.speed(0), plant.motor_speed(0), plant.ram_force(0)))
        assert plant.run_to(Us(plant.now + 1000)).reason is Reason.REACHED
    angle, speed, turning, force = np.array(rows).T
    return angle, speed, turning, force


def alone(leaf: Leaf, drive: Any, released: bool) -> Plant:
    """A gate whose active leaf swings while the other stands out of its way."""
    plant = Plant(
        Site(
            name="Quince Lane, invented",
            leaves=Leaves(active=leaf, inactive=Leaf()),
            drives=Drives(active=drive, inactive=Drive()),
            weather=Weather(temperature_c=20.0),
        )
    )
    if released:
        plant.release(0)
    plant.place_leaf(1, 1.3)
    return plant


@pytest.mark.parametrize(
    ("drive", "released"),
    [(Drive(), True), (Underground(gear_ratio=2280.0, **SMOOTH), False), (ArticulatedArm(**SMOOTH), False)],
    ids=["released", "turning an underground gear", "turning an arm's gear"],
)
def test_a_minute_of_swinging_loses_nothing(drive: Any, released: bool, inertia: Any, weight_moment: Any) -> None:
    """No friction, motor off, hinge leaning 2° so that the leaf hangs at 45°: let go at 80°, it swings for a minute,
    and at every millisecond its energy is the start's within 0.1 %. With a drive that is leaf, rotor and spring."""
    leaf = Leaf(hinge_friction_n_m=0.0, hinge_viscous_n_m_s=0.0, hinge_tilt_deg=2.0, hinge_tilt_towards_deg=45.0)
    plant = alone(leaf, drive, released)
    plant.place_leaf(0, math.radians(80.0))
    angle, speed, turning, force = seen(plant, 60)
    energy = weight_moment(leaf) * (1.0 - np.cos(angle - math.radians(45.0))) + 0.5 * inertia(leaf) * speed**2
    if not released:
        energy += 0.5 * drive.motor.rotor_kg_m2 * turning**2 + 0.5 * force**2 / drive.stiffness_n_m_rad
        assert np.max(np.abs(turning)) > 100.0, "the rotor turns along"
    assert np.sum(speed[1:] * speed[:-1] < 0.0) >= 7, "it swings to and fro"
    assert angle.min() == pytest.approx(math.radians(10.0), abs=0.001), "as far as on the other side"
    assert np.max(np.abs(energy / energy[0] - 1.0)) < 0.001


@pytest.mark.parametrize("stiffness", [5_000.0, 40_000.0, 500_000.0])
def test_a_stop_without_damping_gives_everything_back(stiffness: float) -> None:
    """Falling shut from 1.2 rad on a stop that is only a spring, without friction: each of the next seven times the
    leaf comes up again, it is as high as at the start within 0.1 %."""
    leaf = Leaf(
        hinge_friction_n_m=0.0,
        hinge_viscous_n_m_s=0.0,
        hinge_tilt_deg=2.0,
        stop_stiffness_n_m_rad=stiffness,
        stop_damping_n_m_s_rad=0.0,
    )
    plant = alone(leaf, Drive(), True)
    plant.place_leaf(0, 1.2)
    angle, speed, *_ = seen(plant, 60)
    assert angle.min() < 0.0, "it met the stop"
    tops = angle[1:][(speed[:-1] > 0.0) & (speed[1:] <= 0.0)]
    assert tops.size >= 7
    assert np.max(np.abs((1.0 - np.cos(tops)) / (1.0 - math.cos(1.2)) - 1.0)) < 0.001


@pytest.mark.parametrize("seed", range(24))
def test_friction_only_takes(random_gate: Callable[..., Site], inertia: Any, weight_moment: Any, seed: int) -> None:
    """A released leaf of a gate drawn at random, pushed off in still air: until it meets a stop, its energy falls at
    every millisecond in which it moves, and rises at none."""
    site = random_gate(seed, wind=0.0)
    leaf = site.leaves.active
    plant = Plant(site)
    plant.place_leaf(1, 1.3)
    plant.release(0)
    plant.place_leaf(0, 0.8, 0.4 if seed % 2 else -0.4)
    angle, speed, *_ = seen(plant, 6)
    free = (angle > 0.0) & (angle < math.radians(leaf.open_stop_deg))
    until = int(np.argmin(free)) if not free.all() else angle.size
    angle, speed = angle[:until], speed[:until]
    mass = leaf.mass_kg + sum(it.mass_kg for it in leaf.fittings)
    lifted = mass * 9.81 * leaf.hinge_rise_m / (math.pi / 2) * angle
    lean = -weight_moment(leaf) * np.cos(angle - math.radians(leaf.hinge_tilt_towards_deg))
    between = (speed[1:] + speed[:-1]) / 2  # at the place of the earlier look
    energy = 0.5 * inertia(leaf) * between**2 + (lifted + lean)[:-1]
    change = np.diff(energy)
    moving = np.abs(between[1:]) > 1e-3
    assert np.sum(moving) > 300
    assert np.max(change[moving]) < 0.0
    assert np.max(change) < 1e-9
    assert energy[-1] < energy[0]
