"""Figures of drives and of their faults, against what stands outside: practice and textbooks.

Beside each value stands its source. The motor is parameter set A, engineering values of no product; "common practice"
has no source.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from sim.bench.branching import branched
from sim.bench.fault_readings import Outcome, gate, played
from sim.faults.entries.driving import CLAMP, IN_MOTOR_LEAD, OPEN, meter, read, wait
from sim.faults.entry import Step, step
from sim.mechanics import oil
from sim.mechanics.motor import BARS, brush_share
from sim.site import HydraulicRam, Motor, load_site
from sim.wiring.elements import Resistor
from sim.world.world import World

BENCH = load_site(Path(__file__).parents[2] / "scenarios" / "sites" / "reference_bench.yaml")

SET_A = Motor()

LOOP_OHM = 2 * 25.0 * 13.3 / 1000.0
"""25 m of 1.5 mm² class 5, there and back: 13.3 Ω/km (IEC 60228)."""


@pytest.fixture(scope="module")
def bench() -> World:
    """The reference bench, learned, shut; only ever gone on with in a branch."""
    return gate(BENCH)


def measured(world: World, *steps: Step) -> Outcome:
    """The last of some acts reads."""

    def work() -> Outcome:
        return played(world, steps)

    found: Outcome = branched(work)
    assert found.refused == ""
    return found


def test_clamp_current_of_a_sound_leaf(bench: World) -> None:
    """Run current 2 to 3 A (common practice, reference bench of the fault catalogue)."""
    assert 2.0 <= measured(bench, IN_MOTOR_LEAD, *OPEN, wait(1.0), read(CLAMP)).value <= 3.0


def test_clamp_current_of_a_motor_that_runs_free(bench: World) -> None:
    """About 0.7 A, no-load current of set A (common practice), with the leaf released."""
    free = measured(bench, step("release drive", leaf="active"), IN_MOTOR_LEAD, *OPEN, wait(1.0), read(CLAMP))
    assert free.value == pytest.approx(SET_A.no_load_a, abs=0.1)


def test_volts_at_the_motor_in_the_slow_zone(bench: World) -> None:
    """7 to 12 V on the average in the slow zone (common practice; the sheet's 45 % of some 26.8 V is 12.1 V)."""
    found = measured(
        bench, meter("active leaf motor, plus", "active leaf motor, minus"), *OPEN, wait(15.0), read("multimeter")
    )
    assert 7.0 <= found.value <= 12.2


def test_stall_current_behind_a_welded_relay(bench: World) -> None:
    """U/R with the rotor held (textbook): supply behind 0.12 Ω, winding 1.2 Ω, cable loop by IEC 60228, contacts some
    0.02 Ω. No limit holds it: 27.3/(0.12 + 1.2 + 0.665 + 0.02) = 13.6 A, and less as the winding warms."""

    def work() -> float:
        bench.cabinet.netlist.add(
            Resistor("feed, welded", "board.active output", "active leaf motor.plus", 0.005),
            Resistor("return, welded", "active leaf motor.minus", "board.common", 0.005),
        )
        bench.rewired()
        # the bolt of the lock holds the leaf: nobody has lifted it
        bench.run_to(bench.now + 2_000_000)
        return bench.plant.motor_current(0)

    stalled: Any = branched(work)
    expected = 27.3 / (0.12 + SET_A.resistance_ohm + LOOP_OHM + 0.02)
    assert stalled == pytest.approx(expected, rel=0.06)


def test_a_sound_relay_contact_drops_little(bench: World) -> None:
    """0.2 V at most over a contact that carries 8 A (common practice)."""
    ohm = bench.cabinet.netlist["active opening relay, feed contact"].ohm  # type: ignore[union-attr]
    assert 8.0 * abs(complex(ohm)) < 0.2


def test_brushes_jump_and_sound_ones_do_not() -> None:
    """Ohms at the motor are stable on turning, or jump from bar to bar (common practice): within a quarter to four
    times for worn brushes, each bar always the same."""
    shares = [brush_share(3, "active", 2.0 * math.pi * (bar + 0.5) / BARS) for bar in range(2 * BARS)]
    assert min(shares) >= 0.25
    assert max(shares) <= 4.0
    assert max(shares) / min(shares) > 4.0
    assert shares[:BARS] == shares[BARS:]


def test_air_in_the_oil_moves_nothing() -> None:
    """What a pump draws as air is pressed together (volumetric efficiency, from memory of hydraulics handbooks): a
    fifth of air leaves four fifths of the travel."""
    sound, foamed = (oil.travel_per_angle(HydraulicRam(air_share=share)) for share in (0.0, 0.2))
    assert foamed / sound == pytest.approx(0.8)
    assert sound == pytest.approx(1.2e-6 / (2.0 * math.pi) / 12e-4)


def test_the_rail_at_an_encoder_ten_milliamperes_along_its_cable(bench: World) -> None:
    """5 V less what 10 mA drop in 25 m of 0.5 mm² there and back (39 Ω/km, IEC 60228): 19.5 mV, and the pins'."""
    found = bench.cabinet.volts("active encoder at the leaf, plus", "active encoder at the leaf, minus")
    assert found == pytest.approx(5.0 - 0.01 * 2 * 25.0 * 39.0 / 1000.0, abs=0.05)
