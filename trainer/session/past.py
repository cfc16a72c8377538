"""What an earlier instant was like where the recording of the leaves doesn't say it: weather and guards of then."""

from __future__ import annotations

from functools import lru_cache
from math import ceil
from typing import TYPE_CHECKING

from sim.mechanics import gust
from sim.mechanics.hanging import mean_wind
from sim.units import SECOND, Us
from trainer.session.yard_view import WeatherView

if TYPE_CHECKING:
    from sim.world.world import World


def weather_at(world: World, at: Us) -> WeatherView:
    """The weather at an instant [µs of the world], gusts and all, worked out from what changed and from the seed."""
    found = world.designed.weather
    told = WeatherView(0.0, mean_wind(found), found.wind_from_deg, found.gust_intensity, found.temperature_c)
    for event in world.events:
        if event.at > at:
            break
        if event.kind == "weather":
            told = WeatherView(0.0, *(float(event.data[name]) for name in _TOLD))
    gusty = _gust(world, at) if told.mean_m_s > 0.0 and told.gust_intensity > 0.0 else 0.0
    wind_m_s = abs(told.mean_m_s * (1.0 + told.gust_intensity * gusty))
    return WeatherView(wind_m_s, told.mean_m_s, told.from_deg, told.gust_intensity, told.temperature_c)


_TOLD = ("wind_m_s", "from_deg", "gust_intensity", "temperature_c")
"""What an event of the weather says, in the order of the view after the wind of the instant."""


def _gust(world: World, at: Us) -> float:
    """The gust of an instant [deviations]: straight between two knots, each a function of the seed and its number."""
    place = at / (gust.KNOT_S * SECOND)
    before = ceil(place) - 1
    first, second = _knots(world.seed, world.designed.weather.gust_time_s, before)
    return first + (second - first) * (place - before)


@lru_cache(maxsize=64)
def _knots(seed: int, gust_time_s: float, before: int) -> tuple[float, float]:
    """Two knots beside each other; kept, since one instant is looked at for many frames."""
    first, second = gust.knots(seed, gust_time_s, before, 2)
    return float(first), float(second)


def tripped_at(world: World, guard: str, at: Us) -> bool:
    """Whether a guard's device was tripped at an instant [µs of the world]: each change of it was told."""
    told = [event for event in world.events if event.kind == "guard" and event.data["guard"] == guard]
    if not told:
        return world.people.is_tripped(guard)
    before = [event for event in told if event.at <= at]
    return bool(before[-1].data["tripped"]) if before else not told[0].data["tripped"]
