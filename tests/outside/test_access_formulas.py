"""Loops and radio against closed forms, published figures, scipy and shapely. Beside each value: where it is from."""

from __future__ import annotations

import math
import random

import pytest
from scipy.integrate import dblquad
from shapely.affinity import rotate
from shapely.geometry import box as rectangle

from sim.devices import loop as loops
from sim.devices import radio_link
from sim.devices.cabinet import build_cabinet
from sim.site import GUARD_NAMES, PresenceLoop, Receiver, Site

BENCH = PresenceLoop(along_x_m=2.0, along_y_m=1.0, turns=4, feeder_m=15.0)


# -- loops -------------------------------------------------------------------------------------------


def test_resonance_of_a_tuned_circuit() -> None:
    """100 µH with 100 nF: 1/(2π√(LC)) = 50.329 kHz (closed form)."""
    assert loops.resonance_hz(100e-6, 100e-9) == pytest.approx(50_329.0, rel=0.0001)


def test_one_per_cent_less_inductance_is_half_a_per_cent_more_frequency() -> None:
    """1/√0.99 − 1 = 0.5038 % (closed form); the frequency rises when metal comes."""
    before, after = loops.frequency_hz(BENCH, 0.0), loops.frequency_hz(BENCH, 0.01)
    assert (after / before - 1.0) * 100.0 == pytest.approx(0.5038, rel=0.01)


@pytest.mark.parametrize(
    ("along", "across", "turns"), [(2.0, 1.0, 4), (2.0, 1.0, 3), (2.5, 1.5, 3), (3.0, 1.0, 3), (1.5, 1.0, 4)]
)
def test_inductance_is_near_the_rule_of_thumb(along: float, across: float, turns: int) -> None:
    """L [µH] ≈ P [ft]/4·(N² + N), from memory; 2 × 1 m of 4 turns: 98.4 µH. Within 15 %."""
    thumb = 2.0 * (along + across) * 3.28084 / 4.0 * (turns * turns + turns)
    made = loops.loop_h(PresenceLoop(along_x_m=along, along_y_m=across, turns=turns)) * 1e6
    assert made == pytest.approx(thumb, rel=0.15)
    if (along, across, turns) == (2.0, 1.0, 4):
        assert thumb == pytest.approx(98.425, rel=1e-4)


@pytest.mark.parametrize("apart", [0.05, 0.5, 1.0])
def test_two_rectangles_against_neumanns_integral(apart: float) -> None:
    """Mutual inductance µ0/4π ∮∮ dl·dl'/r of two equal rectangles, by scipy; only parallel sides count."""
    one, other = 2.0, 1.0

    def side(length: float, offset: float) -> float:
        slant2 = offset * offset + apart * apart
        found, _ = dblquad(lambda x, y: 1.0 / math.sqrt((x - y) ** 2 + slant2), 0.0, length, 0.0, length, epsabs=1e-6)
        return 1e-7 * float(found)

    whole = 2.0 * (side(one, 0.0) - side(one, other) + side(other, 0.0) - side(other, one))
    assert loops.rectangles_h(one, other, apart) == pytest.approx(whole, rel=1e-4)


def test_a_car_takes_about_five_per_cent() -> None:
    """A 100 µH loop loses about 5 µH under a car (published example, seen in the fact sheet's source on loops)."""
    alone = loops.missing_share(BENCH, [("car", 1.0)]) * (loops.loop_h(BENCH) + loops.feeder_h(BENCH))
    assert alone * 1e6 == pytest.approx(5.0, abs=1.5)


def test_feeder_adds_its_own() -> None:
    """0.72 µH per metre of twisted pair, common practice: 15 m is 10.8 µH."""
    assert loops.feeder_h(BENCH) * 1e6 == pytest.approx(10.8, rel=1e-9)


