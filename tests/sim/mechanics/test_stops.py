"""The ends of a leaf's way: stops that throw back as much as asked, stops that are missing, and how deep one goes."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.kernel.network import DriveNetwork
from sim.mechanics import hanging
from sim.mechanics.plant import Plant, Reason
from sim.site.drives import AnyDrive, Underground
from sim.site.models import Drive, Drives, Leaf, Leaves, Site, Weather
from sim.units import Us


def plant_of(drive: AnyDrive | None = None, **leaf: Any) -> Plant:
    """Two like leaves without friction, the inactive one half open."""
    model = Leaf(**{"hinge_friction_n_m": 0.0, "hinge_viscous_n_m_s": 0.0} | leaf)
    given_drive = drive or Underground()
    site = Site(
        name="Quince Lane, invented",
        leaves=Leaves(active=model, inactive=model),
        drives=Drives(active=given_drive, inactive=given_drive),
        opening_width_m=2 * model.width_m + 0.02,
        weather=Weather(temperature_c=20.0),
    )
    plant = Plant(site)
    plant.set_network(DriveNetwork((27.3, 27.3), ((0.12, 0.12), (0.12, 0.12)), rth=(0.665, 0.665)))
    plant.place_leaf(1, 0.7)
    return plant


def run(plant: Plant, seconds: float) -> None:
    """Run on, whatever happens on the way."""
    end = Us(plant.now + round(seconds * 1e6))
    while plant.run_to(end).reason is not Reason.REACHED:
        pass


@settings(max_examples=80, deadline=None, derandomize=True)
@given(
    st.floats(0.1, 0.9),
    st.floats(5_000.0, 200_000.0),
    st.floats(40.0, 600.0),
    st.floats(0.1, 1.0),
    st.booleans(),
)
def test_a_stop_throws_back_as_much_as_asked(
    asked: float, stiffness: float, mass: float, speed: float, opening: bool
) -> None:
    """Speed after the stop for speed before it, of a released leaf, is the coefficient asked for, within 2 %."""
    plant = plant_of(stop_restitution=asked, stop_stiffness_n_m_rad=stiffness, mass_kg=mass)
    plant.release(0)
    stop = math.radians(92.0) if opening else 0.0
    plant.place_leaf(1, 1.2)
    plant.place_leaf(0, stop + (-0.05 if opening else 0.05), speed if opening else -speed)
    while plant.touching(0) == "":
        run(plant, 0.001)
        assert plant.now < 3_000_000
    while plant.touching(0) != "":
        run(plant, 0.001)
        assert plant.now < 6_000_000
    assert abs(plant.speed(0)) / speed == pytest.approx(asked, rel=0.02)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.floats(5_000.0, 2e6), st.floats(10.0, 1500.0), st.floats(0.5, 3.0), st.floats(0.05, 2.0))
def test_a_leaf_goes_into_a_stop_no_deeper_than_its_energy(
    stiffness: float, mass: float, width: float, speed: float
) -> None:
    """½·k·x² ≤ ½·J·ω²: a free leaf passes its stop by ω·√(J/k) at most, whatever mass and stiffness, and all of it
    comes back. Within 0.1 %, and a tenth of the square of what leaf and stop swing in a part of a step [rad] (an
    explicit method's second order): 1.5 % for the lightest leaf on the stiffest stop there can be."""
    plant = plant_of(stop_stiffness_n_m_rad=stiffness, mass_kg=mass, width_m=width, stop_damping_n_m_s_rad=0.0)
    plant.release(0)
    plant.place_leaf(1, 1.3)
    plant.place_leaf(0, 0.1, -speed)
    deepest, inertia = 0.0, hanging.inertia(plant.site.leaves.active)
    coarse = 0.1 * stiffness / inertia * (0.001 / 4) ** 2
    while plant.now < 1e6 * (0.12 / speed + 1.05 * math.pi * math.sqrt(inertia / stiffness)):
        run(plant, 0.001)
        deepest = min(deepest, plant.angle(0))
    allowed = speed * math.sqrt(inertia / stiffness)
    assert 0.2 * allowed < -deepest <= allowed * (1.001 + coarse)
    assert plant.speed(0) == pytest.approx(speed, rel=1e-3 + coarse), "and it all comes back"


def test_without_an_open_stop_the_leaf_goes_past_it() -> None:
    """Facts 8: with its open stop missing a driven leaf opens past 100° and ends elsewhere, at its own post."""
    sound, missing = plant_of(Underground()), plant_of(Underground(), open_stop_fitted=False)
    for plant in (sound, missing):
        plant.command(0, 1.0)
        run(plant, 30.0)
    assert math.degrees(sound.angle(0)) == pytest.approx(92.0, abs=1.5)
    assert math.degrees(missing.angle(0)) > 100.0
    assert missing.touching(0) == "open stop", "its post is where it ends then"


def test_without_a_closed_stop_the_leaf_swings_through() -> None:
    """Driven shut past 0° to where the gate gives no more, and back again."""
    plant = plant_of(Underground(), closed_stop_fitted=False)
    plant.place_leaf(1, 1.3)
    plant.place_leaf(0, 0.3)
    plant.command(0, -1.0)
    run(plant, 15.0)
    assert math.degrees(plant.angle(0)) < -20.0
    plant.command(0, 1.0)
    run(plant, 10.0)
    assert plant.angle(0) > 0.2


@pytest.mark.parametrize("drive", [Drive(), Underground()], ids=["ram", "pin"])
def test_a_stop_that_is_fitted_ends_the_travel(drive: AnyDrive) -> None:
    """What the drive presses with, and no more, goes into the stop: depth = torque/stiffness (Hooke)."""
    plant = plant_of(drive, hinge_viscous_n_m_s=50.0)
    plant.place_leaf(1, 1.2)
    plant.place_leaf(0, 1.5)
    plant.command(0, 0.7, limit_a=5.0)
    run(plant, 10.0)
    depth = plant.angle(0) - math.radians(92.0)
    lever = 1.0
    if isinstance(drive, Drive):
        (rear, front), step = plant.ram_ends(0), 1e-6
        turned = [math.hypot(*front) * math.cos(a) for a in (0.0, step)]
        assert turned[0] > turned[1]
        at = math.atan2(front[1], front[0])
        length = [
            math.dist(rear, (math.hypot(*front) * math.cos(at + a), math.hypot(*front) * math.sin(at + a)))
            for a in (-step, step)
        ]
        lever = (length[0] - length[1]) / (2 * step)
    assert depth * 40_000.0 == pytest.approx(plant.ram_force(0) * lever, rel=1e-3)
