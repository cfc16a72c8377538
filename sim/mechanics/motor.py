"""Formulas of a permanent-magnet motor and of the train behind it: SI units, no state (facts 5.3)."""

from __future__ import annotations

import math
from typing import Final

from sim.draws import uniform
from sim.site.models import AnyMotor, Drive, Motor
from sim.units import LeafName


def no_load_speed(motor: Motor, volts: float) -> float:
    """Speed with nothing coupled [rad/s]: (U − R·I₀)/K."""
    return (volts - motor.resistance_ohm * motor.no_load_a) / motor.constant_v_s_rad


def speed_at(motor: Motor, volts: float, amperes: float) -> float:
    """Steady speed at a current [rad/s]: (U − R·I)/K."""
    return (volts - motor.resistance_ohm * amperes) / motor.constant_v_s_rad


def stall_current(motor: Motor, volts: float, loop_ohm: float = 0.0) -> float:
    """Current with the rotor held, behind a cable loop [A]."""
    return volts / (motor.resistance_ohm + loop_ohm)


def shaft_torque(motor: Motor, amperes: float) -> float:
    """Torque left at the shaft [N·m]: K·(I − I₀)."""
    return motor.constant_v_s_rad * (amperes - motor.no_load_a)


def peak_efficiency(motor: Motor, volts: float) -> float:
    """(1 − √(I₀·R/U))²."""
    return (1.0 - math.sqrt(motor.no_load_a * motor.resistance_ohm / volts)) ** 2


def hot_resistance(motor: Motor, celsius: float) -> float:
    """Winding resistance at a temperature [Ω], copper 0.00393 per kelvin from 20 °C (facts 5.1)."""
    return motor.resistance_ohm * (1.0 + 0.00393 * (celsius - 20.0))


def copper_share(motor: AnyMotor) -> float:
    """What part of the resistance at its leads is copper, which warms; worn brushes keep their ohms [-]."""
    return 1.0 - motor.brush_ohm / motor.terminal_ohm if isinstance(motor, Motor) else 1.0


BARS: Final = 24
"""Places of the rotor, bars of the commutator and the gaps between them. CP, no source."""

BRUSH_RATIO: Final = 16.0
"""Worn brushes on the worst bar, over those on the best. CP, no source."""


def brush_share(seed: int, leaf: LeafName, turned_rad: float) -> float:
    """Resistance of worn brushes with the rotor here, as a share of what they have on the whole [-].

    From a quarter to four times, in equal ratios; each bar is what it is for as long as the motor lives.
    """
    bar = math.floor(turned_rad * BARS / (2.0 * math.pi)) % BARS
    drawn = uniform(seed, f"{leaf} motor", "how a bar of its commutator is worn", bar)
    return math.pow(BRUSH_RATIO, drawn - 0.5)


def shorted_drag(motor: Motor) -> float:
    """What shorted turns brake with [N·m·s/rad]: the voltage in them drives a current through their own resistance.

    K_s²/R_s with both in proportion to the shorted turns. Textbook; brushes left out.
    """
    share = motor.shorted_share
    return share * motor.constant_v_s_rad**2 / motor.resistance_ohm


def field_shares(capacitor_share: float) -> tuple[float, float]:
    """(with it, against it): parts of an induction motor's field that turn with its rotor and against it.

    The second winding carries its current by the capacitor, in proportion to it; with the right one both windings
    are equal and the field only turns forwards; one too big is as wrong as one as many times too small. Torque goes
    with the square. Symmetrical components, textbook; the capacitor's share of the current is taken as its share of
    the right capacitance.
    """
    share = min(capacitor_share, 1.0 / capacitor_share if capacitor_share > 0.0 else 0.0)
    return ((1.0 + share) / 2.0) ** 2, ((1.0 - share) / 2.0) ** 2


def efficiency(drive: Drive) -> float:
    """Of gear and screw together."""
    return drive.gear_efficiency * drive.screw_efficiency


def travel_per_turn(drive: Drive) -> float:
    """Travel of the ram per angle of the motor [m/rad]: lead/(2π·ratio)."""
    return drive.screw_lead_m / (2.0 * math.pi * drive.gear_ratio)


def ram_force(drive: Drive, amperes: float) -> float:
    """Thrust of the ram at a motor current while it drives steadily [N]: what shaft and train's own drag leave.

    Raises ValueError for a mains motor, whose torque its current doesn't tell.
    """
    if not isinstance(drive.motor, Motor):
        raise ValueError(f"the thrust of a {drive.motor.kind} motor doesn't follow from its current")
    left = shaft_torque(drive.motor, amperes) - drive.drag_n_m
    return left * efficiency(drive) / travel_per_turn(drive)


def reflected_inertia(drive: Drive, lever_m: float) -> float:
    """Rotor inertia as the leaf feels it through a rigid train [kg·m²]: J·(lever/travel per turn)²."""
    ratio = lever_m / travel_per_turn(drive)
    return drive.motor.rotor_kg_m2 * ratio * ratio


def holds_by_itself(drive: Drive) -> bool:
    """Whether no load can turn the motor back: the train loses more than half of what passes it."""
    return efficiency(drive) < 0.5


def self_locking_friction(lead_m: float, mean_diameter_m: float) -> float:
    """Coefficient of friction above which a screw holds by itself: lead/(π·d)."""
    return lead_m / (math.pi * mean_diameter_m)


def current_ripple(volts: float, duty: float, inductance_h: float, switching_hz: float) -> float:
    """Peak-to-peak ripple of the winding current under a switched voltage [A]: U·D·(1 − D)/(L·f) (textbook).

    Steady state, winding resistance left out over one period. Duty 0 to 1; the switching of small drives is 8 to
    20 kHz (common practice, no source). The kernel steps the mean and leaves this ripple out.
    """
    return volts * duty * (1.0 - duty) / (inductance_h * switching_hz)
