"""The fact sheet's check values of mechanics and force, in one table: read from the product, never worked out here.

Each row names the number it stands for, what is read, what the sheet expects, how far off it may be (the sheet's own
tolerance) and where the sheet's value comes from. Where a number can be read from a formula and from a run, both are
there. What was once more than one test of the same number is one row.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, Final

import pytest

from sim.instruments.force_gauge import Reading, compression_mm, evaluate, judge, mean_of, mean_verdict
from sim.instruments.rule_sets import CRUSH, FREE_IMPACT, RESIDUAL_80, RuleSet
from sim.mechanics import duty, hanging, leaf, motor, wind
from sim.mechanics.linkage import Linkage
from sim.mechanics.mounting import Mounting
from sim.site.drives import ArticulatedArm
from sim.site.leaves import Fitting
from sim.site.models import Drive, Drives, Edge, Leaf, Motor, Site, Weather

RPM: Final = 60.0 / (2.0 * math.pi)
"""[rpm] for one [rad/s]."""

RIGHT_ANGLE: Final = math.pi / 2.0

# what the sheet's examples are made of

RAM: Final = Drive(post_across_m=0.15, post_inside_m=0.15, bracket_along_m=0.85, bracket_offset_m=0.05)
"""The example of facts 6.4."""

ARM: Final = ArticulatedArm(axis_across_m=0.1, axis_inside_m=0.2, crank_m=0.3, link_m=0.45, bracket_along_m=0.6)
"""The example of facts 6.5."""

RAM_AT: Final = Mounting.of(RAM)
ARM_AT: Final = Mounting.of(ARM)
RAM_WORKS: Final = Linkage(Site(name="Quince Lane, invented", drives=Drives(active=RAM)), 0)
ARM_WORKS: Final = Linkage(Site(name="Quince Lane, invented", drives=Drives(active=ARM)), 0)
"""Where they are held, and what they do as the kernel has it."""

PLAIN: Final = Leaf(thickness_m=0.01)
"""120 kg, 2.0 m, as thin as may be."""

LOCK: Final = Fitting(name="lock", mass_kg=10.0, along_m=1.9)

SQUARE: Final = Weather(temperature_c=20.0, wind_m_s=15.0, wind_from_deg=360.0 - math.degrees(0.5))
"""Wind square to a leaf that stands at 0.5 rad."""

SET: Final = Motor(resistance_ohm=1.2, constant_v_s_rad=0.050, no_load_a=0.7, inductance_h=0.001, rotor_kg_m2=1.5e-5)
"""The first set of facts 5.3."""

TRAIN: Final = Drive(
    motor=SET, gear_ratio=20.0, gear_efficiency=0.85, screw_lead_m=0.005, screw_efficiency=0.35, drag_n_m=0.0
)
"""The train of that set: its efficiencies are all that it loses."""

SOFT_EDGE: Final = Edge(stiffness_n_m=20_000.0)

FULL: Final = {"peak_n": 380.0, "above_static_s": 0.5, "static_n": 140.0, "above_residual_s": 4.0, "late_n": 20.0}
"""A reading that keeps every limit (number 19 of the list)."""

# how far off a value may be

Allowed = Callable[[Any], Any]


def percent(most: float) -> Allowed:
    """Within a part of the expected value."""
    return lambda expected: pytest.approx(expected, rel=most / 100.0, abs=0.0)


def within(most: float) -> Allowed:
    """Within an amount of the expected value, in its unit."""
    return lambda expected: pytest.approx(expected, rel=0.0, abs=most)


def exact(expected: Any) -> Any:
    """The expected value itself."""
    return expected


@dataclass(frozen=True, slots=True)
class Check:
    """One value of the list."""

    number: str
    what: str
    read: Callable[[Any], Any]
    """Reads it from the product; given the rig with a leaf to strike with."""
    expected: Any
    allowed: Allowed
    source: str


TEXTBOOK: Final = "facts 6.1, textbook"
IMPACT: Final = "facts 6.2, textbook"
LIMIT: Final = "facts 6.2, textbook, with a limit of facts 1.2 (read in a public text)"
WIND: Final = "facts 4, formula and density read in a public text"
LEAF_WIND: Final = "facts 4, common practice"
HINGE: Final = "facts 6.3, textbook"
GEOMETRY: Final = "facts 6.4, plane geometry"
MACHINE: Final = "facts 5.3, any handbook of machines, from memory"
RULES: Final = "facts 1.2, read in a public text"

LEAF_CHECKS: Final = [
    Check("C01", "inertia of 120 kg, 2.0 m", lambda _: leaf.inertia(120, 2.0), 160.00, percent(0.5), TEXTBOOK),
    Check("C01", "of a site's leaf", lambda _: hanging.inertia(PLAIN), 160.00, percent(0.5), TEXTBOOK),
    Check("C02", "with 0.10 m of hinge offset", lambda _: leaf.inertia(120, 2.0, hinge_offset_m=0.10), 185.20,
          percent(0.5), TEXTBOOK),
    Check("C02", "of a site's leaf", lambda _: hanging.inertia(of(PLAIN, width_m=2.1, hinge_offset_m=0.1)), 185.20,
          percent(0.5), TEXTBOOK),
    Check("C03", "with 10 kg at 1.9 m", lambda _: leaf.inertia(120, 2.0) + leaf.point_inertia(10, 1.9), 196.10,
          percent(0.5), TEXTBOOK),
    Check("C03", "of a site's leaf", lambda _: hanging.inertia(of(PLAIN, fittings=(LOCK,))), 196.10, percent(0.5),
          TEXTBOOK),
    Check("C04", "effective mass at the tip", lambda _: leaf.effective_mass(160, 2.0), 40.0, percent(0.5), TEXTBOOK),
    Check("C04", "effective mass at 0.5 m", lambda _: leaf.effective_mass(160, 0.5), 640.0, percent(0.5), TEXTBOOK),
    Check("C05", "kinetic energy, tip 0.2 m/s", lambda _: leaf.kinetic_energy(40, 0.2), 0.8, percent(1), TEXTBOOK),
    Check("C06", "mean tip speed, 90° in 15 s", lambda _: leaf.mean_tip_speed(2.0, RIGHT_ANGLE, 15.0), 0.2094,
          percent(1), "facts 6.6, calculated"),
    Check("C07", "time of a trapezoid", lambda _: leaf.swing_time(RIGHT_ANGLE, 0.125, 1.0, math.radians(15), 0.4),
          16.388, percent(1), "facts 6.6, calculated"),
]  # fmt: skip

IMPACT_CHECKS: Final = [
    Check("C08", "force, formula", lambda _: leaf.impact_force(0.2, 40, 5e5), 894.43, percent(1), IMPACT),
    Check("C08", "force, run", lambda rig: rig.strike(0.2).raw_peak_n, 894.43, percent(1), IMPACT),
    Check("C09", "time to peak, formula", lambda _: leaf.impact_time(40, 5e5), 0.014050, percent(2), IMPACT),
    Check("C09", "time to peak, run", lambda rig: rig.time_of_peak(rig.strike(0.2)), 0.014050, percent(2), IMPACT),
    Check("C10", "speed for 400 N", lambda _: leaf.impact_speed(400, 40, 5e5), 0.0894, percent(1), LIMIT),
    Check("C10", "force at 0.0894 m/s, run", lambda rig: rig.strike(0.0894).raw_peak_n, 400.0, percent(1), LIMIT),
    Check("C11", "speed for 1400 N", lambda _: leaf.impact_speed(1400, 40, 5e5), 0.3130, percent(1), LIMIT),
    Check("C11", "force at 0.3130 m/s, run", lambda rig: rig.strike(0.3130).raw_peak_n, 1400.0, percent(1), LIMIT),
    Check("C12", "edge of 20 N/mm in series, formula",
          lambda _: leaf.impact_force(0.2, 40, leaf.series_stiffness(5e5, 2e4)), 175.41, percent(1), IMPACT),
    Check("C12", "edge of 20 N/mm in series, run", lambda rig: rig.strike(0.2, edge=SOFT_EDGE).raw_peak_n, 175.41,
          percent(1), IMPACT),
    Check("C13", "150 N of thrust, formula", lambda _: leaf.impact_force(0.1, 40, 5e5, thrust_n=150), 621.70,
          percent(1), IMPACT),
    Check("C13", "150 N of thrust, run", lambda rig: rig.strike(0.1, thrust=150.0).raw_peak_n, 621.70, percent(1),
          IMPACT),
    Check("C14", "gauge at 400 N", lambda _: compression_mm(400), 0.80, percent(10), "facts 1.3, public text"),
    Check("C14", "gauge at 1400 N", lambda _: compression_mm(1400), 2.80, percent(10), "facts 1.3, public text"),
    Check("C14", "gauge at 400 N, run [mm]", lambda rig: rig.press(2.0, 400.0)[1] * 1000, 0.80, percent(10),
          "facts 1.3, public text"),
    Check("C14", "gauge at 1400 N, run [mm]", lambda rig: rig.press(2.0, 1400.0)[1] * 1000, 2.80, percent(10),
          "facts 1.3, public text"),
    Check("C15", "450 N/mm against 500, formula",
          lambda _: leaf.impact_force(0.2, 40, 4.5e5) / leaf.impact_force(0.2, 40, 5e5), 0.9487, percent(0.5),
          IMPACT),
    Check("C15", "550 N/mm against 500, formula",
          lambda _: leaf.impact_force(0.2, 40, 5.5e5) / leaf.impact_force(0.2, 40, 5e5), 1.0488, percent(0.5),
          IMPACT),
    Check("C15", "450 N/mm against 500, run",
          lambda rig: rig.strike(0.2, stiffness=4.5e5).raw_peak_n / rig.strike(0.2).raw_peak_n, 0.9487, percent(0.5),
          IMPACT),
    Check("C15", "550 N/mm against 500, run",
          lambda rig: rig.strike(0.2, stiffness=5.5e5).raw_peak_n / rig.strike(0.2).raw_peak_n, 1.0488, percent(0.5),
          IMPACT),
    Check("C16", "static 300 N·m at 0.5 m", lambda _: leaf.force_at(300, 0.5), 600.0, percent(0.5), LIMIT),
    Check("C16", "static 300 N·m at 0.1 m", lambda _: leaf.force_at(300, 0.1), 3000.0, percent(0.5), LIMIT),
    Check("C16", "150 N at the tip, at 0.5 m, run", lambda rig: rig.press(0.5, 150.0)[0], 600.0, percent(0.5), LIMIT),
    Check("C16", "150 N at the tip, at 0.1 m, run", lambda rig: rig.press(0.1, 150.0)[0], 3000.0, percent(0.5),
          LIMIT),
    Check("C17", "overtravel", lambda _: leaf.overtravel(0.2, 0.08, 0.5), 0.0560, percent(2), IMPACT),
]  # fmt: skip

WIND_CHECKS: Final = [
    Check("C20", "pressure at 15 m/s", lambda _: wind.velocity_pressure(15.0), 140.62, percent(0.1), WIND),
    Check("C21", "the other convention at 20 m/s", lambda _: wind.velocity_pressure(20.0, wind.ASCE_DENSITY), 245.20,
          percent(0.1), WIND),
    Check("C22", "pressure at 30 m/s", lambda _: wind.velocity_pressure(30.0), 562.50, percent(1), WIND),
    Check("C22", "the same as published for a zone [kN/m²]", lambda _: wind.velocity_pressure(30.0) / 1000, 0.56,
          percent(1), WIND),
    Check("C23", "torque on a solid leaf, 15 m/s", lambda _: wind.wind_torque(15.0, 2.0, 1.8), 607.50, percent(1),
          LEAF_WIND),
    Check("C24", "the same, porosity 0.6", lambda _: wind.wind_torque(15.0, 2.0, 1.8, wind.open_share(0.6)), 243.00,
          percent(1), "facts 4, Richards & Robinson 1999 (abstract)"),
    Check("C23", "the same, pressed on a gauge in a run", lambda rig: rig.torque(0.5, SQUARE, solidity=1.0), 607.50,
          percent(1), LEAF_WIND),
    Check("C24", "the same, pressed on a gauge in a run", lambda rig: rig.torque(0.5, SQUARE, solidity=0.4), 243.00,
          percent(1), LEAF_WIND),
    Check("C25", "the fit at 8", lambda _: 17.2 <= wind.beaufort_speed(8) <= 20.7, True, exact, WIND),
    Check("C25", "the fit at 8 [m/s], to the digits printed", lambda _: wind.beaufort_speed(8), 18.917,
          within(0.0005), "facts 4, from memory"),
    Check("C25", "the number of that speed", lambda _: wind.beaufort(wind.beaufort_speed(8)), 8, exact, WIND),
    Check("C26", "speed for the second wind class", lambda _: wind.class_speed(2), 26.833, percent(0.5),
          "facts 4, pressure from memory of EN 12424"),
]  # fmt: skip

HINGE_CHECKS: Final = [
    Check("C27", "lean of 2°", lambda _: leaf.tilt_torque(120, 2.0, math.radians(2), RIGHT_ANGLE), 41.084,
          percent(1), HINGE),
    Check("C27", "lean of 2°, run", lambda rig: rig.torque(RIGHT_ANGLE, hinge_tilt_deg=2.0), 41.084, percent(1),
          HINGE),
    Check("C28", "rising hinge", lambda _: leaf.rising_hinge_torque(120, 0.08, RIGHT_ANGLE), 59.954, percent(1),
          HINGE),
    Check("C28", "rising hinge, run", lambda rig: rig.torque(0.5, hinge_rise_m=0.08), 59.954, percent(1), HINGE),
    Check("C29", "hinge gap shut [mm]", lambda _: leaf.hinge_gap(0.07, 0.06, 0.05, 0.0) * 1000, 130.0, within(0.5),
          HINGE),
    Check("C29", "hinge gap at 90° [mm]", lambda _: leaf.hinge_gap(0.07, 0.06, 0.05, RIGHT_ANGLE) * 1000, 20.0,
          within(0.5), HINGE),
]  # fmt: skip


def slope_of_length() -> float:
    """−d(length)/dθ of the ram at 45° [mm], the product's length differenced with the step the sheet names."""
    angle, step = math.pi / 4, 1e-6
    return (RAM_AT.apart(angle - step) - RAM_AT.apart(angle + step)) / (2 * step) * 1000


