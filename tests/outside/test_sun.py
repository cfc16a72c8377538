"""Where the sun stands, against published values."""

from __future__ import annotations

import math

import pytest

from sim.mechanics.sun import air_mass, direct_w_m2, julian_day, place_of_sun


def at(year: int, day: int, universal_h: float, north_deg: float, east_deg: float) -> tuple[float, float]:
    sun = place_of_sun(julian_day(year, day, universal_h), math.radians(north_deg), math.radians(east_deg))
    return math.degrees(sun.elevation), math.degrees(sun.azimuth)


def test_the_worked_example_of_the_solar_position_algorithm() -> None:
    """17 October 2003, 12:30:30 at UTC−7, 39.742476° N 105.1786° W: zenith 50.11162°, azimuth 194.34024°, Julian day
    2452930.312847 (Reda and Andreas, NREL/TP-560-34302, 2003, table A5.1, from memory).

    Its zenith has refraction (0.018° here) and parallax (0.002°) in it, ours neither; the formula is good to 0.01°.
    """
    hour = 19.0 + 30.0 / 60.0 + 30.0 / 3600.0
    assert julian_day(2003, 290, hour) == pytest.approx(2452930.312847, abs=1e-6)
    elevation, azimuth = at(2003, 290, hour, 39.742476, -105.1786)
    assert elevation == pytest.approx(90.0 - 50.11162 - 0.018 + 0.002, abs=0.01)
    assert azimuth == pytest.approx(194.34024, abs=0.01)


def test_meeus_example_25_a() -> None:
    """13 October 1992, 0 h dynamical time: declination −7.78507° (Meeus, Astronomical Algorithms, example 25.a, from
    memory). Over the pole the sun's elevation is its declination. Dynamical time is ahead by 59 s: 0.0003°."""
    assert at(1992, 287, 0.0, 90.0, 0.0)[0] == pytest.approx(-7.78507, abs=0.01)


def test_days_since_noon_of_2000() -> None:
    """1 January 2000, 12 h is Julian day 2451545.0, by definition; a leap day counts."""
    assert julian_day(2000, 1, 12.0) == 2451545.0
    assert julian_day(2000, 366, 12.0) + 1 == julian_day(2001, 1, 12.0)
    assert julian_day(1999, 365, 12.0) + 1 == julian_day(2000, 1, 12.0)
    assert julian_day(2026, 100, 25.0) == pytest.approx(julian_day(2026, 101, 1.0))


@pytest.mark.parametrize("north", [-51.0, 0.0, 23.0, 51.0])
def test_noon_is_where_it_should_be(north: float) -> None:
    """At noon the sun stands highest, due south or north, at 90° − latitude give or take the tilt."""
    for day in range(1, 366, 30):
        hours = [hour / 50.0 for hour in range(24 * 50)]
        highest = max(hours, key=lambda hour: at(2026, day, hour, north, 0.0)[0])
        elevation, azimuth = at(2026, day, highest, north, 0.0)
        assert 90.0 - abs(north) - 23.5 <= elevation <= 90.0
        assert abs(math.sin(math.radians(azimuth))) < 0.03 or elevation > 88.0
        assert highest == pytest.approx(12.0, abs=0.3)  # the equation of time is never more than 16.5 minutes


def test_air_mass_and_strength() -> None:
    """Kasten and Young's table, from memory: about 1 at 90°, 1.994 at 30°, 5.59 at 10°, 38 at 0°. Meinel's beam:
    1353·0.7 W/m² under a sun in the zenith; none below the horizon."""
    for degrees, mass in ((90.0, 1.0), (30.0, 1.994), (10.0, 5.59), (0.0, 37.92)):
        assert air_mass(math.radians(degrees)) == pytest.approx(mass, rel=2e-3)
    assert direct_w_m2(math.pi / 2.0) == pytest.approx(1353.0 * 0.7, rel=1e-3)
    assert direct_w_m2(-0.001) == 0.0
