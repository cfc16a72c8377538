"""Formulas of wind (facts 4): pressure, load on a leaf, the Beaufort scale, wind classes. SI units, no state.

A number from a standard stands here as data with a tag. `SEEN` was read in the public text named after it, `SEEN-V`
in a trade page's restatement; `MEM-hi` is from memory of the named standard; `CP` is common practice without a
source. No text of a standard itself was at hand: a purchased copy may change a number here and no line of code.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass
from typing import Final

AIR_DENSITY: Final = 1.25
"""[kg/m³], recommended by EN 1991-1-4 (SEEN eurocodeapplied.com). The default of every function here."""

ASCE_COEFFICIENT: Final = 0.613
"""[N/m² per (m/s)²], the other convention: ASCE 7 in metric units (SEEN calcady.com). It is half of 1.226 kg/m³ and
reads 2 % lower than the default; pass `ASCE_DENSITY` to use it, and say so beside the result."""

ASCE_DENSITY: Final = 2.0 * ASCE_COEFFICIENT
"""[kg/m³] behind that coefficient."""

FORCE_COEFFICIENT: Final = 1.2
"""[-], of a solid leaf that stands free near the ground; 1.1 to 1.4, more at ends and corners (CP)."""


def velocity_pressure(wind_m_s: float, density_kg_m3: float = AIR_DENSITY) -> float:
    """Pressure of moving air brought to rest [Pa]: ½·ρ·v², v 0 to 40 m/s (textbook; SEEN eurocodeapplied.com)."""
    return 0.5 * density_kg_m3 * wind_m_s * wind_m_s


def speed_of_pressure(pressure_pa: float, density_kg_m3: float = AIR_DENSITY) -> float:
    """The speed whose velocity pressure this is [m/s]: √(2·q/ρ). Raises ValueError for less than no pressure."""
    if pressure_pa < 0.0:
        raise ValueError(f"a velocity pressure can't be below 0, as {pressure_pa:g} Pa is")
    return math.sqrt(2.0 * pressure_pa / density_kg_m3)


def peak_pressure(mean_m_s: float, intensity: float, density_kg_m3: float = AIR_DENSITY) -> float:
    """Peak velocity pressure of gusty wind [Pa]: (1 + 7·Iv)·½·ρ·v² (EN 1991-1-4, SEEN eurocodeapplied.com).

    `intensity` Iv is the standard deviation of the speed over its mean: 0.2 to 0.35 near the ground (CP).
    """
    return (1.0 + 7.0 * intensity) * velocity_pressure(mean_m_s, density_kg_m3)


def gust_speed(mean_m_s: float, intensity: float, deviations: float) -> float:
    """Speed `deviations` standard deviations above the mean [m/s]: v·(1 + g·Iv) (CP). 3.5 is a peak: its pressure is
    the peak pressure to first order in Iv."""
    return mean_m_s * (1.0 + deviations * intensity)


def open_share(porosity: float) -> float:
    """What is left of the load on a solid leaf when it lets wind through [-]: 1 − β.

    β is the effective porosity, 0 to 1: that of a round-wire screen with the same loss (SEEN Richards & Robinson,
    J. Wind Eng. Ind. Aerodyn. 83, 1999, abstract). A site gives 1 − β as the leaf's solidity.
    """
    return 1.0 - porosity


def wind_force(wind_m_s: float, width_m: float, height_m: float, solidity: float = 1.0) -> float:
    """Force of wind square to a leaf [N]: ½·ρ·v²·cf·A·solidity (CP). Solidity 0 to 1; 1 is boarded, 0.4 is bars."""
    return velocity_pressure(wind_m_s) * FORCE_COEFFICIENT * width_m * height_m * solidity


def wind_torque(
    wind_m_s: float, width_m: float, height_m: float, solidity: float = 1.0, hinge_offset_m: float = 0.0
) -> float:
    """Hinge torque of wind square to a leaf [N·m]: force × (w/2 + s), pressure uniform over the leaf (CP).

    s is the distance from the hinge line to the leaf's edge, 0 to 0.3 m, usually 0.
    """
    return wind_force(wind_m_s, width_m, height_m, solidity) * (width_m / 2.0 + hinge_offset_m)


def oblique_share(from_leaf_rad: float) -> float:
    """Share of the square load when wind comes at an angle to the leaf [-]: ±sin²α, its sign from the side (CP)."""
    across = math.sin(from_leaf_rad)
    return across * abs(across)


# the Beaufort scale

BEAUFORT_FROM: Final = (0.0, 0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7)
"""Lowest mean speed of each number, 10 m above open ground [m/s] (SEEN delta-s.org and a copy of the Met Office
table). The table is printed to 0.1 m/s; what lies between two rows counts to the lower one."""

BEAUFORT_WORDS: Final = (
    "calm", "light air", "light breeze", "gentle breeze", "moderate breeze", "fresh breeze", "strong breeze",
    "near gale", "gale", "strong gale", "storm", "violent storm", "hurricane",
)  # fmt: skip
"""The scale's own words, by number (MEM-hi, World Meteorological Organization)."""


def beaufort(wind_m_s: float) -> int:
    """Beaufort number of a mean speed, 0 to 12. Raises ValueError unless the speed is 0 or more."""
    if not wind_m_s >= 0.0:
        raise ValueError(f"a wind speed must be 0 m/s or more, not {wind_m_s!r}")
    return bisect_right(BEAUFORT_FROM, wind_m_s) - 1


def beaufort_words(wind_m_s: float) -> str:
    """A mean speed in the scale's words, such as `gale`."""
    return BEAUFORT_WORDS[beaufort(wind_m_s)]


def beaufort_speed(number: float) -> float:
    """The fit through the scale [m/s]: v = 0.836·B^1.5, B 0 to 12 (MEM-hi)."""
    return 0.836 * number * math.sqrt(number)


# wind classes


@dataclass(frozen=True, slots=True)
class WindClass:
    """One class of EN 12424: the difference of pressure across a fully closed leaf that it is to bear."""

    number: int
    pressure_pa: float
    """[Pa]; of class 5 this is what it must exceed, and its maker states the value."""
    tag: str


WIND_CLASSES: Final = (
    WindClass(0, 0.0, "SEEN-V: nothing determined"),
    WindClass(1, 300.0, "MEM-hi EN 12424"),
    WindClass(2, 450.0, "MEM-hi EN 12424"),
    WindClass(3, 700.0, "MEM-hi EN 12424"),
    WindClass(4, 1000.0, "MEM-hi EN 12424"),
    WindClass(5, 1000.0, "SEEN-V: above this, the value to be stated"),
)
"""By number. Class 1 to 4 are from memory: to be checked against a purchased copy before anyone relies on them."""


def class_pressure(number: int) -> float:
    """Pressure that a wind class stands for [Pa]. Raises ValueError for a class that doesn't exist or has no value of
    its own, which is class 5."""
    if number not in range(5):
        because = "class 5 states its own pressure" if number == 5 else f"there is no wind class {number!r}"
        raise ValueError(f"{because}; allowed: 0 to 4")
    return WIND_CLASSES[number].pressure_pa


def class_speed(number: int, coefficient: float = 1.0) -> float:
    """Mean speed whose pressure a class bears [m/s], at a pressure coefficient: √(2·p/(ρ·c)).

    1 for the class by itself; `FORCE_COEFFICIENT` for a solid leaf that stands free.
    """
    return speed_of_pressure(class_pressure(number) / coefficient)
