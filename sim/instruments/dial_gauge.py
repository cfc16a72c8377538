"""The dial gauge: play at the tip of a leaf that its drive holds, and at its bracket."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.instruments.instrument import Function, Group, Use
from sim.instruments.scaled import Row, Scale, Scaled, leaf_at, needs
from sim.mechanics import by_hand
from sim.said import said

if TYPE_CHECKING:
    from sim.world.world import World

HAND_N: Final = 10.0
"""How hard the tip is moved to and fro [N]: enough to take up play, too little to bend much. CP, no source."""


def _still(world: World) -> None:
    needs(not world.notices.moving(), "the gate moves under power; a dial gauge needs a leaf at rest")


def _at_tip(world: World, use: Use) -> float:
    leaf = leaf_at(use)
    _still(world)
    needs(world.plant.engaged(leaf), said("the {leaf} leaf is released: it swings, and that is no play", leaf=use.at))
    needs(
        world.site.leaves.pair[leaf].secured == "free",
        said("the {leaf} leaf is propped or roped: nothing moves", leaf=use.at),
    )
    return by_hand.tip_play(world.plant, leaf, HAND_N) * 1000.0


def _at_bracket(world: World, use: Use) -> float:
    _still(world)
    play = by_hand.bracket_play(world.plant, leaf_at(use))
    needs(play is not None, said("the {leaf} leaf's drive has no bracket of a ram", leaf=use.at))
    assert play is not None
    return play * 1000.0


class DialGauge(Scaled):
    """The dial gauge of a bag, on its magnetic stand."""

    name = "dial gauge"
    group: Group = "mechanical"
    help = "How far something moves that should not."
    rows = (
        Row(
            Function(
                "play at the tip",
                "mm",
                "Against the tip of a leaf that its drive holds, moved to and fro with two fingers.",
                at="leaf",
                takes_s=60.0,
            ),
            _at_tip,
            Scale(0.1, 0.2, 0.0, 100.0),
        ),
        Row(
            Function(
                "play of the bracket",
                "mm",
                "Against the bracket on the leaf, the leaf pulled to and fro against its drive.",
                at="leaf",
                takes_s=90.0,
            ),
            _at_bracket,
            Scale(0.01, 0.01, 0.0, 10.0),
        ),
    )
