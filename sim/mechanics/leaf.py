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


def hinge_gap_rate(heel_along_m: float, heel_across_m: float, angle_rad: float) -> float:
    """How fast that gap changes with the leaf's angle [m/rad], below 0 where it closes: d(gap)/dθ.

    It is also the lever of what is caught there: a hinge torque M presses on a hand with M divided by it, since the
    work of both is the same. A lever of 50 mm makes 6000 N of 300 N·m.
    """
    return -heel_along_m * math.sin(angle_rad) - heel_across_m * math.cos(angle_rad)


def hinge_gap_angle(gap_m: float, post_m: float, heel_along_m: float, heel_across_m: float) -> float:
    """The angle at which the closing gap has come down to a thickness [rad], such as a finger's or a forearm's.

    The gap is post + R·cos(θ + φ), (R, φ) the heel corner seen from the hinge; this is the solution on the way down,
    −φ to π − φ, and below 0 if the shut leaf's gap is already smaller. Raises ValueError for a gap that never is.
    """
    reach, phase = math.hypot(heel_along_m, heel_across_m), math.atan2(heel_across_m, heel_along_m)
    if not abs(gap_m - post_m) <= reach:
        raise ValueError(
            f"the gap lies between {post_m - reach:.4g} m and {post_m + reach:.4g} m, it is never {gap_m:.4g} m"
        )
    if reach == 0.0:
        raise ValueError(f"the heel lies on the hinge line: the gap is {post_m:g} m at every angle")
    return math.acos((gap_m - post_m) / reach) - phase


def bearing_friction(
    mass_kg: float,
    arm_m: float,
    friction: float,
    thrust_radius_m: float,
    journal_radius_m: float,
    spacing_m: float,
) -> float:
    """Dry friction of two hinges about the hinge line [N·m]: thrust bearing and both journals (textbook, facts 6.3).

    T = μ·W·r_m + 2·μ·H·r. The lower hinge carries the weight W = m·g on the thrust bearing's mean radius r_m; both
    hinges hold the side force H = W·arm/spacing at the journal radius r. `arm_m` is the distance of the centre of
    mass from the hinge line, half the width of a plain leaf. Coefficient 0.1 to 0.2 greased, 0.15 typical (common
    practice, no source); radii 5 to 40 mm, spacing 0.4 to 3 m. Old dry hinges reach ten times as much.
    """
    weight = mass_kg * GRAVITY
    side = weight * arm_m / spacing_m
    return friction * weight * thrust_radius_m + 2.0 * friction * side * journal_radius_m


def sag(play_m: float, spacing_m: float, width_m: float) -> float:
    """How far hinge play lets the closing edge drop [m]: c·w/h, similar triangles (facts 6.3).

    Up to 5 mm when lifted by hand is taken as sound (common practice, no source).
    """
    return play_m * width_m / spacing_m


def restitution_damping(restitution: float, stiffness_n_m_rad: float, inertia_kg_m2: float) -> float:
    """Damping that gives a stop a coefficient of restitution [N·m·s/rad], for a free leaf on stop and damper.

    While touching, J·x″ = −(k·x + c·x′). The stop pushes and never pulls, so the leaf parts from it when
    k·x + c·x′ = 0 and not where x is 0 again. With c = 2·ζ·√(k·J) the solution from x = 0 meets that condition with
    −ln e = 2·δ/tan δ for ζ = cos δ up to 1, and −ln e = 2·φ/tanh φ for ζ = cosh φ beyond; both meet at
    e = exp(−2) = 0.135 with ζ = 1. The speed of impact does not enter. Steel on rubber 0.3 to 0.6, steel on steel up
    to 0.8 (common practice, no source).

    Raises ValueError outside 0 < e ≤ 1: nothing finite leaves a leaf without any rebound.
    """
    if not 0.0 < restitution <= 1.0:
        raise ValueError(f"a coefficient of restitution must lie above 0 and up to 1, not {restitution!r}")
    return 2.0 * _damping_ratio(-math.log(restitution)) * math.sqrt(stiffness_n_m_rad * inertia_kg_m2)


def _damping_ratio(loss: float) -> float:
    """ζ for a loss −ln e, by halving: both branches run one way, from 2 at δ = φ = 0."""
    light = loss < 2.0
    low, high = 0.0, math.pi / 2.0 if light else loss / 2.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        if light:
            low, high = (middle, high) if 2.0 * middle / math.tan(middle) > loss else (low, middle)
        else:
            low, high = (middle, high) if 2.0 * middle / math.tanh(middle) < loss else (low, middle)
    return math.cos(high) if light else math.cosh(high)


def grease_factor(temperature_c: float, per_k: float) -> float:
    """How many times as stiff grease is as at 20 °C [-]: exp(−k·(T − 20)).

    0.03 to 0.06 per kelvin between −20 and 40 °C, 0.04 typical (common practice, no source); 0 is no effect.
    """
    return math.exp(-per_k * (temperature_c - 20.0))
