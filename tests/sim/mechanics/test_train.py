"""Trains between motor and leaf: play, limiter, key, and whether a load can turn them back."""

from __future__ import annotations

import math
from typing import Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.kernel.network import DriveNetwork
from sim.mechanics.linkage import Linkage
from sim.mechanics.obstacle import force_gauge
from sim.mechanics.plant import Plant, Reason
from sim.site.drives import AnyDrive, ArticulatedArm, Drive, Drives, Underground
from sim.site.models import Leaf, Leaves, Motor, Site, Weather
from sim.units import Us

NET: Final = DriveNetwork((27.3, 27.3), ((0.12, 0.12), (0.12, 0.12)), rth=(0.665, 0.665))

STANDS: Final = 0.7
"""Leaf angle at which things are tried [rad]."""


def plant_of(drive: AnyDrive, weather: Weather | None = None, seed: int = 0, **leaf: Any) -> Plant:
    """Both leaves half open on this drive, motors at rest, friction that only slows."""
    model = Leaf(**{"hinge_friction_n_m": 0.0, "hinge_viscous_n_m_s": 50.0} | leaf)
    site = Site(
        name="Quince Lane, invented",
        leaves=Leaves(active=model, inactive=model),
        drives=Drives(active=drive, inactive=drive),
        weather=weather or Weather(temperature_c=20.0),
    )
    plant = Plant(site, seed)
    plant.set_network(NET)
    for index in (0, 1):
        plant.place_leaf(index, STANDS)
    return plant


def run(plant: Plant, seconds: float) -> None:
    """Run on, whatever happens on the way."""
    end = Us(plant.now + round(seconds * 1e6))
    while plant.run_to(end).reason is not Reason.REACHED:
        pass


WORN: Final = {
    "ram": (Drive(play_m=0.02), 0.02),
    "arm": (ArticulatedArm(play_deg=4.0), math.radians(4.0)),
    "pin": (Underground(play_deg=3.0), math.radians(3.0)),
}
"""Drives with play, and how much it is at the output."""


# -- play ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", list(WORN))
def test_a_worn_train_lets_its_leaf_move_by_its_play(kind: str) -> None:
    """Pushed by hand to and fro, motor off, a leaf moves by play/lever: from end to end the output changes by the
    play and what the spring gives at both ends, and the motor does not turn."""
    drive, play = WORN[kind]
    plant = plant_of(drive)
    linkage, ends, forces = Linkage(plant.site, 0), [], []
    for hand in (20.0, -20.0):
        plant.push(0, hand)
        run(plant, 20.0)
        ends.append(linkage.travel(plant.angle(0)))
        forces.append(plant.ram_force(0))
    stiffness = drive.stiffness_n_m if isinstance(drive, Drive) else drive.stiffness_n_m_rad
    gives = (forces[1] - forces[0]) / stiffness
    assert ends[0] - ends[1] == pytest.approx(play + gives, rel=1e-6)
    middle = linkage.travel(STANDS)
    assert ends[0] - middle == pytest.approx(middle - ends[1], rel=0.02), "as far on one side as on the other"
    assert (plant.motor_speed(0), plant.counts(0)) == (0.0, 0)


@pytest.mark.parametrize("kind", list(WORN))
def test_inside_its_play_a_train_makes_no_force(kind: str) -> None:
    """While a leaf swings between the ends of its play, the train gives out nothing at all."""
    drive, play = WORN[kind]
    plant = plant_of(drive, hinge_viscous_n_m_s=0.0)
    linkage = Linkage(plant.site, 0)
    middle, way = linkage.travel(STANDS), 0.0
    plant.place_leaf(0, STANDS, 0.02)
    while abs(way) < 0.49 * play:
        run(plant, 0.001)
        way = linkage.travel(plant.angle(0)) - middle
        assert plant.ram_force(0) == 0.0
        assert plant.speed(0) == pytest.approx(0.02, rel=1e-12)
        assert plant.now < 10_000_000
    run(plant, 0.5)
    assert plant.speed(0) < 0.015, "at its end it meets the train"


