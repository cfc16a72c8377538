"""A mains motor with a run capacitor: slip, torque, current, and what a weak capacitor leaves of it."""

from __future__ import annotations

import math
from typing import Any, Final

import pytest

from sim.kernel.network import DriveNetwork
from sim.mechanics.motor import field_shares
from sim.mechanics.plant import Plant, Reason
from sim.site.drives import Drives, Underground
from sim.site.models import InductionMotor, Leaf, Leaves, Site, Weather
from sim.units import Us

FIELD: Final = 2.0 * math.pi * 50.0 / 2.0
"""Four poles on 50 Hz [rad/s]: 1500 rpm (textbook)."""

RIGHT_UF: Final = 12.5


def plant_of(volts: float = 230.0, gear: float = 200.0, **motor: Any) -> Plant:
    """The active leaf half open on a mains gearmotor that can be turned back; the inactive one is out of the way."""
    drive = Underground(motor=InductionMotor(**motor), gear_ratio=gear, gear_efficiency=0.9, drag_n_m=0.0)
    leaf = Leaf(hinge_friction_n_m=0.0, hinge_viscous_n_m_s=0.0)
    site = Site(
        name="Quince Lane, invented",
        leaves=Leaves(active=leaf, inactive=leaf),
        drives=Drives(active=drive, inactive=drive),
        weather=Weather(temperature_c=20.0),
    )
    plant = Plant(site)
    plant.set_network(DriveNetwork((24.0, 24.0), ((0.0, 0.0), (0.0, 0.0)), mains=(volts, volts)))
    plant.place_leaf(0, 0.5)
    plant.place_leaf(1, 1.3)
    return plant


def run(plant: Plant, seconds: float) -> None:
    """Run on, whatever happens on the way."""
    end = Us(plant.now + round(seconds * 1e6))
    while plant.run_to(end).reason is not Reason.REACHED:
        pass


def held(duty: float = 1.0, **motor: Any) -> Plant:
    """A motor that can't turn: its leaf presses against the open stop."""
    plant = plant_of(**motor)
    plant.place_leaf(0, plant.site.leaves.active.open_stop_deg * math.pi / 180.0)
    plant.command(0, duty, 50.0)
    run(plant, 2.0)
    return plant


@pytest.mark.parametrize(("duty", "way"), [(1.0, 1.0), (0.2, 1.0), (-0.7, -1.0)])
def test_without_load_it_turns_a_little_slower_than_its_field(duty: float, way: float) -> None:
    """Idle slip is what the motor's own friction needs: near s = T·s_k/(2·T_k) for small slip (Kloss, textbook), here
    0.05·0.25/2.8 = 0.45 %. The size of the duty does not matter: there is no speed control in it, only its sign."""
    plant = plant_of()
    plant.shear(0)
    plant.command(0, duty, 50.0)
    run(plant, 3.0)
    slip = 1.0 - way * plant.motor_speed(0) / FIELD
    assert slip == pytest.approx(0.05 * 0.25 / 2.8, rel=0.02)
    assert plant.motor_current(0) * way == pytest.approx(1.2, rel=0.05), "idle current"
    assert plant.duty(0) == duty


def test_the_size_of_the_duty_changes_no_bit() -> None:
    """At 20 % and at 100 % the same angle, speed and current."""
    pair = []
    for duty in (0.2, 1.0):
        plant = plant_of()
        plant.command(0, duty, 50.0)
        run(plant, 5.0)
        pair.append((plant.angle(0), plant.motor_speed(0), plant.motor_current(0)))
    assert pair[0] == pair[1]


@pytest.mark.parametrize("load", [0.3, 0.8, 1.2])
def test_torque_follows_slip_as_kloss_says(load: float) -> None:
    """Against a steady brake T the slip solves T = 2·T_k/(s/s_k + s_k/s), T_k = 1.4 N·m at s_k = 0.25 (textbook),
    the stable one of both solutions."""
    plant = plant_of(drag_n_m=load)
    plant.shear(0)
    plant.command(0, 1.0, 50.0)
    run(plant, 3.0)
    ratio = 1.4 / load
    expected = 0.25 * (ratio - math.sqrt(ratio**2 - 1.0)) if load < 1.4 else math.nan
    starting = 2.0 * 1.4 / (1.0 / 0.25 + 0.25)
    if load > starting:
        assert plant.motor_speed(0) == 0.0, "it can't start against more than its standing torque"
        return
    assert 1.0 - plant.motor_speed(0) / FIELD == pytest.approx(expected, rel=1e-4)


def test_held_it_takes_its_stall_current() -> None:
    """With the rotor held current and torque are those of slip 1: 3.6 A and 2·T_k/(1/s_k + s_k) = 0.659 N·m."""
    plant = held()
    assert plant.motor_speed(0) == 0.0
    assert plant.motor_current(0) == pytest.approx(3.6, rel=1e-9)


