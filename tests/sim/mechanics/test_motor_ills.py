"""What ails a motor shows where it shows in practice: at its current, its resistance, its speed, its heat."""

from __future__ import annotations

from typing import Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from sim.kernel.network import DriveNetwork
from sim.mechanics import motor as formulas
from sim.mechanics.plant import Plant, Reason
from sim.site.models import Drive, Drives, Motor, Site, Warmth, Weather
from sim.units import Us

KEEPS: Final = Warmth(winding_j_k=1e9, case_j_k=1e9)
"""A winding that stays at 20 °C."""


def free(volts: float = 24.0, loop_ohm: float = 0.0, duty: float = 1.0, **ill: Any) -> Plant:
    """A motor that turns for nothing behind a sheared key, at its steady speed on a stiff supply."""
    drive = Drive(motor=Motor(**{"warmth": KEEPS} | ill))
    plant = Plant(
        Site(
            name="Quince Lane, invented",
            drives=Drives(active=drive, inactive=Drive()),
            weather=Weather(temperature_c=20.0),
        )
    )
    plant.set_network(DriveNetwork((volts, volts), ((0.0, 0.0), (0.0, 0.0)), rth=(loop_ohm, loop_ohm)))
    plant.shear(0)
    plant.command(0, duty, 50.0, limit_a=100.0)
    run(plant, 4.0)
    return plant


def held(**ill: Any) -> Plant:
    """The same motor held against the closed stop."""
    plant = free(**ill)
    plant.mend(0)
    plant.place_leaf(0, 0.0)
    plant.command(0, -1.0, 50.0, limit_a=1000.0)
    run(plant, 5.0)
    return plant


def run(plant: Plant, seconds: float) -> None:
    """Run on, whatever happens on the way."""
    end = Us(plant.now + round(seconds * 1e6))
    while plant.run_to(end).reason is not Reason.REACHED:
        pass


def test_a_sound_motor_runs_free_at_its_no_load_current() -> None:
    """0.7 A and (U − R·I₀)/K at 24 V (facts 5.3), clockwise or not."""
    for duty in (1.0, -1.0):
        plant = free(duty=duty)
        assert plant.motor_current(0) == pytest.approx(duty * 0.7, rel=1e-6)
        assert plant.motor_speed(0) == pytest.approx(duty * (24.0 - 1.2 * 0.7) / 0.05, rel=1e-6)


@pytest.mark.parametrize("brush", [8.0, 30.0, 500.0])
def test_worn_brushes_are_ohms_in_the_loop(brush: float) -> None:
    """Resistance rises by the brushes' (facts 8: 10 Ω and more), the held current falls to U/ΣR, and the free motor
    turns slower by brush·I₀/K; above 24 V/0.7 A it no longer turns at all."""
    plant = free(brush_ohm=brush)
    assert plant.winding_ohm(0) == pytest.approx(1.2 + brush, rel=1e-9)
    expected = (24.0 - (1.2 + brush) * 0.7) / 0.05
    assert plant.motor_speed(0) == pytest.approx(max(0.0, expected), rel=1e-6)
    assert held(brush_ohm=brush).motor_current(0) == pytest.approx(-24.0 / (1.2 + brush), rel=1e-6)


def test_shorted_turns_as_the_sheet_has_them() -> None:
    """Facts 8: with more than a third of the turns shorted an ohmmeter reads below 0.8 Ω and the free motor draws
    more than 3 A, where a sound one has 1.2 Ω and 0.7 A; it is weak as well."""
    plant = free(shorted_share=0.35)
    assert plant.site.drives.active.motor.terminal_ohm < 0.8
    assert plant.motor_current(0) > 3.0
    assert free().motor_current(0) < 1.0
    weak, sound = held(shorted_share=0.35), held()
    per_ampere = weak.site.drives.active.motor.emf_v_s_rad, sound.site.drives.active.motor.emf_v_s_rad
    assert per_ampere[0] < 0.7 * per_ampere[1]
    assert weak.motor_current(0) < sound.motor_current(0), "more amperes (both are negative)"