@pytest.mark.parametrize(("duty", "way"), [(0.5, 1.0), (-0.5, -1.0)])
def test_a_motor_first_takes_up_the_play(duty: float, way: float) -> None:
    """Started from the middle of its play, a motor turns through half of it before the leaf moves."""
    plant = plant_of(Drive(play_m=0.01), hinge_friction_n_m=5.0)
    plant.command(0, duty, 50.0)
    while abs(plant.angle(0) - STANDS) < 1e-5:
        run(plant, 0.001)
        assert plant.now < 5_000_000
    turned = abs(plant.counts(0)) / 4 / 20 * 0.005
    assert turned == pytest.approx(0.005, rel=0.1)
    assert way * (plant.angle(0) - STANDS) > 0.0


# -- the limiter ----------------------------------------------------------------------------------------------


SLIPPING: Final = {
    "ram": (Drive(slip_n=400.0), 400.0),
    "arm": (ArticulatedArm(slip_n_m=60.0), 60.0),
    "pin": (Underground(slip_n_m=80.0), 80.0),
}
"""Drives with a limiter, and at what it gives way."""


@pytest.mark.parametrize("kind", list(SLIPPING))
def test_a_limiter_holds_its_force_and_the_motor_turns_on(kind: str) -> None:
    """Against its stop a leaf is pressed with the limit to the last digit, stands, and the motor goes on turning."""
    drive, limit = SLIPPING[kind]
    plant = plant_of(drive)
    plant.place_leaf(0, math.radians(90.0))
    plant.command(0, 0.6)
    run(plant, 6.0)
    assert plant.touching(0) == "open stop"
    stands, turned = plant.angle(0), plant.counts(0)
    run(plant, 2.0)
    assert plant.ram_force(0) == pytest.approx(limit, rel=1e-12)
    assert plant.motor_speed(0) > 50.0
    assert plant.counts(0) > turned + 50
    assert plant.angle(0) == pytest.approx(stands, abs=1e-6)


@pytest.mark.parametrize("kind", list(SLIPPING))
def test_what_slipped_stays_slipped(kind: str) -> None:
    """Driven back after slipping, the leaf leaves its stop as soon as the spring is unwound: not after all the turns
    the motor had made for nothing."""
    drive, _ = SLIPPING[kind]
    plant = plant_of(drive)
    plant.place_leaf(0, math.radians(90.0))
    plant.command(0, 0.6)
    run(plant, 3.0)
    before = plant.counts(0)
    run(plant, 6.0)
    slipped = plant.counts(0) - before
    plant.command(0, -0.6, 50.0)
    back = plant.counts(0)
    while plant.touching(0):
        back = plant.counts(0)
        run(plant, 0.01)
        assert plant.now < 12_000_000
    assert slipped > 200
    assert before + slipped - back < 0.5 * slipped


def test_a_hand_stronger_than_the_limiter_moves_the_leaf() -> None:
    """A push beyond limit × lever lets a leaf slip with its motor off; one below holds."""
    for share, slips in ((0.9, False), (1.1, True)):
        plant = plant_of(Drive(slip_n=400.0))
        lever = Linkage(plant.site, 0).lever(STANDS)
        plant.push(0, share * 400.0 * lever / 2.0)
        run(plant, 3.0)
        assert (plant.angle(0) > STANDS + 0.05) is slips
        assert plant.motor_speed(0) == 0.0


def test_a_limiter_limits_what_a_gauge_reads_at_rest() -> None:
    """The static force at the closing edge is limit × lever / radius, whatever the motor could do (virtual work)."""
    plant = plant_of(Drive(slip_n=150.0), hinge_viscous_n_m_s=200.0)
    plant.set_edge(0, None)
    plant.place_obstacle(0, 0, force_gauge(0.6, 2.0))
    plant.command(0, -1.0)
    run(plant, 25.0)
    lever = Linkage(plant.site, 0).lever(plant.angle(0))
    assert plant.contact_force(0) == pytest.approx(150.0 * lever / 2.0, rel=1e-3)
    assert plant.motor_speed(0) < -50.0


