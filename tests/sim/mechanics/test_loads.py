"""What turns a standing leaf besides its drive, and the weather in words."""

from __future__ import annotations

import math
from typing import Any, Final

import pytest

from sim.mechanics.hanging import inertia, weather_words
from sim.mechanics.loads import loads_on
from sim.mechanics.plant import Plant, Reason
from sim.site.models import Drives, Leaf, Leaves, Site, Underground, Weather
from sim.units import Us

WINDY: Final = Weather(temperature_c=20.0, wind_m_s=12.0, wind_from_deg=180.0)
"""From outside: it blows a shut leaf open where leaves open to the inside."""


OUTWARDS: Final[dict[str, Any]] = {
    "opens_towards": "outside",
    "drives": Drives(active=Underground(), inactive=Underground()),
    "guards": {"outer_beam": "not fitted"},
}


def site(weather: Weather | None = None, outwards: bool = False, **leaf: Any) -> Site:
    return Site.model_validate(
        {
            "name": "Quince Lane, invented",
            **(OUTWARDS if outwards else {}),
            "leaves": Leaves(active=Leaf(**leaf)),
            "weather": weather or Weather(),
        }
    )


def test_a_leaning_hinge_line_turns_a_leaf_to_its_low_point() -> None:
    """Facts 6.3 (textbook): m·g·w/2·sin τ·sin of the way from the low point; 120 kg, 2 m, 2° lean, 60° away."""
    hand = 120.0 * 9.81 * 1.0 * math.sin(math.radians(2.0))
    leaning = site(hinge_tilt_deg=2.0)
    assert loads_on(leaning, 0, math.radians(60.0)).slope == pytest.approx(-hand * math.sin(math.radians(60.0)))
    across = site(hinge_tilt_deg=2.0, hinge_tilt_towards_deg=90.0)
    assert loads_on(across, 0, 0.0).slope == pytest.approx(hand)


def test_rising_hinges_and_wind_by_hand() -> None:
    """Textbook: m·g·rise over 90°, always shutting; ½·ρ·v²·cf·A·solidity at half the width, to the side it blows."""
    assert loads_on(site(hinge_rise_m=0.05), 0, 0.3).rise == pytest.approx(-120.0 * 9.81 * 0.05 / (math.pi / 2.0))
    hand = 0.5 * 1.25 * 12.0**2 * 1.2 * 2.0 * 1.8 * 0.4 * 1.0
    assert loads_on(site(WINDY), 0, 0.0).wind == pytest.approx(hand)
    assert loads_on(site(WINDY, outwards=True), 0, 0.0).wind == pytest.approx(-hand)
    assert loads_on(site(), 0, 0.0).hinges == 5.2


@pytest.mark.parametrize("degrees", [5.0, 40.0, 85.0])
def test_they_are_what_speeds_a_released_leaf_up(degrees: float) -> None:
    """Newton: all torques over the inertia, less dry friction, make the speed after 50 ms, within 1 %."""
    where = site(WINDY, hinge_tilt_deg=1.5, hinge_tilt_towards_deg=30.0, hinge_rise_m=0.02, hinge_viscous_n_m_s=0.0)
    plant = Plant(where)
    plant.release(0)
    plant.place_leaf(1, 1.5)
    plant.place_leaf(0, math.radians(degrees))
    while plant.run_to(Us(50_000)).reason is not Reason.REACHED:
        pass
    loads = loads_on(where, 0, math.radians(degrees))
    torque = loads.slope + loads.rise + loads.wind
    left = math.copysign(max(0.0, abs(torque) - loads.hinges), torque)
    assert left != 0.0
    assert plant.speed(0) == pytest.approx(0.05 * left / inertia(where.leaves.active), rel=0.01)


@pytest.mark.parametrize(
    ("weather", "words"),
    [
        (Weather(), "15 °C, no wind"),
        (WINDY, "20 °C, wind 12.0 m/s from outside, strong breeze"),
        (
            Weather(temperature_c=-3.5, wind_m_s=4.0, wind_from_deg=50.0, gust_intensity=0.2),
            "-3.5 °C, wind 4.0 m/s from between inside and the inactive side, gentle breeze, gust intensity 20 %",
        ),
        (
            Weather(wind_class="class 2", wind_from_deg=359.0),
            "15 °C, wind of class 2, 26.8 m/s from inside, storm",
        ),
        (
            Weather(wind_m_s=1.0, wind_from_deg=315.0),
            "15 °C, wind 1.0 m/s from between the active side and inside, light air",
        ),
    ],
)
def test_the_weather_in_words(weather: Weather, words: str) -> None:
    """The mean that blows, class or not (√(2·450/1.25) = 26.8 m/s), its side, its name on the Beaufort scale."""
    assert weather_words(weather) == words
