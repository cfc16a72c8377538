"""How a leaf hangs: what it weighs about its hinge, what rubs there, where it falls by itself."""

from __future__ import annotations

import math
from typing import Any, Final

import pytest

from sim.mechanics import hanging
from sim.mechanics.plant import Plant, Reason
from sim.site.leaves import Bearings, Fitting
from sim.site.models import Leaf, Leaves, Site, Weather
from sim.units import Us

LOCK: Final = Fitting(name="lock", mass_kg=10.0, along_m=1.9)


def swinging(angle: float, weather: Weather | None = None, speed: float = 0.0, **leaf: Any) -> Plant:
    """The active leaf let go by its drive at an angle, without friction; the inactive one out of the way."""
    model = Leaf(**{"hinge_friction_n_m": 0.0, "hinge_viscous_n_m_s": 0.0, "thickness_m": 0.01} | leaf)
    site = Site(
        name="Quince Lane, invented",
        leaves=Leaves(active=model, inactive=Leaf(width_m=model.width_m)),
        opening_width_m=2 * model.width_m + 0.02,
        weather=weather or Weather(temperature_c=20.0),
    )
    plant = Plant(site)
    plant.release(0)
    plant.place_leaf(1, 1.45)
    plant.place_leaf(0, angle, speed)
    return plant


def run(plant: Plant, seconds: float) -> None:
    """Run on, whatever happens on the way."""
    end = Us(plant.now + round(seconds * 1e6))
    while plant.run_to(end).reason is not Reason.REACHED:
        pass


@pytest.mark.parametrize(
    ("leaf", "inertia"),
    [
        ({}, 160.00),
        ({"width_m": 2.1, "hinge_offset_m": 0.1}, 185.20),
        ({"fittings": (LOCK,)}, 196.10),
        ({"width_m": 1.9, "hinge_offset_m": -0.1}, 120.0 * (4.0 / 12.0 + 0.9**2)),
    ],
    ids=["plain", "offset hinge", "lock", "hinge behind the edge"],
)
def test_a_push_speeds_a_leaf_up_by_its_inertia(leaf: dict[str, Any], inertia: float) -> None:
    """Facts C01 to C03 (textbook): 160, 185.2 and 196.1 kg·m²; a hand of 30 N at the tip makes F·w·t/J in a second,
    within the sheet's 0.5 %."""
    plant = swinging(0.5, **leaf)
    plant.push(0, 30.0)
    run(plant, 1.0)
    assert plant.speed(0) == pytest.approx(30.0 * plant.site.leaves.active.width_m / inertia, rel=0.005)


@pytest.mark.parametrize(("share", "moves"), [(0.99, False), (1.01, True)])
@pytest.mark.parametrize(("friction", "torque"), [(0.15, 2.65 + 2.52), (0.5, (2.65 + 2.52) / 0.15 * 0.5)])
def test_bearings_rub_as_calculated(friction: float, torque: float, share: float, moves: bool) -> None:
    """Facts 6.3 (textbook): thrust bearing and journals of 120 kg, μ 0.15, rub with 2.65 + 2.52 N·m; a hand frees the
    leaf with that much and not with less."""
    plant = swinging(0.5, bearings=Bearings(friction=friction), hinge_friction_n_m=300.0)
    plant.push(0, share * torque / 2.0)
    run(plant, 2.0)
    assert (plant.angle(0) != 0.5) is moves


def test_bearings_count_what_hangs_on_the_leaf() -> None:
    """A lock at the tip adds weight on the thrust bearing and a longer arm on the journals (by hand)."""
    plain, locked = Leaf(bearings=Bearings()), Leaf(bearings=Bearings(), fittings=(LOCK,))
    weight, moment = 10.0 * 9.81, 10.0 * 9.81 * 1.9
    more = 0.15 * weight * 0.015 + 2 * 0.15 * moment / 1.4 * 0.010
    assert hanging.hinge_friction(locked) - hanging.hinge_friction(plain) == pytest.approx(more, rel=1e-9)


@pytest.mark.parametrize("low_point", [25.0, 45.0, 70.0])
@pytest.mark.parametrize("start", [10.0, 85.0])
def test_a_leaf_let_go_comes_to_rest_at_its_low_point(low_point: float, start: float) -> None:
    """On a hinge that leans towards an angle the leaf swings there from either side, with the period of a pendulum
    on an incline, 2·π·√(J/T) for small swings, and rests within what dry friction can hold."""
    plant = swinging(
        math.radians(start),
        hinge_tilt_deg=2.0,
        hinge_tilt_towards_deg=low_point,
        hinge_viscous_n_m_s=60.0,
        hinge_friction_n_m=0.3,
    )
    run(plant, 60.0)
    torque = 120.0 * 9.81 * 1.0 * math.sin(math.radians(2.0))
    assert plant.speed(0) == 0.0
    assert plant.angle(0) == pytest.approx(math.radians(low_point), abs=0.3 / torque + 1e-4)


@pytest.mark.parametrize(("tilt", "towards", "angle", "torque"), [(2.0, 0.0, 90.0, -41.1), (2.0, 90.0, 0.0, 41.1)])
def test_a_lean_pulls_towards_its_low_point(tilt: float, towards: float, angle: float, torque: float) -> None:
    """Facts 6.3: 2° make 41.1 N·m at a right angle to the low point: shut when it leans to the shut leaf, open when
    it leans to the open one; speed after 0.1 s by T·t/J."""
    plant = swinging(math.radians(angle), hinge_tilt_deg=tilt, hinge_tilt_towards_deg=towards)
    run(plant, 0.1)
    assert plant.speed(0) == pytest.approx(torque * 0.1 / 160.0, rel=0.01)


@pytest.mark.parametrize("seconds", [0.5, 1.5, 2.5])
def test_rising_hinges_let_a_leaf_fall_shut_evenly(seconds: float) -> None:
    """Facts C28: 80 mm over 90° push 120 kg shut with 59.95 N·m wherever it stands: θ = θ₀ − T·t²/2J, within 1 %."""
    plant = swinging(1.5, hinge_rise_m=0.08)
    run(plant, seconds)
    assert 1.5 - plant.angle(0) == pytest.approx(59.954 * seconds**2 / 2.0 / 160.0, rel=0.01)


def test_hinges_that_lower_let_it_fall_open() -> None:
    """The other way round with the other sign."""
    plant = swinging(0.4, hinge_rise_m=-0.04)
    run(plant, 1.0)
    assert plant.angle(0) - 0.4 == pytest.approx(29.977 / 2.0 / 160.0, rel=0.01)


@pytest.mark.parametrize(("air_c", "factor"), [(-10.0, math.exp(1.2)), (20.0, 1.0), (35.0, math.exp(-0.6))])
def test_grease_is_stiff_in_the_cold(air_c: float, factor: float) -> None:
    """A released leaf slows as exp(−b·t/J) with b = 2 N·m·s/rad at 20 °C and 4 % more for each kelvin colder; a
    change of weather changes it at once."""
    plant = swinging(0.2, speed=0.4, hinge_viscous_n_m_s=2.0)
    plant.set_temperature(air_c)
    run(plant, 2.0)
    assert plant.speed(0) == pytest.approx(0.4 * math.exp(-2.0 * factor * 2.0 / 160.0), rel=1e-3)