GEOMETRY_CHECKS: Final = [
    Check("C30", "ram length shut [mm]", lambda _: RAM_AT.apart(0.0) * 1000, 1005.0, within(0.5), GEOMETRY),
    Check("C30", "ram length at 90° [mm]", lambda _: RAM_AT.apart(RIGHT_ANGLE) * 1000, 707.1, within(0.5), GEOMETRY),
    Check("C31", "stroke [mm]", lambda _: RAM_WORKS.travel(RIGHT_ANGLE) * 1000, 297.88, within(0.5), GEOMETRY),
    Check("C32", "lever shut [mm]", lambda _: RAM_WORKS.lever(0.0) * 1000, 134.3, within(0.5), GEOMETRY),
    Check("C32", "lever at 45° [mm]", lambda _: RAM_WORKS.lever(math.pi / 4) * 1000, 208.4, within(0.5), GEOMETRY),
    Check("C32", "lever at 90° [mm]", lambda _: RAM_WORKS.lever(RIGHT_ANGLE) * 1000, 169.7, within(0.5), GEOMETRY),
    Check("C33", "tip speed shut", lambda _: RAM_WORKS.speed_at(0.0, 2.0, 0.016), 0.2382, percent(1), GEOMETRY),
    Check("C33", "tip speed at 45°", lambda _: RAM_WORKS.speed_at(math.pi / 4, 2.0, 0.016), 0.1536, percent(1),
          GEOMETRY),
    Check("C34", "opening time, 16 mm/s", lambda _: RAM_WORKS.time(RIGHT_ANGLE, 0.016), 18.618, percent(1), GEOMETRY),
    Check("C35", "lever at 45° [mm]", lambda _: RAM_WORKS.lever(math.pi / 4) * 1000, 208.38, percent(0.01), GEOMETRY),
    Check("C35", "slope of the length at 45° [mm]", lambda _: slope_of_length(), 208.38, percent(0.01), GEOMETRY),
    Check("C36", "crank shut [°]", lambda _: math.degrees(ARM_AT.crank_rad(0.0)), 1.15, within(0.2), "facts 6.5"),
    Check("C36", "crank at 90° [°]", lambda _: math.degrees(ARM_AT.crank_rad(RIGHT_ANGLE)), 152.52, within(0.2),
          "facts 6.5"),
    Check("C36", "crank from shut to 90° [°]", lambda _: math.degrees(ARM_WORKS.travel(RIGHT_ANGLE)), 152.52 - 1.15,
          within(0.2), "facts 6.5"),
    Check("C37", "tip force at 3 A, shut", lambda _: RAM_WORKS.force_at(0.0, 2.0, motor.ram_force(TRAIN, 3.0)),
          57.755, percent(2), "facts 6.4 and 5.3"),
]  # fmt: skip

