"""The weather changes while a gate stands: wind, gusts and air are the plant's at once, and can be put back."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from sim.errors import Refused
from sim.kernel import layout as at
from sim.mechanics.leaf import grease_factor
from sim.site import load_site
from sim.units import SECOND
from sim.world.meddling import Meddling, check, meddle, reverse
from sim.world.world import World

SITE = load_site(Path(__file__).parents[3] / "scenarios" / "sites" / "orchard_row.yaml")


def gate() -> World:
    return World(SITE, seed=5)


def change(world: World, **values: object) -> Meddling:
    """Change the weather; answers what would put it back."""
    wanted = Meddling("weather", values=values)  # type: ignore[arg-type]
    before = reverse(world, wanted)
    check(world, wanted)
    meddle(world, wanted)
    return before


def viscous(world: World) -> float:
    return float(world.plant._block(0)[at.HINGE_VISCOUS])


def test_wind_and_air_are_the_plants_at_once() -> None:
    """The wind of this instant is the new mean, grease follows exp(−k·(T − 20)) (common practice, no source), and
    both are told in figures and words."""
    world = gate()
    change(world, wind_m_s=12.0, wind_from_deg=180.0, temperature_c=-10.0)
    assert world.plant.wind_m_s() == pytest.approx(12.0)
    model = SITE.leaves.active
    assert viscous(world) == pytest.approx(model.hinge_viscous_n_m_s * grease_factor(-10.0, model.grease_per_k))
    told = world.events[-1]
    assert told.kind == "weather"
    assert told.text == "wind 12.0 m/s, strong breeze, air -10 °C"


def test_gusts_blow_from_then_on() -> None:
    """A steady wind stays what it is; with an intensity of 0.3 its deviation is about that share of the mean."""
    world = gate()
    change(world, wind_m_s=10.0)

    def heard(seconds: int) -> np.ndarray:
        speeds = []
        for _ in range(5 * seconds):
            world.run_to(world.now + SECOND // 5)
            speeds.append(world.plant.wind_m_s())
        return np.array(speeds)

    assert np.ptp(heard(5)) < 1e-9
    change(world, gust_intensity=0.3)
    speeds = heard(300)
    assert speeds.mean() == pytest.approx(10.0, rel=0.1)
    assert speeds.std() == pytest.approx(3.0, rel=0.2)


def test_put_back_is_as_it_was() -> None:
    """The reverse of a change brings the same plant back, whatever of the weather was named."""
    world = gate()
    before = world.plant.physical()
    back = change(world, wind_m_s=14.0, gust_intensity=0.25, temperature_c=-15.0, wind_from_deg=90.0)
    assert world.plant.physical() != before
    meddle(world, back)
    assert world.plant.physical() == before
    assert world.weather == SITE.weather


def test_a_speed_of_its_own_ends_a_wind_by_class() -> None:
    """Class 2 of EN 12424 is 450 Pa (from memory), √(2·450/1.25) = 26.8 m/s; then a named speed counts again."""
    world = gate()
    change(world, wind_class="class 2")
    assert world.plant.wind_m_s() == pytest.approx(26.83, abs=0.01)
    back = change(world, wind_m_s=3.0)
    assert world.plant.wind_m_s() == pytest.approx(3.0)
    meddle(world, back)
    assert world.plant.wind_m_s() == pytest.approx(26.83, abs=0.01)


@pytest.mark.parametrize(
    ("values", "why"),
    [
        ({"wind_m_s": 90.0}, "40"),
        ({"wind_m_s": "gale"}, "number"),
        ({"gust_time_s": 3.0}, "can change: wind_m_s"),
        ({}, "read nothing"),
    ],
)
def test_weather_there_can_not_be_is_refused(values: dict[str, object], why: str) -> None:
    """In words, and nothing changes."""
    world = gate()
    with pytest.raises(Refused, match=why):
        check(world, Meddling("weather", values=values))  # type: ignore[arg-type]
    assert world.weather == SITE.weather
