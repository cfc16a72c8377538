"""The anemometer: a cup wheel on a pole, read over ten seconds."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.instruments.instrument import Function, Group, Use
from sim.instruments.scaled import Row, Scale, Scaled
from sim.mechanics import hanging

if TYPE_CHECKING:
    from sim.world.world import World


def _mean(world: World, use: Use) -> float:
    return hanging.mean_wind(world.weather)


def _now(world: World, use: Use) -> float:
    return world.plant.wind_m_s()


class Anemometer(Scaled):
    """The anemometer of a bag."""

    name = "anemometer"
    group: Group = "surroundings"
    help = "How hard the wind blows."
    rows = (
        Row(
            Function("mean wind", "m/s", "Held up at leaf height, clear of walls: the mean.", at="", settles_s=60.0),
            _mean,
            Scale(0.1, 0.2, 0.0, 60.0),
        ),
        Row(
            Function("wind now", "m/s", "The same, at this moment.", at="", settles_s=3.0),
            _now,
            Scale(0.1, 0.2, 0.0, 60.0),
        ),
    )
