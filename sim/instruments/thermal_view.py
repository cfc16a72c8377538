"""The thermal view: what is warm, seen from a distance."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.instruments.instrument import Function, Group, Reading, Use
from sim.instruments.scaled import Row, Scale, Scaled, leaf_at, shown
from sim.instruments.shown import Shown
from sim.instruments.warmth import warmest_terminal
from sim.said import said

if TYPE_CHECKING:
    from sim.world.world import World

_SCALE: Final = Scale(0.5, 0.7, -20.0, 350.0)
"""A hand-held camera. CP, no source."""


def _motor(world: World, use: Use) -> float:
    return world.plant.case_c(leaf_at(use))


def _terminals(world: World, use: Use) -> float:
    return warmest_terminal(world)[1]


class ThermalView(Scaled):
    """The thermal view of a bag."""

    name = "thermal view"
    group: Group = "surroundings"
    help = "Which of the things in view is the warmest, and how warm."
    rows = (
        Row(
            Function("terminals", "°C", "Over all terminals of the open cabinet: the warmest.", at="", settles_s=5.0),
            _terminals,
            _SCALE,
        ),
        Row(Function("motor", "°C", "On a leaf's motor.", at="leaf", settles_s=5.0), _motor, _SCALE),
    )

    def read(self, world: World, use: Use, index: int) -> Reading:
        """The figure, and where it is."""
        row = self._row(use)
        seen = shown(row, row.figure(world, use), self.name, use, world.seed, index)
        if use.function != "terminals":
            return Reading(seen)
        name, warmth = warmest_terminal(world)
        where = name if warmth > world.weather.temperature_c + 0.5 else said("all alike")
        return Reading(
            Shown(seen.value, seen.unit, said("{reading}, {where}", reading=seen.text, where=where), seen.flags)
        )