MOTOR_CHECKS: Final = [
    Check("C45", "no-load speed [rpm]", lambda _: motor.no_load_speed(SET, 24.0) * RPM, 4423.23, percent(1), MACHINE),
    Check("C45", "no-load speed, run [rpm]", lambda rig: rig.idling() * RPM, 4423.23, percent(1), MACHINE),
    Check("C46", "stall current, run", lambda rig: rig.stalled(), 20.0, percent(1), MACHINE),
    Check("C46", "stall current", lambda _: motor.stall_current(SET, 24.0), 20.0, percent(1), MACHINE),
    Check("C46", "stall torque", lambda _: motor.shaft_torque(SET, motor.stall_current(SET, 24.0)), 0.965, percent(1),
          MACHINE),
    Check("C47", "peak efficiency", lambda _: motor.peak_efficiency(SET, 24.0), 0.6608, percent(1), MACHINE),
    Check("C48", "half duty, 3 A [rpm]", lambda _: motor.speed_at(SET, 12.0, 3.0) * RPM, 1604.28, percent(1),
          MACHINE),
    Check("C49", "stall current at 100 °C", lambda _: motor.stall_current(hot(SET, 100.0), 24.0), 15.216, percent(1),
          MACHINE),
    Check("C49", "the same, run", lambda rig: rig.stalled(winding_c=100.0), 15.216, percent(1), MACHINE),
    Check("C50", "ram force at 8 A", lambda _: motor.ram_force(TRAIN, 8.0), 2729.10, percent(1), MACHINE),
    Check("C51", "stall behind a cable", lambda _: motor.stall_current(SET, 24.0, 0.665), 12.869, percent(1),
          "facts 5.1 (IEC 60228, read) and 5.3"),
    Check("C51", "the same, run", lambda rig: rig.stalled(0.665), 12.869, percent(1), "facts 5.1 and 5.3"),
    Check("C52", "ripple of a switched current", lambda _: motor.current_ripple(24.0, 0.5, 0.0005, 16_000.0), 0.7500,
          percent(1), MACHINE),
    Check("C53", "self-locking friction", lambda _: motor.self_locking_friction(0.005, 0.014), 0.1137, percent(0.5),
          MACHINE),
    Check("C59", "intermittent duty of 25 % in 10 min", lambda _: duty.allowed_running(0.25), 150.0, exact,
          "facts 5.4, from memory of IEC 60034-1"),
    Check("C59", "a run of 150 s", lambda _: duty.judge([(7.0, 157.0)], 0.25).is_within, True, exact, "facts 5.4"),
    Check("C59", "a run of 151 s", lambda _: duty.judge([(7.0, 158.0)], 0.25).is_within, False, exact, "facts 5.4"),
]  # fmt: skip


