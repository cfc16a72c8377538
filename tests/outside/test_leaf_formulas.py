"""Leaf, hinge and impact formulas against the fact sheet's arithmetic (rows C01 to C17, C27 to C29)."""

from __future__ import annotations

import math

import pytest

from sim.mechanics import leaf, wind

RESULTS = [
    # (what, computed, expected, relative tolerance): source facts section 9, the row named
    ("C01 inertia of 120 kg, 2.0 m", leaf.inertia(120, 2.0), 160.00, 0.005),
    ("C02 inertia with 0.10 m hinge offset", leaf.inertia(120, 2.0, hinge_offset_m=0.10), 185.20, 0.005),
    ("C03 inertia with 10 kg at 1.9 m", leaf.inertia(120, 2.0) + leaf.point_inertia(10, 1.9), 196.10, 0.005),
    ("C04 effective mass at the tip", leaf.effective_mass(160, 2.0), 40.0, 0.005),
    ("C04 effective mass at 0.5 m", leaf.effective_mass(160, 0.5), 640.0, 0.005),
    ("C05 kinetic energy, tip 0.2 m/s", leaf.kinetic_energy(40, 0.2), 0.8, 0.01),
    ("C06 mean tip speed, 90° in 15 s", leaf.mean_tip_speed(2.0, math.pi / 2, 15.0), 0.2094, 0.01),
    ("C07 trapezoid", leaf.swing_time(math.pi / 2, 0.125, 1.0, math.radians(15), 0.4), 16.388, 0.01),
    ("C08 impact force", leaf.impact_force(0.2, 40, 5e5), 894.43, 0.01),
    ("C09 time to peak", leaf.impact_time(40, 5e5), 0.014050, 0.02),
    ("C10 speed for 400 N", leaf.impact_speed(400, 40, 5e5), 0.0894, 0.01),
    ("C11 speed for 1400 N", leaf.impact_speed(1400, 40, 5e5), 0.3130, 0.01),
    ("C12 with an edge of 20 N/mm", leaf.impact_force(0.2, 40, leaf.series_stiffness(5e5, 2e4)), 175.41, 0.01),
    ("C13 with 150 N of thrust", leaf.impact_force(0.1, 40, 5e5, thrust_n=150), 621.70, 0.01),
    ("C15 at 450 N/mm", leaf.impact_force(0.2, 40, 4.5e5) / leaf.impact_force(0.2, 40, 5e5), 0.9487, 0.005),
    ("C15 at 550 N/mm", leaf.impact_force(0.2, 40, 5.5e5) / leaf.impact_force(0.2, 40, 5e5), 1.0488, 0.005),
    ("C16 static at 0.5 m", leaf.force_at(300, 0.5), 600.0, 0.005),
    ("C16 static at 0.1 m", leaf.force_at(300, 0.1), 3000.0, 0.005),
    ("C17 overtravel", leaf.overtravel(0.2, 0.08, 0.5), 0.0560, 0.02),
    ("C23 wind on a solid leaf at 15 m/s", wind.wind_torque(15, 2.0, 1.8), 607.50, 0.01),
    ("C24 the same at 0.4 solidity", wind.wind_torque(15, 2.0, 1.8, 0.4), 243.00, 0.01),
    ("C27 lean of 2°", leaf.tilt_torque(120, 2.0, math.radians(2), math.pi / 2), 41.084, 0.01),
    ("C28 rising hinge", leaf.rising_hinge_torque(120, 0.08, math.pi / 2), 59.954, 0.01),
    ("C29 hinge gap shut", leaf.hinge_gap(0.07, 0.06, 0.05, 0.0), 0.130, 0.0005),
    ("C29 hinge gap at 90°", leaf.hinge_gap(0.07, 0.06, 0.05, math.pi / 2), 0.020, 0.0005),
]


@pytest.mark.parametrize(("computed", "expected", "within"), [r[1:] for r in RESULTS], ids=[r[0] for r in RESULTS])
def test_formula(computed: float, expected: float, within: float) -> None:
    """Each formula gives the fact sheet's number within its tolerance."""
    assert computed == pytest.approx(expected, rel=within)


def test_inertia_with_thickness_by_integration() -> None:
    """m·(w²/3 + t²/12), facts 6.1, against a sum over small pieces of the rectangle (an independent way)."""
    width, thick, mass, count = 2.0, 0.06, 120.0, 400
    piece = mass / count**2
    total = sum(
        piece * ((width * (i + 0.5) / count) ** 2 + (thick * ((j + 0.5) / count - 0.5)) ** 2)
        for i in range(count)
        for j in range(count)
    )
    assert leaf.inertia(mass, width, thick) == pytest.approx(total, rel=1e-5)