# -- the key --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("drive", [Drive(), ArticulatedArm(), Underground()], ids=["ram", "arm", "pin"])
def test_a_sheared_key_lets_the_motor_turn_for_nothing(drive: AnyDrive) -> None:
    """The motor draws its no-load current, 0.7 A (facts 8), counts on, and the leaf is free for a hand; mended, the
    drive holds the leaf where it stands."""
    plant = plant_of(drive)
    plant.shear(0)
    plant.command(0, 1.0)
    run(plant, 4.0)
    assert plant.motor_current(0) == pytest.approx(0.7, abs=0.01)
    assert plant.angle(0) == STANDS
    assert plant.counts(0) > 500
    plant.push(0, 10.0)
    run(plant, 2.0)
    assert plant.angle(0) > STANDS + 0.1
    plant.push(0, 0.0)
    plant.command(0, 0.0, brake=True)
    run(plant, 30.0)
    found = plant.angle(0)
    plant.mend(0)
    plant.push(0, 60.0)
    run(plant, 3.0)
    assert plant.angle(0) == pytest.approx(found, abs=0.02)
    assert plant.ram_force(0) < -10.0


def test_a_site_may_begin_with_a_sheared_key() -> None:
    """What the site says holds from the first step."""
    plant = plant_of(Drive(key="sheared"))
    plant.command(0, 1.0)
    run(plant, 2.0)
    assert plant.angle(0) == STANDS
    assert plant.motor_speed(0) > 300.0


# -- turned back or not -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("efficiency", [0.2, 0.35, 0.49])
@pytest.mark.parametrize("push", [30.0, 150.0, 1_000.0])
def test_no_load_turns_a_train_back_that_loses_half(efficiency: float, push: float) -> None:
    """Below one half (screw law, facts 5.3) no push turns the motor, however small its own friction is."""
    motor = Motor(no_load_a=0.0)
    plant = plant_of(Underground(gear_efficiency=efficiency, gear_ratio=400.0, drag_n_m=0.0, motor=motor))
    plant.push(0, push)
    run(plant, 3.0)
    assert (plant.motor_speed(0), plant.counts(0)) == (0.0, 0)
    assert plant.angle(0) - STANDS < 2.0 * push / 40_000.0 * 1.01


@pytest.mark.parametrize(("efficiency", "turns"), [(0.6, False), (0.6, True), (0.9, False), (0.9, True)])
def test_a_load_turns_a_better_train_back(efficiency: float, turns: bool) -> None:
    """Above one half a load M turns the motor back as soon as M·(2 − 1/η)/ratio is above the dry friction of motor
    and gear, and not before: the load's torque less the friction that this load makes (by hand)."""
    drive = Underground(gear_efficiency=efficiency, gear_ratio=400.0)
    needed = (0.05 * 0.7 + 0.065) * 400.0 / (2.0 - 1.0 / efficiency)
    plant = plant_of(drive)
    plant.push(0, needed / 2.0 * (1.05 if turns else 0.95))
    run(plant, 6.0)
    assert (plant.counts(0) > 5) is turns


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    st.sampled_from(["ram", "arm", "pin"]),
    st.floats(0.0, 40.0),
    st.floats(0.0, 360.0),
    st.floats(0.0, 0.6),
    st.floats(0.2, 1.5),
    st.integers(0, 1000),
)
def test_any_wind_leaves_a_self_locked_leaf_in_its_play(
    kind: str, speed: float, bearing: float, gusts: float, angle: float, seed: int
) -> None:
    """With the motor off, gusts and all, a self-locked leaf stays within half its play and what spring and damper
    give to the strongest wind: the motor never turns, and the leaf comes back."""
    drive, play = WORN[kind]
    weather = Weather(temperature_c=20.0, wind_m_s=speed, wind_from_deg=bearing, gust_intensity=gusts)
    plant = plant_of(drive, weather, seed, hinge_viscous_n_m_s=2.0, hinge_friction_n_m=5.0)
    plant.place_leaf(0, angle)
    plant.place_leaf(1, angle)
    linkage = Linkage(plant.site, 0)
    middle, worst = linkage.travel(angle), 0.0
    stiffness = drive.stiffness_n_m if isinstance(drive, Drive) else drive.stiffness_n_m_rad
    for _ in range(80):
        run(plant, 0.1)
        away = abs(linkage.travel(plant.angle(0)) - middle)
        worst = max(worst, abs(plant.ram_force(0)))
        assert away <= 0.5 * play + 1.5 * worst / stiffness + 1e-9
        assert plant.motor_speed(0) == 0.0
    assert plant.counts(0) == 0
    assert worst < 40_000.0