@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.floats(0.0, 0.8))
def test_shorted_turns_brake_as_the_formula_says(share: float) -> None:
    """Free and steady: K′·I = T₀ + d·ω and U = R′·I + K′·ω with K′ = K·(1 − s), R′ = R·(1 − s), d = s·K²/R: two lines
    that cross (by hand)."""
    plant = free(shorted_share=share)
    constant, ohm = 0.05 * (1.0 - share), 1.2 * (1.0 - share)
    drag, idle = share * 0.05**2 / 1.2, 0.05 * 0.7
    speed = (24.0 - ohm * idle / constant) / (constant + ohm * drag / constant)
    assert formulas.shorted_drag(plant.site.drives.active.motor) == pytest.approx(drag, rel=1e-12)
    assert plant.motor_speed(0) == pytest.approx(max(0.0, speed), rel=1e-6)
    if speed > 0.0:
        assert plant.motor_current(0) == pytest.approx((idle + drag * speed) / constant, rel=1e-6)


def test_a_broken_winding_takes_no_current() -> None:
    """Facts 8: nothing moves and no current flows, driving, braking or turned by hand, though commanded."""
    plant = free(winding_open=True)
    assert (plant.motor_current(0), plant.motor_speed(0), plant.counts(0)) == (0.0, 0.0, 0)
    plant.mend(0)
    plant.command(0, 0.0, brake=True)
    plant.push(0, 100.0)
    run(plant, 1.0)
    assert plant.motor_current(0) == 0.0


@pytest.mark.parametrize("brush", [0.0, 5.0, 5_000.0])
@pytest.mark.parametrize("milliseconds", [5, 12])
def test_a_short_circuit_brakes_by_its_resistance(brush: float, milliseconds: int) -> None:
    """Braked, a free motor slows down by its own current: L·i′ = −R·i − K·ω, J·ω′ = K·i − T₀, and worn brushes brake
    next to nothing; judge: scipy's integrator, within 2 % of the speed it had."""
    plant = plant_at_speed(brush)
    start = plant.motor_current(0), plant.motor_speed(0)
    plant.command(0, 0.0, brake=True)
    run(plant, milliseconds / 1000)

    def rates(_: float, y: list[float]) -> list[float]:
        return [(-(1.2 + brush) * y[0] - 0.05 * y[1]) / 0.001, (0.05 * y[0] - 0.035) / 1.5e-5]

    after = solve_ivp(rates, (0.0, milliseconds / 1000), start, method="LSODA", rtol=1e-8, atol=1e-8).y[1, -1]
    assert plant.motor_speed(0) == pytest.approx(after, abs=0.02 * start[1])
    assert plant.motor_speed(0) < start[1]


def plant_at_speed(brush: float) -> Plant:
    """A free motor with such brushes, at the speed it has where they still let it run."""
    return free(volts=24.0 + 0.7 * brush, brush_ohm=brush)


@settings(max_examples=30, deadline=None, derandomize=True)
@given(st.floats(0.1, 1.0), st.floats(0.0, 2.0), st.floats(12.0, 30.0), st.floats(0.0, 0.5))
def test_power_taken_is_heat_friction_and_drag(duty: float, loop: float, volts: float, share: float) -> None:
    """Steady and free: U·D·I = I²·(R′ + r) + T₀·ω + d·ω² (the electrical balance; nothing is made or lost)."""
    plant = free(volts, loop, duty, shorted_share=share)
    current, speed = plant.motor_current(0), plant.motor_speed(0)
    drag = share * 0.05**2 / 1.2
    taken = volts * duty * current
    assert taken == pytest.approx(
        current**2 * (1.2 * (1.0 - share) + loop) + 0.035 * speed + drag * speed**2, rel=1e-5, abs=1e-6
    )


def test_shorted_turns_heat_their_winding() -> None:
    """Facts 8, hot motor: free for ten seconds, a motor with shorted turns is warmed by the current in its sound
    turns and by what the shorted ones brake, by nothing else: U·I = heat + T₀·ω, within 1 %. A sound one is cool."""
    heats = Warmth(winding_j_k=500.0, case_j_k=1e9, winding_to_case_w_k=0.02)
    rises, watts = [], 0.0
    for share in (0.35, 0.0):
        plant = free(shorted_share=share, warmth=heats)
        before = plant.winding_c(0)
        watts = 24.0 * plant.motor_current(0) - 0.035 * plant.motor_speed(0)
        run(plant, 10.0)
        rises.append(plant.winding_c(0) - before)
        assert rises[-1] == pytest.approx(10.0 * watts / 500.0, rel=0.01)
    assert rises[0] > 50 * rises[1]