def of(model: Leaf, **changed: Any) -> Leaf:
    """A leaf but for what is changed."""
    return model.model_copy(update=changed)


def hot(cold: Motor, celsius: float) -> Motor:
    """The motor as its winding is at a temperature [°C]."""
    return cold.model_copy(update={"resistance_ohm": motor.hot_resistance(cold, celsius)})


# force-time curves

CRUSH_80: Final = CRUSH.with_residual(RESIDUAL_80)


def word(reading: Reading, rules: RuleSet) -> str:
    """PASS or FAIL, as the fact sheet says it: a marginal pass is a pass, so no band."""
    outcome = judge(reading, rules, band=0.0).outcome
    return {"within limits": "PASS", "over the limit": "FAIL"}[outcome]


def reading(**changed: float) -> Reading:
    """A reading that keeps every limit, but for what is changed."""
    return Reading(**{**FULL, **changed})


THREE: Final = [reading(peak_n=peak) for peak in (395.0, 402.0, 400.0)]

VERDICT_CHECKS: Final = [
    Check("C18", "mean of 395, 402, 400 N", lambda _: mean_of(THREE).peak_n, 399.0, exact, "facts 1.4, restated"),
    Check("C18", "its verdict", lambda _: mean_verdict(THREE, CRUSH, band=0.0).outcome, "within limits", exact,
          "facts 1.4, restated"),
    Check("C18", "each reading alone", lambda _: [word(one, CRUSH) for one in THREE], ["PASS", "FAIL", "PASS"], exact,
          "facts 1.4, restated"),
    Check("C19", "every limit kept", lambda _: word(reading(), CRUSH), "PASS", exact, RULES),
    Check("C19", "peak 401 N", lambda _: word(reading(peak_n=401.0), CRUSH), "FAIL", exact, RULES),
    Check("C19", "above 150 N for 0.76 s", lambda _: word(reading(above_static_s=0.76), CRUSH), "FAIL", exact, RULES),
    Check("C19", "above 25 N for 5.1 s", lambda _: word(reading(above_residual_s=5.1), CRUSH), "FAIL", exact, RULES),
]  # fmt: skip

