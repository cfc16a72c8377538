"""The spirit level: how far posts are out of plumb and leaves out of level."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.instruments.instrument import Function, Group, Use
from sim.instruments.scaled import Row, Scale, Scaled, leaf_at
from sim.mechanics import by_hand, hanging

if TYPE_CHECKING:
    from sim.world.world import World

_SCALE: Final = Scale(0.5, 0.25, -60.0, 60.0)
"""A long level with a slide below its end. CP, no source."""


def _along(world: World, use: Use) -> float:
    return by_hand.post_lean(world.plant, leaf_at(use)) * 1000.0


def _across(world: World, use: Use) -> float:
    return by_hand.post_lean_across(world.plant, leaf_at(use)) * 1000.0


def _rail(world: World, use: Use) -> float:
    model = world.site.leaves.pair[leaf_at(use)]
    return hanging.droop(model) / model.width_m * 1000.0


class Level(Scaled):
    """The level of a bag."""

    name = "level"
    group: Group = "mechanical"
    help = "Plumb and level, in millimetres for each metre."
    rows = (
        Row(
            Function(
                "hinge line, towards the opening",
                "mm/m",
                "On a post, over both hinges: positive leans towards the opening.",
                at="post",
            ),
            _along,
            _SCALE,
        ),
        Row(
            Function(
                "hinge line, towards the side it opens to",
                "mm/m",
                "On a post, over both hinges: positive leans to where the leaf opens.",
                at="post",
            ),
            _across,
            _SCALE,
        ),
        Row(
            Function(
                "upper rail", "mm/m", "On a leaf's upper rail: positive hangs down to the closing edge.", at="leaf"
            ),
            _rail,
            _SCALE,
        ),
    )