def test_covered_area_against_shapely() -> None:
    """Three hundred random boxes, turned anyhow, over random loops: the same share as shapely's intersection."""
    rng = random.Random(20)
    for _ in range(300):
        loop = PresenceLoop(
            x_m=rng.uniform(-2, 4),
            y_m=rng.uniform(-2, 6),
            along_x_m=rng.uniform(0.6, 4),
            along_y_m=rng.uniform(0.6, 4),
        )
        x, y, along, across = rng.uniform(-3, 5), rng.uniform(-3, 7), rng.uniform(0.3, 3), rng.uniform(0.3, 5)
        turn = rng.choice((0.0, rng.uniform(-3.2, 3.2)))
        half = (loop.along_x_m / 2, loop.along_y_m / 2)
        ground = rectangle(loop.x_m - half[0], loop.y_m - half[1], loop.x_m + half[0], loop.y_m + half[1])
        above = rectangle(x - along / 2, y - across / 2, x + along / 2, y + across / 2)
        wanted = ground.intersection(rotate(above, turn, use_radians=True)).area / ground.area
        found = loops.covered_share(loop, x, y, (along, across), turn)
        assert found == pytest.approx(wanted, abs=1e-9)


# -- radio -------------------------------------------------------------------------------------------


def test_a_quarter_of_the_wave() -> None:
    """299.792458/433.92/4 = 172.72 mm (closed form, speed of light by definition)."""
    assert radio_link.wavelength_m(433.92) / 4.0 * 1000.0 == pytest.approx(172.72, abs=0.01)


def test_free_space_at_fifty_metres() -> None:
    """59.2 dB at 433.92 MHz: Friis; and ITU-R P.525's own form, 32.4 + 20·log f[MHz] + 20·log d[km]."""
    found = radio_link.free_space_db(50.0, 433.92)
    assert found == pytest.approx(59.2, abs=0.05)
    assert found == pytest.approx(32.4 + 20.0 * math.log10(433.92) + 20.0 * math.log10(0.05), abs=0.06)


def test_flat_ground_takes_over_where_the_textbook_says() -> None:
    """Free space and flat ground meet at 4π·h·h/λ (textbook); from there on twelve decibels a doubling."""
    meets = 4.0 * math.pi * 1.2 * 2.0 / radio_link.wavelength_m(433.92)
    near, far = radio_link.open_field_db(meets * 0.5, 433.92, 2.0), radio_link.open_field_db(meets, 433.92, 2.0)
    twice = radio_link.open_field_db(meets * 2.0, 433.92, 2.0)
    assert far - near == pytest.approx(20.0 * math.log10(2.0), abs=1e-6)
    assert twice - far == pytest.approx(40.0 * math.log10(2.0), abs=1e-6)


def test_a_stub_is_worth_its_length_to_the_fourth() -> None:
    """A wire much shorter than a quarter wave: field times length into a reactance that goes with its inverse, so
    twelve decibels for half of it (textbook, short aerial into a real load)."""
    for length in (8.0, 12.0, 16.0):
        step = radio_link.aerial_db(length, 433.92) - radio_link.aerial_db(length / 2.0, 433.92)
        assert step == pytest.approx(40.0 * math.log10(2.0), abs=0.3)


def test_a_hand_transmitter_reaches_what_the_trade_says() -> None:
    """30 to 100 m in the open field; −60 dBm near by, about −95 with the aerial cut (common practice, no source)."""
    receiver = Receiver()
    assert 30.0 <= radio_link.range_m(-15.0, 1.0, receiver) <= 100.0
    near = radio_link.hand_way(-15.0, 1.0, 3.0, receiver)
    assert near.level_dbm(receiver) == pytest.approx(-60.0, abs=5.0)
    cut = Receiver(aerial_mm=38.0)
    assert near.level_dbm(cut) == pytest.approx(-95.0, abs=5.0)


def test_time_on_the_air() -> None:
    """10 % of an hour is 360 s (closed form); no heartbeat that a site may have sends longer."""
    assert radio_link.most_on_air_s() == pytest.approx(360.0)
    assert radio_link.on_air_s(1.0) <= radio_link.most_on_air_s()


# -- an edge's line ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ohm", "volts"), [(1e-6, 0.0), (4_100.0, 1.10), (8_200.0, 1.65), (16_400.0, 2.20), (1e9, 3.30)]
)
def test_the_divider_of_an_edge(ohm: float, volts: float) -> None:
    """8.2 kΩ pull-up to 3.3 V: 3.3·R/(R + 8200) (closed form), as the board reads it."""
    cabinet = build_cabinet(Site(name="Larch Bank"))
    cabinet.netlist.change("active edge, end resistor", ohm=ohm)
    found = cabinet.guard_volts()[GUARD_NAMES.index("active edge")]
    assert found == pytest.approx(volts, rel=0.02, abs=0.005)