@pytest.mark.parametrize(
    ("fitted", "share"), [(12.5, 1.0), (10.0, 0.8), (8.0, 0.64), (4.0, 0.32), (0.0, 0.0), (25.0, 0.5)]
)
def test_standing_torque_falls_in_proportion_to_the_capacitor(fitted: float, share: float) -> None:
    """Two fields of shares ((1 ± c)/2)² leave c of the standing torque (symmetrical components, textbook): a weak
    capacitor starts weakly, none at all gives no torque, twice the right one is as wrong as half of it."""
    forward, backward = field_shares(fitted / RIGHT_UF)
    assert forward - backward == pytest.approx(share, abs=1e-12)
    standing = 2.0 * 1.4 / (1.0 / 0.25 + 0.25)
    for part, starts in ((0.97, True), (1.03, False)):
        if share == 0.0 and starts:
            continue
        plant = plant_of(fitted_uf=fitted, drag_n_m=part * share * standing if share else 1e-3)
        plant.shear(0)
        plant.command(0, 1.0, 50.0)
        run(plant, 2.0)
        assert (plant.motor_speed(0) != 0.0) is starts
        assert plant.motor_current(0) > 1.0, "it hums"


def test_a_weak_capacitor_hums_under_load_and_runs_after_a_push() -> None:
    """Facts 8: 8 µF in the place of 12.5 µF does not start a loaded leaf; helped to its speed it runs."""
    plant = plant_of(fitted_uf=8.0)
    load = (0.52 - 0.05) * 200.0 * 0.9  # 0.52 N·m at a motor whose standing torque is 0.66, or 0.42 with 8 µF
    plant.push(0, -load / 2.0)
    plant.command(0, 1.0, 50.0)
    run(plant, 3.0)
    assert plant.angle(0) < 0.501
    assert plant.motor_current(0) > 3.0
    sound = plant_of()
    sound.push(0, -load / 2.0)
    sound.command(0, 1.0, 50.0)
    run(sound, 1.0)
    assert sound.angle(0) > 0.55
    plant.push(0, 250.0)
    run(plant, 0.6)
    plant.push(0, -load / 2.0)
    before = plant.angle(0)
    run(plant, 0.5)
    assert plant.angle(0) > before + 0.05


def test_without_a_capacitor_it_runs_the_way_it_was_helped() -> None:
    """A single field has no way of its own: helped over, it runs on either way at nearly its full speed."""
    for way in (1.0, -1.0):
        plant = plant_of(gear=600.0, fitted_uf=0.0)
        plant.place_leaf(0, 0.8)
        plant.command(0, 1.0, 50.0)
        run(plant, 1.0)
        assert plant.motor_speed(0) == 0.0
        plant.push(0, way * 400.0)
        run(plant, 0.3)
        plant.push(0, 0.0)
        run(plant, 0.5)
        assert way * plant.motor_speed(0) > 0.9 * FIELD


@pytest.mark.parametrize("volts", [115.0, 184.0, 253.0])
def test_torque_goes_with_the_square_of_the_volts(volts: float) -> None:
    """At 80 % of its voltage a motor starts 64 % of the load, and takes 80 % of the current (textbook)."""
    standing, share = 2.0 * 1.4 / (1.0 / 0.25 + 0.25), (volts / 230.0) ** 2
    for part, starts in ((0.97, True), (1.03, False)):
        plant = plant_of(volts, drag_n_m=part * share * standing)
        plant.shear(0)
        plant.command(0, 1.0, 50.0)
        run(plant, 0.001)
        assert plant.motor_current(0) == pytest.approx(3.6 * volts / 230.0, rel=1e-9)
        run(plant, 0.1)
        assert (plant.motor_speed(0) != 0.0) is starts


def test_unfed_broken_or_not_commanded_it_takes_nothing() -> None:
    """No mains, a broken winding, or no command: no current and no torque."""
    for plant, duty in ((plant_of(0.0), 1.0), (plant_of(winding_open=True), 1.0), (plant_of(), 0.0)):
        plant.command(0, duty, 50.0)
        run(plant, 1.0)
        assert (plant.motor_current(0), plant.motor_speed(0), plant.angle(0)) == (0.0, 0.0, 0.5)


def test_turned_faster_than_its_field_it_brakes() -> None:
    """Pushed over its synchronous speed it holds back with the slip of that load, the other way round: an induction
    motor on the mains is a brake then (textbook). What reaches it is the load less train's and own friction."""
    plant = plant_of(gear=600.0)
    plant.push(0, 100.0)
    plant.command(0, 1.0, 50.0)
    run(plant, 2.0)
    braking = 200.0 / 600.0 * (2.0 - 1.0 / 0.9) - 0.05
    assert plant.motor_speed(0) / FIELD - 1.0 == pytest.approx(braking * 0.25 / 2.8, rel=0.03)


def test_it_gives_no_more_work_than_its_field_takes_in() -> None:
    """Shaft power over a start is at most torque × synchronous speed (air-gap power, textbook): speeding the rotor up
    from rest costs the winding as much as the rotor gets, so that it never gets more than half."""
    plant = plant_of()
    plant.shear(0)
    plant.command(0, 1.0, 50.0)
    taken = 0.0
    inertia, before = 4e-4, 0.0
    while before < 0.9 * FIELD:
        run(plant, 0.001)
        torque = inertia * (plant.motor_speed(0) - before) / 0.001 + 0.05
        before = plant.motor_speed(0)
        taken += torque * FIELD * 0.001
    got = 0.5 * inertia * before**2
    assert 0.2 * taken < got < 0.5 * taken
