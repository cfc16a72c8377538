"""Wind against published tables, and against itself where two ways lead to one answer.

The fact sheet's numbered values of wind stand in the table of check values.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.mechanics import wind
from sim.site.models import Weather

# speed [m/s] and pressure [kN/m²] as a national annex to EN 1991-1-4 publishes them (facts 4, read in a public text)
ZONES = [(22.5, 0.32), (25.0, 0.39), (27.5, 0.47), (30.0, 0.56)]

# number, lowest and highest mean speed [m/s] (facts 4, two copies of the published table)
BEAUFORT = [
    (0, 0.0, 0.2), (1, 0.3, 1.5), (2, 1.6, 3.3), (3, 3.4, 5.4), (4, 5.5, 7.9), (5, 8.0, 10.7), (6, 10.8, 13.8),
    (7, 13.9, 17.1), (8, 17.2, 20.7), (9, 20.8, 24.4), (10, 24.5, 28.4), (11, 28.5, 32.6), (12, 32.7, 60.0),
]  # fmt: skip


@pytest.mark.parametrize(("speed", "published"), ZONES)
def test_pressure_as_published(speed: float, published: float) -> None:
    """Half of 1.25 times the square of the speed gives every zone's pressure, to the two digits printed."""
    assert wind.velocity_pressure(speed) / 1000.0 == pytest.approx(published, abs=0.005)


def test_the_two_conventions_differ_by_two_per_cent() -> None:
    """0.625/0.613 = 1.0196 (facts 4): which one is used has to be said."""
    ratio = wind.velocity_pressure(10.0) / wind.velocity_pressure(10.0, wind.ASCE_DENSITY)
    assert ratio == pytest.approx(1.0196, abs=0.00005)


@pytest.mark.parametrize(("number", "least", "most"), BEAUFORT)
def test_every_row_of_the_scale(number: int, least: float, most: float) -> None:
    """Both limits of a row have its number, and the fit lies in the row (facts 4; numbers 0 and 12 have no fit)."""
    assert wind.beaufort(least) == wind.beaufort(most) == number
    assert wind.beaufort_words(least) == wind.BEAUFORT_WORDS[number]
    if 1 <= number <= 11:
        assert least <= wind.beaufort_speed(number) <= most


@pytest.mark.parametrize(("number", "knots_from", "knots_to"), [(7, 28, 33), (8, 34, 40)])
def test_the_scale_in_knots(number: int, knots_from: int, knots_to: int) -> None:
    """Rows published in whole knots, 0.514444 m/s each (facts 4): a knot inside the row has its number."""
    for speed in range(knots_from, knots_to + 1):
        assert wind.beaufort(speed * 1852 / 3600) == number


def test_words_one_would_say() -> None:
    """The scale's own words (from memory of the World Meteorological Organization's table)."""
    assert len(wind.BEAUFORT_WORDS) == len(wind.BEAUFORT_FROM) == 13
    assert [wind.beaufort_words(speed) for speed in (0.0, 9.0, 18.0, 40.0)] == [
        "calm",
        "fresh breeze",
        "gale",
        "hurricane",
    ]


def test_no_wind_below_none() -> None:
    """A negative or unknown speed has no number, a negative pressure no speed."""
    for speed in (-0.1, math.nan):
        with pytest.raises(ValueError, match="0 m/s or more"):
            wind.beaufort(speed)
    with pytest.raises(ValueError, match="below 0"):
        wind.speed_of_pressure(-1.0)


@pytest.mark.parametrize(("number", "speed"), [(1, 21.9), (2, 26.8), (3, 33.5), (4, 40.0)])
def test_speed_of_a_wind_class(number: int, speed: float) -> None:
    """Equivalent mean speeds of the classes, to the digit that facts 4 print (pressures from memory of EN 12424)."""
    assert wind.class_speed(number) == pytest.approx(speed, abs=0.05)


