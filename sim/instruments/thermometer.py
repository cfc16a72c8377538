"""The contact thermometer: a probe held on something until it has its temperature."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

from sim.instruments.instrument import Function, Group, Use
from sim.instruments.scaled import Figure, Row, Scale, Scaled, leaf_at
from sim.instruments.warmth import screw_c
from sim.mechanics import hanging

if TYPE_CHECKING:
    from sim.world.world import World

_SCALE: Final = Scale(0.1, 0.3, -50.0, 300.0)
"""A probe with a surface tip. CP, no source."""


def _air(world: World, use: Use) -> float:
    return world.weather.temperature_c


def _case(world: World, use: Use) -> float:
    return world.plant.case_c(leaf_at(use))


def _board(world: World, use: Use) -> float:
    return world.board_heat.now_c()


def _leaf(world: World, use: Use) -> float:
    return hanging.leaf_c(world.site.leaves.pair[leaf_at(use)], world.weather)


def _terminal(world: World, use: Use) -> float:
    return screw_c(world, use.at)


def _row(name: str, help: str, figure: Figure, at: Literal["", "leaf", "terminal"], caution: str = "") -> Row:
    return Row(Function(name, "°C", help, at=at, settles_s=20.0, caution=caution), figure, _SCALE)


class Thermometer(Scaled):
    """The contact thermometer of a bag."""

    name = "thermometer"
    group: Group = "surroundings"
    help = "How warm something is that its probe touches."
    rows = (
        _row("air", "In the shade, away from walls.", _air, ""),
        _row("motor case", "On the case of a leaf's motor.", _case, "leaf", "A hot motor burns: touch it last."),
        _row("board", "On the board in its box, beside the power stages.", _board, ""),
        _row("leaf", "On the frame of a leaf, on its sunny side.", _leaf, "leaf"),
        _row("terminal", "On the insulation beside a terminal.", _terminal, "terminal"),
    )
