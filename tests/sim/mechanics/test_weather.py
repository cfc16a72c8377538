"""Wind and air as the plant has them: gusts by their seed, classes as speeds, and what follows the temperature."""

from __future__ import annotations

import math
from typing import Any, Final

import numpy as np
import pytest

from sim.mechanics import gust
from sim.mechanics.obstacle import force_gauge
from sim.mechanics.plant import Plant, Reason
from sim.site.models import Leaf, Leaves, Site, Weather
from sim.units import Us

ACROSS: Final = math.degrees(0.5)
"""Leaf angle on the gauge [°]: wind from 360° less that is square to it."""

TORQUE: Final = 0.5 * 1.25 * 1.2 * 2.0 * 1.8 * 0.4 * 1.0
"""Hinge torque per square of the wind [N·m·s²/m²]: ½·ρ·cf·A·solidity·w/2 (facts 4, common practice)."""


def plant_of(seed: int = 0, **weather: Any) -> Plant:
    """The active leaf let go by its drive, slowed by its hinges; the inactive one out of the way."""
    leaf = Leaf(hinge_friction_n_m=0.0, hinge_viscous_n_m_s=200.0, grease_per_k=0.0)
    site = Site(
        name="Quince Lane, invented",
        leaves=Leaves(active=leaf, inactive=Leaf()),
        weather=Weather(**{"temperature_c": 20.0, "wind_from_deg": 360.0 - ACROSS} | weather),
    )
    plant = Plant(site, seed)
    plant.set_edge(0, None)
    plant.release(0)
    plant.place_leaf(1, 1.4)
    plant.place_leaf(0, 0.5)
    return plant


def run(plant: Plant, seconds: float) -> None:
    """Run on, whatever happens on the way."""
    end = Us(plant.now + round(seconds * 1e6))
    while plant.run_to(end).reason is not Reason.REACHED:
        pass


def test_the_wind_is_that_of_the_seeds_knots() -> None:
    """At every quarter second the wind is mean·(1 + Iv·knot), to the bit, past the first 256 s as well."""
    plant = plant_of(7, wind_m_s=8.0, gust_intensity=0.25, gust_time_s=1.5)
    knots = gust.knots(7, 1.5, 0, 1200)
    for number in (0, 1, 2, 500, 1021, 1022, 1023, 1024, 1025, 1100):
        run(plant, (number * 250_000 + 1_000 - plant.now) / 1e6)
        assert plant.wind_m_s() == pytest.approx(8.0 * (1.0 + 0.25 * knots[number]), rel=1e-12)


@pytest.mark.parametrize("intensity", [0.15, 0.35])
def test_a_leaf_feels_the_gusts_that_were_asked_for(intensity: float) -> None:
    """A leaf blown onto a gauge presses with the wind's torque. Its mean is that of v²: (1 + Iv²·s) times the steady
    one, s = (2 + e^(−Δ/T))/3 for values drawn straight between knots; the wind's own deviation is Iv·√s. Within four
    standard errors of 400 s with a correlation time of 0.5 s (Gaussian theory)."""
    plant = plant_of(3, wind_m_s=9.0, gust_intensity=intensity, gust_time_s=0.5)
    plant.place_obstacle(0, 0, force_gauge(0.5, 2.0))
    run(plant, 5.0)
    felt, winds = [], []
    for _ in range(4_000):
        run(plant, 0.1)
        felt.append(plant.contact_force(0) * 2.0)
        winds.append(plant.wind_m_s())
    share = (2.0 + math.exp(-0.25 / 0.5)) / 3.0
    error = math.sqrt(2.0 * 0.5 / 400.0)
    spread = intensity * math.sqrt(share)
    assert np.mean(winds) / 9.0 == pytest.approx(1.0, abs=4.0 * spread * error)
    assert np.std(winds) / 9.0 == pytest.approx(spread, rel=4.0 * error)
    expected = TORQUE * 81.0 * (1.0 + spread**2)
    assert np.mean(felt) == pytest.approx(expected, rel=4.0 * 2.0 * spread * error)
    assert np.max(felt) > 1.5 * np.mean(felt), "gusts, and no steady wind"


