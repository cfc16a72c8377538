"""Oil in a hydraulic ram: how stiff it is, what its relief valve allows, what leaks past. SI units, no state."""

from __future__ import annotations

import math
from typing import Final

from sim.mechanics.leaf import series_stiffness
from sim.site.models import HydraulicRam

BULK_PA: Final = 1.5e9
"""Bulk modulus of the oil itself [Pa]. From memory of hydraulics handbooks."""

WORKING_PA: Final = 2.0e6
"""Pressure at which air in the oil is pressed together [Pa]. Engineering value, no source."""

THINNER_PER_K: Final = 0.03
"""By what share the oil thins, and leaks more, for each kelvin warmer. Engineering value, no source."""


def area(ram: HydraulicRam) -> float:
    """Of the piston [m²]."""
    return ram.bore_cm2 * 1e-4


def travel_per_angle(ram: HydraulicRam) -> float:
    """Travel of the piston per angle of the motor [m/rad]. What the pump draws as air is pressed together and moves
    nothing."""
    return ram.pump_cm3_per_turn * 1e-6 * (1.0 - ram.air_share) / (2.0 * math.pi * area(ram))


def bulk_modulus(air_share: float) -> float:
    """Of oil with air in it [Pa]: both in series, by their shares."""
    return 1.0 / ((1.0 - air_share) / BULK_PA + air_share / WORKING_PA)


def stiffness(ram: HydraulicRam) -> float:
    """Of the column of oil with pivots and brackets behind it [N/m]."""
    return series_stiffness(bulk_modulus(ram.air_share) * area(ram) / ram.stroke_m, ram.stiffness_n_m)


def relief_force(ram: HydraulicRam) -> float:
    """Force at which the bypass opens [N]."""
    return ram.relief_bar * 1e5 * area(ram)


def creep(ram: HydraulicRam, oil_c: float) -> float:
    """Speed of the ram for the force on it, from oil past its valves [m/(N·s)]."""
    at_20 = ram.leak_cm3_s_bar * 1e-6 / 1e5
    return at_20 * math.exp(THINNER_PER_K * (oil_c - 20.0)) / area(ram) ** 2
