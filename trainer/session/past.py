"""What an earlier instant was like where the recording of the leaves doesn't say it: weather and guards, who was in
the yard, what was switched, plugged and clamped on.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from math import ceil
from typing import TYPE_CHECKING

from sim.mechanics import gust
from sim.mechanics.hanging import mean_wind
from sim.units import SECOND, Us
from trainer.session.course import Course
from trainer.session.sight import Handled, Supply, body_views, handled_of, standing_of, supply_of
from trainer.session.wiring import WiringView
from trainer.session.yard_view import BodyView, WeatherView

if TYPE_CHECKING:
    from sim.world.world import World


class Past:
    """Everything that the world told and everything one could see, sorted once as it came in, so that a frame which
    asks for an instant finds it.

    Made with a world before anything is done in it: when a session begins, and when it goes on from earlier.
    """

    def __init__(self, world: World) -> None:
        self._world = world
        self._read = 0
        """How many of the world's events are sorted in."""
        found = world.designed.weather
        self._weather = Course(
            WeatherView(0.0, mean_wind(found), found.wind_from_deg, found.gust_intensity, found.temperature_c)
        )
        self._guards: dict[str, Course[bool]] = {}
        self._alarms: tuple[tuple[Us, str], ...] = ()
        self._answers: dict[str, str] = {}
        self._supply = Course(supply_of(world))
        self._handled = Course(handled_of(world))
        self._yard = Course(standing_of(world))
        self._drawn: dict[WiringView, WiringView] = {}
        """Every wiring there was, each once: plugs go out and in again."""
        self._held: dict[Handled, Handled] = {}
        """Everything hands had put in or taken out at some time, each once: most of it they do again."""
        world.lookers.append(self._look)
        world.host.changed.append(self._glance)

    def _glance(self) -> None:
        """Contacts or the controller's outputs changed."""
        self._supply.put(int(self._world.now), supply_of(self._world))

    def _look(self) -> None:
        """Hands did something, or somebody set out or stood still."""
        self._glance()
        now, handled = int(self._world.now), handled_of(self._world)
        if handled != self._handled.last:
            wiring = self._drawn.setdefault(handled.wiring, handled.wiring)
            handled = replace(handled, wiring=wiring)
            self._handled.put(now, self._held.setdefault(handled, handled))
        self._yard.put(now, standing_of(self._world))

    def supply_at(self, at: Us) -> Supply:
        """What was switched on at an instant [µs of the world]."""
        return self._supply.at(at)

    def handled_at(self, at: Us) -> Handled:
        """What hands had put in, taken out or placed by an instant [µs of the world]."""
        return self._handled.at(at)

    def bodies_at(self, at: Us) -> tuple[BodyView, ...]:
        """Who and what was in the yard at an instant [µs of the world], on the way or standing."""
        return body_views(self._yard.at(at), at)

    def _sort_in(self) -> None:
        """Sort in what was told since."""
        for event in self._world.events[self._read :]:
            if event.kind == "weather":
                self._weather.put(event.at, WeatherView(0.0, *(float(event.data[name]) for name in _TOLD)))
            elif event.kind == "guard":
                guard, tripped = str(event.data["guard"]), bool(event.data["tripped"])
                self._guards.setdefault(guard, Course(not tripped)).put(event.at, tripped)
            elif event.kind in ALARMING:
                self._alarms += ((Us(event.at - self._world.arrived), event.text),)
            if "question" in event.data:
                self._answers[str(event.data["question"])] = str(event.data["answer"])
        self._read = len(self._world.events)

    def alarms(self) -> tuple[tuple[Us, str], ...]:
        """Dangerous things that happened: (time since arrival [µs], in words), newest last."""
        self._sort_in()
        return self._alarms

    def answer(self, question: str) -> str:
        """What was answered last to a question, '' without an answer."""
        self._sort_in()
        return self._answers.get(question, "")

    def weather_at(self, at: Us) -> WeatherView:
        """The weather at an instant [µs of the world], gusts and all, from what changed and from the seed."""
        self._sort_in()
        told = self._weather.at(at)
        gusty = _gust(self._world, at) if told.mean_m_s > 0.0 and told.gust_intensity > 0.0 else 0.0
        wind_m_s = abs(told.mean_m_s * (1.0 + told.gust_intensity * gusty))
        return WeatherView(wind_m_s, told.mean_m_s, told.from_deg, told.gust_intensity, told.temperature_c)

    def tripped_at(self, guard: str, at: Us) -> bool:
        """Whether a guard's device was tripped at an instant [µs of the world]: each change of it was told."""
        self._sort_in()
        if guard not in self._guards:
            return self._world.people.is_tripped(guard)
        return self._guards[guard].at(at)


ALARMING = ("struck", "clash", "danger")
"""Kinds of event that a person is told of at once."""

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