def test_a_solid_leaf_that_stands_free_bears_less_wind() -> None:
    """With the coefficient of a free-standing leaf the pressure of a class is there at a lower speed: by √1.2."""
    ratio = wind.class_speed(2) / wind.class_speed(2, wind.FORCE_COEFFICIENT)
    assert ratio == pytest.approx(math.sqrt(1.2), rel=1e-12)


def test_classes_without_a_pressure_of_their_own() -> None:
    """Class 0 promises nothing, class 5 states its own value, others do not exist; each says where it is from."""
    assert wind.class_pressure(0) == 0.0
    for number, said in ((5, "states its own"), (6, "no wind class 6"), (-1, "no wind class -1")):
        with pytest.raises(ValueError, match=said):
            wind.class_pressure(number)
    assert [each.number for each in wind.WIND_CLASSES] == [0, 1, 2, 3, 4, 5]
    assert all(each.tag for each in wind.WIND_CLASSES)


@given(st.floats(0.0, 40.0))
def test_speed_and_pressure_undo_each_other(speed: float) -> None:
    """√(2·q/ρ) of ½·ρ·v² is v."""
    assert wind.speed_of_pressure(wind.velocity_pressure(speed)) == pytest.approx(speed, abs=1e-12)


@given(st.floats(1.0, 30.0), st.floats(0.0, 0.35))
def test_peak_pressure_is_a_gust_of_three_and_a_half_deviations(mean: float, intensity: float) -> None:
    """(1 + 3.5·Iv)² = 1 + 7·Iv + 12.25·Iv²: the standard's form leaves out the last term (algebra)."""
    gust = wind.velocity_pressure(wind.gust_speed(mean, intensity, 3.5))
    left_out = 12.25 * intensity * intensity * wind.velocity_pressure(mean)
    assert wind.peak_pressure(mean, intensity) == pytest.approx(gust - left_out, rel=1e-12)


@pytest.mark.parametrize(("speed", "torque", "tip"), [(10.0, 270.0, 135.0), (15.0, 607.5, 303.75)])
def test_the_sanity_example(speed: float, torque: float, tip: float) -> None:
    """Facts 4: a boarded leaf of 2.0 by 1.8 m at 10 m/s takes 270 N·m, 135 N at the tip; at 15 m/s 304 N."""
    assert wind.wind_torque(speed, 2.0, 1.8) == pytest.approx(torque, rel=1e-12)
    assert wind.wind_torque(speed, 2.0, 1.8) / 2.0 == pytest.approx(tip, rel=1e-12)


def test_where_the_load_of_an_offset_leaf_attacks() -> None:
    """The same force further out: 0.1 m of offset on a leaf of 2 m is a tenth more torque (statics)."""
    assert wind.wind_torque(15.0, 2.0, 1.8, 1.0, 0.1) == pytest.approx(1.1 * 607.5, rel=1e-12)


@given(st.floats(-7.0, 7.0))
def test_oblique_wind(angle: float) -> None:
    """sin²α of the square load (facts 4), the way the wind goes: even in size, odd in sign, all of it when square."""
    assert abs(wind.oblique_share(angle)) == pytest.approx(math.sin(angle) ** 2, abs=1e-12)
    assert wind.oblique_share(-angle) == -wind.oblique_share(angle)
    assert wind.oblique_share(math.pi / 2) == 1.0


@pytest.mark.parametrize("from_deg", [0.0, 20.0, 290.0, 310.0, 350.0])
def test_oblique_wind_in_a_run(rig: Any, from_deg: float) -> None:
    """A boarded leaf at 0.5 rad, pressed on the gauge by wind from anywhere inside, by that share, within 1 %.

    The angle between wind and leaf is plane geometry: leaf angle, bearing and a right angle added up.
    """
    weather = Weather(temperature_c=20.0, wind_m_s=15.0, wind_from_deg=from_deg)
    share = wind.oblique_share(0.5 + math.radians(from_deg) + math.pi / 2)
    assert share > 0.05
    expected = share * wind.wind_torque(15.0, 2.0, 1.8)
    assert rig.torque(0.5, weather, solidity=1.0) == pytest.approx(expected, rel=0.01)