# facts 9.1: points (s, N); Fd, Td, Fs, Tt, F5; crush zone 25 N, crush zone 80 N, free impact 25 N
GOLDEN: Final = {
    "G1": ([(0, 0), (0.02, 380), (0.1, 140), (0.6, 140), (0.7, 20), (6, 20)],
           (380, 0.0888, 20.0, 0.6945, 20.0), "PASS PASS PASS"),
    "G2": ([(0, 0), (0.02, 420), (0.1, 140), (0.6, 140), (0.7, 20), (6, 20)],
           (420, 0.0900, 20.0, 0.6946, 20.0), "FAIL FAIL PASS"),
    "G3": ([(0, 0), (0.02, 390), (0.05, 200), (0.8, 200), (0.9, 20), (6, 20)],
           (390, 0.8201, 200.0, 0.8959, 20.0), "FAIL FAIL FAIL"),
    "G4": ([(0, 0), (0.02, 300), (0.2, 120), (5.5, 60), (6, 60)],
           (300, 0.1600, 113.8, 5.9983, 65.7), "FAIL PASS FAIL"),
    "G5": ([(0, 0), (0.03, 1300), (0.15, 140), (0.5, 0), (6, 0)],
           (1300, 0.1455, 0.0, 0.4369, 0.0), "FAIL FAIL PASS"),
}  # fmt: skip

