"""Warm motors: two nodes against a closed solution, copper's resistance, and the cut-out that opens and closes."""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any, Final

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import expm

from sim.kernel.network import DriveNetwork
from sim.mechanics import thermal
from sim.mechanics.plant import Plant, Reason, StopReport
from sim.site.drives import Drive, Drives, Underground
from sim.site.models import InductionMotor, Leaf, Leaves, Motor, Site, Warmth, Weather
from sim.units import Us

STIFF: Final = DriveNetwork((24.0, 24.0), ((0.0, 0.0), (0.0, 0.0)))
"""24 V that do not give."""


def exact(warmth: Warmth, seconds: float, watts: float, winding: float, case: float) -> tuple[float, float]:
    """Winding and case over the air after a time under steady heat, by scipy's matrix exponential."""
    g, h = warmth.winding_to_case_w_k, warmth.case_to_air_w_k
    rates = np.array(
        [
            [-g / warmth.winding_j_k, g / warmth.winding_j_k, watts / warmth.winding_j_k],
            [g / warmth.case_j_k, -(g + h) / warmth.case_j_k, 0.0],
            [0.0, 0.0, 0.0],
        ]
    )
    after = expm(rates * seconds) @ np.array([winding, case, 1.0])
    return float(after[0]), float(after[1])


WARMTHS: Final = st.builds(
    Warmth,
    winding_j_k=st.floats(5.0, 5_000.0),
    case_j_k=st.floats(20.0, 50_000.0),
    winding_to_case_w_k=st.floats(0.02, 50.0),
    case_to_air_w_k=st.floats(0.01, 50.0),
)


@settings(max_examples=200, deadline=None, derandomize=True)
@given(WARMTHS, st.floats(0.0, 300.0), st.floats(0.0, 200.0), st.floats(0.0, 100.0))
def test_a_second_is_the_exact_second(warmth: Warmth, watts: float, winding: float, case: float) -> None:
    """What the kernel applies at whole seconds is the matrix exponential of both nodes, within 1e-9 of the greatest
    temperature; outside judge: scipy.linalg.expm."""
    second = thermal.second(warmth)
    a, b, c, d = second.keeps
    told = a * winding + b * case + second.winding_k_j * watts, c * winding + d * case + second.case_k_j * watts
    most = max(winding, case, watts / warmth.winding_j_k, 1.0)
    assert told == pytest.approx(exact(warmth, 1.0, watts, winding, case), abs=1e-9 * most)


@settings(max_examples=50, deadline=None, derandomize=True)
@given(WARMTHS, st.floats(1.0, 300.0))
def test_in_the_end_heat_in_is_heat_out(warmth: Warmth, watts: float) -> None:
    """The steady state is where nothing changes: another second from there leads back there."""
    winding, case = thermal.steady(warmth, watts, 0.0)
    assert exact(warmth, 1.0, watts, winding, case) == pytest.approx((winding, case), rel=1e-9)
    assert case * warmth.case_to_air_w_k == pytest.approx(watts, rel=1e-12), "all heat leaves through the case"


def plant_of(motor: Motor | InductionMotor, seed: int = 0, **more: Any) -> Plant:
    """A gate on this motor, at 20 °C, the inactive leaf out of the way."""
    drive = Drive(motor=motor) if isinstance(motor, Motor) else Underground(motor=motor, gear_ratio=120.0)
    drive = drive.model_copy(update=more)
    leaf = Leaf()
    site = Site(
        name="Quince Lane, invented",
        leaves=Leaves(active=leaf, inactive=leaf),
        drives=Drives(active=drive, inactive=Drive()),
        weather=Weather(temperature_c=20.0),
    )
    plant = Plant(site, seed)
    plant.set_network(STIFF)
    plant.place_leaf(1, 1.3)
    return plant


def run(plant: Plant, seconds: float) -> list[StopReport]:
    """Run on; every stop on the way."""
    end, stops = Us(plant.now + round(seconds * 1e6)), []
    while (stop := plant.run_to(end)).reason is not Reason.REACHED:
        stops.append(stop)
    return stops


def test_a_stalled_motor_warms_as_two_nodes_do() -> None:
    """A motor held against its stop for five minutes: its winding and case follow both equations with the heat of its
    own measured current and resistance, within 0.1 % of their rise; judge: scipy.linalg.expm, second by second."""
    plant = plant_of(Motor(warmth=Warmth(cut_out_opens_c=250.0, cut_out_closes_c=200.0)))
    plant.command(0, -0.3, 50.0, limit_a=100.0)
    winding = case = 0.0
    for second in range(300):
        watts = 0.0
        for _ in range(100):
            run(plant, 0.01)
            watts += plant.motor_current(0) ** 2 * plant.winding_ohm(0) / 100
        winding, case = exact(plant.site.drives.active.motor.warmth, 1.0, watts, winding, case)
        if second >= 5:
            assert plant.winding_c(0) - 20.0 == pytest.approx(winding, rel=1e-3)
            assert plant.case_c(0) - 20.0 == pytest.approx(case, rel=1e-3, abs=0.01)
    assert plant.winding_c(0) > 90.0, "it did warm"


def test_copper_warms_by_its_own_law() -> None:
    """0.393 % for each kelvin from 20 °C (facts 5.1): 1.2 Ω are 1.5773 Ω at 100 °C (1.3144 times, facts 5.3)."""
    plant = plant_of(Motor())
    assert plant.winding_ohm(0) == 1.2
    plant.warm_motor(0, 100.0, 100.0)
    assert plant.winding_ohm(0) == pytest.approx(1.2 * 1.3144, rel=1e-6)
    run(plant, 1.0)
    warm = plant.winding_c(0)
    assert 99.0 < warm < 100.0, "it cools"
    assert plant.winding_ohm(0) == pytest.approx(1.2 * (1.0 + 0.00393 * (warm - 20.0)), rel=1e-12)