def test_the_same_seed_blows_the_same() -> None:
    """Same seed, same bits; another seed, another leaf movement; without gusts the seed decides nothing."""

    def moved(seed: int, intensity: float) -> bytes:
        plant = plant_of(seed, wind_m_s=9.0, gust_intensity=intensity)
        run(plant, 20.0)
        return plant.physical()

    assert moved(1, 0.3) == moved(1, 0.3)
    assert moved(1, 0.3) != moved(2, 0.3)
    assert moved(1, 0.0) == moved(2, 0.0)


def test_no_wind_no_gusts() -> None:
    """Gusts are a share of the mean wind: in a calm they are nothing, whatever their share, and a gate at rest rests
    (else a calm day of two hours would be stepped through)."""

    def stood(seed: int, intensity: float) -> bytes:
        plant = plant_of(seed, gust_intensity=intensity)
        run(plant, 20.0)
        plant.set_wind(Weather(gust_intensity=intensity, wind_class="class 0"))
        run(plant, 20.0)
        return plant.physical()

    assert stood(1, 0.3) == stood(2, 0.3) == stood(1, 0.0)


@pytest.mark.parametrize(("number", "pressure"), [(0, 0.0), (1, 300.0), (2, 450.0), (3, 700.0), (4, 1000.0)])
def test_a_wind_class_presses_as_it_says(number: int, pressure: float) -> None:
    """The class's pressure (from memory of EN 12424) is the velocity pressure of the wind: the leaf is pressed on the
    gauge with p·cf·A·solidity·w/2, whatever speed is written beside the class."""
    plant = plant_of(wind_m_s=3.0, wind_class=f"class {number}")
    plant.place_obstacle(0, 0, force_gauge(0.5, 2.0))
    run(plant, 60.0)
    expected = pressure * 1.2 * 2.0 * 1.8 * 0.4
    assert plant.contact_force(0) * 2.0 == pytest.approx(expected, rel=0.01, abs=1e-3)
    assert plant.wind_m_s() == pytest.approx(math.sqrt(2.0 * pressure / 1.25), rel=1e-9, abs=1e-12)


def test_a_change_of_weather_counts_from_now_on() -> None:
    """Gusts begin and end when the weather says so; then the gate rests again and long times are skipped."""
    plant = plant_of(5)
    run(plant, 10.0)
    assert (plant.wind_m_s(), plant.angle(0)) == (0.0, 0.5)
    plant.set_wind(Weather(wind_m_s=10.0, gust_intensity=0.3, wind_from_deg=360.0 - ACROSS))
    run(plant, 1.0)
    assert plant.wind_m_s() != 10.0
    assert plant.angle(0) < 0.49
    plant.set_wind(Weather())
    run(plant, 100.0)
    assert plant.wind_m_s() == 0.0
    before = plant.angle(0)
    run(plant, 1e6)
    assert plant.angle(0) == before


def test_leaves_that_open_outwards_are_blown_the_other_way() -> None:
    """Wind from inside shuts leaves that open inwards and opens those that open outwards (plane geometry)."""
    angles = []
    for ways in ("inside", "outside"):
        site = Site(
            name="Quince Lane, invented",
            opens_towards=ways,
            guards={"outer_beam": "not fitted"},
            drives={"active": {"kind": "underground"}, "inactive": {"kind": "underground"}},
            weather=Weather(wind_m_s=8.0, wind_from_deg=0.0),
        )
        plant = Plant(site)
        for leaf in (0, 1):
            plant.release(leaf)
            plant.place_leaf(leaf, 0.5)
        run(plant, 1.0)
        assert plant.angle(0) == pytest.approx(plant.angle(1), rel=1e-9)
        angles.append(plant.angle(0) - 0.5)
    assert angles[0] < -0.02
    assert angles[1] > 0.02


@pytest.mark.parametrize("air_c", [-40.0, 50.0])
def test_air_changes_a_motor_slowly(air_c: float) -> None:
    """A new air temperature leaves the motor as warm as it is and lets it follow with its own times."""
    plant = plant_of()
    plant.set_temperature(air_c)
    run(plant, 0.5)
    assert (plant.winding_c(0), plant.case_c(0)) == (20.0, 20.0)
    run(plant, 600.0)
    after = plant.winding_c(0)
    assert 0.02 < (after - 20.0) / (air_c - 20.0) < 0.5
    run(plant, 100_000.0)
    assert plant.winding_c(0) == pytest.approx(air_c, abs=1e-3)