FIGURES: Final = ("peak_n", "above_static_s", "static_n", "above_residual_s", "late_n")
"""In the sheet's order: Fd, Td, Fs, Tt, F5."""


def of_curve(curve: str, rules: RuleSet) -> Reading:
    """A golden curve evaluated."""
    times, forces = zip(*GOLDEN[curve][0], strict=True)
    return evaluate(times, forces, rules)


def golden_checks() -> Iterator[Check]:
    """Five figures and three verdicts of each curve, within 0.5 N and 1 ms (facts 9.1)."""
    for curve, (_, figures, verdicts) in GOLDEN.items():
        for name, figure in zip(FIGURES, figures, strict=True):
            most = within(0.5 if name.endswith("_n") else 0.001)
            yield Check(
                curve, name, lambda _, c=curve, n=name: getattr(of_curve(c, CRUSH), n), figure, most, "facts 9.1"
            )
        for rules, verdict in zip((CRUSH, CRUSH_80, FREE_IMPACT), verdicts.split(), strict=True):
            yield Check(
                curve, rules.name, lambda _, c=curve, r=rules: word(of_curve(c, r), r), verdict, exact, "facts 9.1"
            )


CHECKS: Final = [
    *LEAF_CHECKS,
    *IMPACT_CHECKS,
    *WIND_CHECKS,
    *HINGE_CHECKS,
    *GEOMETRY_CHECKS,
    *MOTOR_CHECKS,
    *VERDICT_CHECKS,
    *golden_checks(),
]

NUMBERS: Final = [
    *(f"C{number:02d}" for number in range(1, 38)),
    *(f"C{number:02d}" for number in range(45, 54)),
    "C59",
    *(f"G{number}" for number in range(1, 6)),
]
"""What the table must hold: the sheet's numbers of mechanics, impact, wind, geometry, motor, duty and curves."""


@pytest.mark.parametrize("check", CHECKS, ids=[f"{one.number} {one.what}" for one in CHECKS])
def test_value(rig: Any, check: Check) -> None:
    """The product gives the sheet's value within the sheet's tolerance."""
    assert check.read(rig) == check.allowed(check.expected), f"{check.number} {check.what}; source: {check.source}"


def test_every_number_is_there() -> None:
    """52 numbers, each with one row or more, each row with a source, and no number that the list does not have."""
    assert len(NUMBERS) == 52
    assert sorted({one.number for one in CHECKS}) == sorted(NUMBERS)
    assert len({(one.number, one.what) for one in CHECKS}) == len(CHECKS), "a row stands there twice"
    assert all(one.source for one in CHECKS)


@pytest.mark.parametrize(
    "check", [one for one in CHECKS if isinstance(one.expected, float) and one.expected], ids=lambda one: one.what
)
def test_the_table_can_fail(check: Check) -> None:
    """A value a quarter off its expectation is outside every tolerance of the table."""
    assert check.expected * 1.25 != check.allowed(check.expected)
    assert check.expected / 1.25 != check.allowed(check.expected)