@pytest.mark.parametrize(("brush", "shorted"), [(10.0, 0.0), (0.3, 0.4)])
def test_brushes_do_not_warm_as_copper_does(brush: float, shorted: float) -> None:
    """Only the turns follow copper's law: worn brushes keep their ohms, so that a motor of 11.2 Ω with 10 Ω in its
    brushes has 11.577 Ω at 100 °C (by hand)."""
    plant = plant_of(Motor(brush_ohm=brush, shorted_share=shorted))
    plant.warm_motor(0, 100.0, 100.0)
    assert plant.winding_ohm(0) == pytest.approx(1.2 * (1.0 - shorted) * 1.3144 + brush, rel=1e-6)


@pytest.mark.parametrize("air_c", [-20.0, 20.0, 45.0])
def test_a_motor_left_alone_comes_to_the_air(air_c: float) -> None:
    """A warm motor ends exactly at the air's temperature, and takes hours for it."""
    plant = plant_of(Motor())
    plant.set_temperature(air_c)
    plant.warm_motor(0, 110.0, 80.0)
    run(plant, 3600.0)
    after_an_hour = exact(Warmth(), 3600.0, 0.0, 110.0 - air_c, 80.0 - air_c)
    assert plant.winding_c(0) - air_c == pytest.approx(after_an_hour[0], rel=1e-6)
    assert plant.case_c(0) - air_c == pytest.approx(after_an_hour[1], rel=1e-6)
    run(plant, 200_000.0)
    assert (plant.winding_c(0), plant.case_c(0)) == (air_c, air_c)


# -- the cut-out --------------------------------------------------------------------------------------------------


HOT: Final = Motor(warmth=Warmth(winding_j_k=20.0, case_j_k=60.0, winding_to_case_w_k=1.0, case_to_air_w_k=1.0))
"""A small motor that warms within a minute: the cut-out opens at 130 °C and closes at 90 °C."""


@pytest.mark.parametrize("motor", [HOT, InductionMotor(warmth=HOT.warmth, drag_n_m=0.0)], ids=["dc", "mains"])
def test_the_cut_out_opens_hot_and_closes_by_itself(motor: Motor | InductionMotor) -> None:
    """Held and commanded all the while: at 130 °C the cut-out opens and current stops; cooled to 90 °C it closes and
    current flows again. Both are told as events with the leaf's name, at whole seconds (facts 8)."""
    plant = plant_of(motor)
    plant.set_network(DriveNetwork((24.0, 24.0), ((0.0, 0.0), (0.0, 0.0)), mains=(230.0, 0.0)))
    plant.command(0, -1.0, 50.0, limit_a=100.0)
    told: list[tuple[str, float, float]] = []
    flows = abs(plant.motor_current(0))
    while len(told) < 4 and plant.now < 900_000_000:
        stop = plant.run_to(Us(plant.now + 1_000_000))
        if stop.reason is Reason.CONTACT:
            assert plant.now % 1_000_000 == 0
            told.append((stop.culprit, plant.winding_c(0), flows))
            is_open = plant.cut_out_open(0)
            run(plant, 0.01)
            assert (plant.motor_current(0) == 0.0) is is_open
        flows = abs(plant.motor_current(0))
    opened, closed = "cut-out of the active leaf's motor opened", "cut-out of the active leaf's motor closed"
    assert [what for what, _, _ in told] == [opened, closed, opened, closed]
    for what, celsius, before in told:
        warm = what == opened
        assert 130.0 <= celsius < 145.0 if warm else 75.0 < celsius <= 90.0
        assert (before > 1.0) is warm, "current flowed before it opened, and none before it closed"


def test_the_cut_out_of_one_leaf_leaves_the_other_alone() -> None:
    """The inactive leaf's motor runs on while the active one's cut-out is open."""
    plant = plant_of(HOT)
    plant.warm_motor(0, 135.0, 100.0)
    assert [stop.culprit for stop in run(plant, 1.0)] == ["cut-out of the active leaf's motor opened"]
    for leaf in (0, 1):
        plant.command(leaf, -0.5)
    run(plant, 2.0)
    assert plant.motor_current(0) == 0.0
    assert plant.motor_current(1) < -0.5
    assert (plant.cut_out_open(0), plant.cut_out_open(1)) == (True, False)


Slices = Callable[[], int]


@pytest.mark.parametrize("seed", range(4))
def test_a_cut_out_that_closes_during_rest_leaves_no_trace_of_slicing(seed: int) -> None:
    """Two minutes in one go, and in slices of any length on the grid or off it: the cut-out opens while the motor is
    held, closes during the rest that is skipped with the motor still commanded, and every bit is the same."""
    length = random.Random(seed)
    span = [(1, 3_000), (700, 90_000), (9_000, 2_500_000), (999_000, 1_001_000)][seed]

    def played(slices: Slices) -> tuple[bytes, list[str]]:
        plant = plant_of(HOT)
        plant.command(0, -0.9, 50.0, limit_a=12.0)
        told = []
        while plant.now < 120_000_000:
            stop = plant.run_to(Us(min(120_000_000, plant.now + slices())))
            if stop.reason is Reason.CONTACT:
                told.append(f"{plant.now}: {stop.culprit}")
        return plant.keyframe(), told

    in_one = played(lambda: 10**9)
    assert len(in_one[1]) >= 2, in_one[1]
    assert "closed" in in_one[1][1]
    assert played(lambda: length.randint(*span)) == in_one
