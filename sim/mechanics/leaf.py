"""Formulas of one leaf on its hinge and of what it strikes: SI units, no state (facts 6.1 to 6.3)."""

from __future__ import annotations

import math
from typing import Final

GRAVITY: Final = 9.81
"""[m/s²]."""


def inertia(mass_kg: float, width_m: float, thickness_m: float = 0.0, hinge_offset_m: float = 0.0) -> float:
    """Moment of inertia of a uniform leaf about its hinge line [kg·m²].

    J = m·w²/12 + m·(w/2 + s)² + m·t²/12, s from the hinge line to the leaf's edge.
    """
    arm = width_m / 2.0 + hinge_offset_m
    return mass_kg * (width_m * width_m / 12.0 + arm * arm + thickness_m * thickness_m / 12.0)


def point_inertia(mass_kg: float, radius_m: float) -> float:
    """What a lock or a sign adds to the inertia [kg·m²]: m·r²."""
    return mass_kg * radius_m * radius_m


def effective_mass(inertia_kg_m2: float, radius_m: float) -> float:
    """The mass a struck thing feels at a radius [kg]: J/r²."""
    return inertia_kg_m2 / (radius_m * radius_m)


def kinetic_energy(mass_kg: float, speed_m_s: float) -> float:
    """½·m·v² [J]."""
    return 0.5 * mass_kg * speed_m_s * speed_m_s


def series_stiffness(*stiffnesses_n_m: float) -> float:
    """Stiffness of springs in series [N/m]: 1/k = Σ 1/kᵢ."""
    return 1.0 / sum(1.0 / each for each in stiffnesses_n_m)


def impact_force(speed_m_s: float, mass_kg: float, stiffness_n_m: float, thrust_n: float = 0.0) -> float:
    """Greatest force of a mass that strikes a spring while a thrust goes on pushing [N].

    F = F₀ + √(F₀² + k·m·v²), from the balance of energy (facts 6.2).
    """
    return thrust_n + math.sqrt(thrust_n * thrust_n + stiffness_n_m * mass_kg * speed_m_s * speed_m_s)


def impact_time(mass_kg: float, stiffness_n_m: float) -> float:
    """Time from first touch to the greatest force without thrust [s]: (π/2)·√(m/k)."""
    return math.pi / 2.0 * math.sqrt(mass_kg / stiffness_n_m)


def impact_speed(force_n: float, mass_kg: float, stiffness_n_m: float) -> float:
    """The speed that makes a given greatest force without thrust [m/s]."""
    return force_n / math.sqrt(stiffness_n_m * mass_kg)


def force_at(torque_n_m: float, radius_m: float) -> float:
    """Static force of a torque at a radius [N]: thrust grows towards the hinge."""
    return torque_n_m / radius_m


def overtravel(speed_m_s: float, reaction_s: float, deceleration_m_s2: float) -> float:
    """How far an edge is pressed on after it switched [m]: v·t + v²/(2a)."""
    return speed_m_s * reaction_s + speed_m_s * speed_m_s / (2.0 * deceleration_m_s2)


def mean_tip_speed(width_m: float, angle_rad: float, time_s: float) -> float:
    """Mean speed of the closing edge over a swing [m/s]."""
    return width_m * angle_rad / time_s


def swing_time(angle_rad: float, cruise_rad_s: float, ramp_s: float, slow_rad: float, slow_share: float) -> float:
    """Time of a swing with a ramp up, a cruise, a ramp down to `slow_share` of it and a slow zone at the end [s]."""
    slow = slow_share * cruise_rad_s
    down_s = ramp_s * (1.0 - slow_share)
    ramps = 0.5 * cruise_rad_s * ramp_s + 0.5 * (cruise_rad_s + slow) * down_s
    return ramp_s + (angle_rad - slow_rad - ramps) / cruise_rad_s + down_s + slow_rad / slow


def tilt_torque(mass_kg: float, width_m: float, tilt_rad: float, angle_rad: float) -> float:
    """Torque towards the low point, `angle_rad` away from it, of a leaf on a leaning hinge line [N·m]."""
    return mass_kg * GRAVITY * width_m / 2.0 * math.sin(tilt_rad) * math.sin(angle_rad)


def rising_hinge_torque(mass_kg: float, rise_m: float, over_rad: float) -> float:
    """Torque of a hinge that lifts the leaf evenly by `rise_m` over `over_rad` [N·m], always downhill."""
    return mass_kg * GRAVITY * rise_m / over_rad


def hinge_gap(post_m: float, heel_along_m: float, heel_across_m: float, angle_rad: float) -> float:
    """Gap between the leaf's heel corner and the post's face, `post_m` behind the hinge line [m]."""
    return post_m + heel_along_m * math.cos(angle_rad) - heel_across_m * math.sin(angle_rad)


AIR_DENSITY: Final = 1.25
"""[kg/m³], EN 1991-1-4 as facts 4 quote it."""

FORCE_COEFFICIENT: Final = 1.2
"""Of a solid leaf near the ground; common practice, facts 4."""


def wind_torque(wind_m_s: float, width_m: float, height_m: float, solidity: float = 1.0) -> float:
    """Hinge torque of wind square to a leaf, uniform pressure [N·m]: ½·ρ·v²·cf·A·solidity·w/2."""
    pressure = 0.5 * AIR_DENSITY * wind_m_s * wind_m_s
    return pressure * FORCE_COEFFICIENT * width_m * height_m * solidity * width_m / 2.0
