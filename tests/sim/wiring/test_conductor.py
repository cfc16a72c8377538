"""Copper by section, kind and temperature."""

from __future__ import annotations

import pytest

from sim.wiring.conductor import OHM_PER_KM, core_ohm, warmed


def loop(length_m: float, section: float, kind: str = "stranded", at: float = 20.0) -> float:
    """There and back [Ω]."""
    return 2.0 * core_ohm(length_m, section, kind, at)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("section", "solid", "stranded"),
    [
        (0.5, 36.0, 39.0),
        (0.75, 24.5, 26.0),
        (1.0, 18.1, 19.5),
        (1.5, 12.1, 13.3),
        (2.5, 7.41, 7.98),
        (4.0, 4.61, 4.95),
        (6.0, 3.08, 3.30),
    ],
)
def test_a_kilometre_at_twenty_degrees(section: float, solid: float, stranded: float) -> None:
    """Maximum resistance of a core [Ω/km]: IEC 60228, classes 1 and 5 (facts 5.1, S25)."""
    assert core_ohm(1000.0, section, "solid", 20.0) == pytest.approx(solid, rel=1e-12)
    assert core_ohm(1000.0, section, "stranded", 20.0) == pytest.approx(stranded, rel=1e-12)


def test_loop_and_drop() -> None:
    """25 m of 1.5 mm² class 5: 0.6650 Ω (facts C38), 3.325 V at 5 A (C39); of 2.5 mm² 1.995 V (C40)."""
    assert loop(25.0, 1.5) == pytest.approx(0.6650, rel=0.005)
    assert 5.0 * loop(25.0, 1.5) == pytest.approx(3.325, rel=0.01)
    assert 5.0 * loop(25.0, 2.5) == pytest.approx(1.995, rel=0.01)


def test_worked_drops_of_every_section() -> None:
    """24 V, 25 m, 5 A, class 5: 6.50, 4.88, 3.33, 2.00, 1.24 V (facts 5.1, computed there)."""
    drops = [5.0 * loop(25.0, section) for section in (0.75, 1.0, 1.5, 2.5, 4.0)]
    assert drops == pytest.approx([6.50, 4.88, 3.33, 2.00, 1.24], abs=0.006)


def test_warm_copper() -> None:
    """Factor 1.157 at 60 °C (facts C41); equal within 0.1 % to the form 254.5/(234.5 + θ) of IEC 60228 (5.1)."""
    assert warmed(1.0, 60.0) == pytest.approx(1.157, rel=0.002)
    assert warmed(1.0, 60.0) == pytest.approx((234.5 + 60.0) / 254.5, rel=1e-3)
    assert warmed(1.0, 100.0) == pytest.approx(1.3144, rel=1e-6)  # facts 5.3, hot winding


def test_millivolts_per_ampere_and_metre() -> None:
    """1.5 mm² class 1 at 70 °C: 28.955 mV/A/m (facts C43); 25 m at 5 A by the tabulated 29: 3.625 V (C42)."""
    assert 1000.0 * loop(1.0, 1.5, "solid", 70.0) == pytest.approx(28.955, rel=0.01)
    assert 5.0 * loop(25.0, 1.5, "solid", 70.0) == pytest.approx(3.625, rel=0.01)


@pytest.mark.parametrize(
    ("at", "tabulated"),
    [
        (70.0, {1.0: 44.0, 1.5: 29.0, 2.5: 18.0, 4.0: 11.0, 6.0: 7.3}),
        (90.0, {1.0: 46.0, 1.5: 31.0, 2.5: 19.0, 4.0: 12.0, 6.0: 7.9}),
    ],
)
def test_tabulated_drops_follow_from_the_conductor(at: float, tabulated: dict[float, float]) -> None:
    """BS 7671 mV/A/m for 70 and 90 °C cable (facts 5.1, S26) follow within 2 % of a figure printed to two digits."""
    for section, printed in tabulated.items():
        assert 1000.0 * loop(1.0, section, "solid", at) == pytest.approx(printed, rel=0.02 + 0.005)


def test_mains_limit() -> None:
    """5 % of 230 V is 11.5 V (facts C44): 40 m of 1.5 mm² at 3 A loses 1.5 % only (facts 5.1, worked example)."""
    drop = 3.0 * loop(40.0, 1.5, "solid", 70.0)
    assert drop == pytest.approx(3.48, rel=0.01)
    assert drop < 0.05 * 230.0 == 11.5


def test_unlisted_sections_are_refused() -> None:
    """A section nobody makes is named, with the listed ones."""
    with pytest.raises(ValueError, match=r"1\.3 mm².*1\.5"):
        core_ohm(1.0, 1.3, "solid", 20.0)
    assert set(OHM_PER_KM["solid"]) == set(OHM_PER_KM["stranded"])
