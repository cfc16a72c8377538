"""Where the sun stands and how strong it shines: published formulas, no state.

The place is the low-precision formula of the Astronomical Almanac as Michalsky gives it (Solar Energy 40, 1988,
227-235): right to about 0.01° between 1950 and 2050. Strength: the air mass of Kasten and Young (Applied Optics 28,
1989, 4735-4738) and Meinel's direct beam (Applied Solar Energy, 1976). All from memory of these papers.
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple

OUTSIDE_W_M2: Final = 1353.0
"""Strength of the sun outside the air in Meinel's formula [W/m²]."""

FULL_SUN_W_M2: Final = 1000.0
"""What counts as full sun [W/m²]."""

_J2000: Final = 2451545.0


class Sun(NamedTuple):
    """A direction [rad]."""

    elevation: float
    """Above the horizon, without refraction."""
    azimuth: float
    """From north towards east."""


def julian_day(year: int, day: int, universal_h: float) -> float:
    """Julian day of an hour of universal time [h] on a day of the year; 0 and 366 overflow into the next years."""
    before = year - 1
    # days since 1 January of year 1 of the Gregorian calendar, whose Julian day is 1721425.5
    return 1721425.5 + 365 * before + before // 4 - before // 100 + before // 400 + (day - 1) + universal_h / 24.0


def place_of_sun(julian: float, latitude: float, longitude: float) -> Sun:
    """Where the sun stands [rad] over a place [rad, north and east positive]."""
    days = julian - _J2000
    mean_longitude = 280.460 + 0.9856474 * days
    anomaly = math.radians((357.528 + 0.9856003 * days) % 360.0)
    along = math.radians((mean_longitude + 1.915 * math.sin(anomaly) + 0.020 * math.sin(2.0 * anomaly)) % 360.0)
    tilt = math.radians(23.439 - 0.0000004 * days)
    ascension = math.atan2(math.cos(tilt) * math.sin(along), math.cos(along))
    declination = math.asin(math.sin(tilt) * math.sin(along))
    universal_h = (julian + 0.5) % 1.0 * 24.0
    sidereal_h = 6.697375 + 0.0657098242 * days + universal_h
    hour_angle = math.radians(15.0 * (sidereal_h % 24.0)) + longitude - ascension
    height = math.sin(declination) * math.sin(latitude) + math.cos(declination) * math.cos(latitude) * math.cos(
        hour_angle
    )
    # towards north, towards east
    north = math.sin(declination) * math.cos(latitude) - math.cos(declination) * math.sin(latitude) * math.cos(
        hour_angle
    )
    east = -math.cos(declination) * math.sin(hour_angle)
    return Sun(math.asin(max(-1.0, min(1.0, height))), math.atan2(east, north) % (2.0 * math.pi))


def air_mass(elevation: float) -> float:
    """How much air the light comes through, 1 from the zenith [-]: Kasten and Young. 0 ≤ elevation [rad]."""
    degrees = math.degrees(elevation)
    return 1.0 / (math.sin(elevation) + 0.50572 * math.pow(degrees + 6.07995, -1.6364))


def direct_w_m2(elevation: float) -> float:
    """Strength of the direct sun in clear air at sea level, square to it [W/m²]: Meinel; 0 below the horizon."""
    if elevation <= 0.0:
        return 0.0
    return OUTSIDE_W_M2 * math.pow(0.7, math.pow(air_mass(elevation), 0.678))
