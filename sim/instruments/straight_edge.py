"""The straight edge: how far a ram's rod is bowed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.instruments.instrument import Function, Group, Use
from sim.instruments.scaled import Row, Scale, Scaled, leaf_at, needs
from sim.said import said
from sim.site import Drive, HydraulicRam

if TYPE_CHECKING:
    from sim.world.world import World


def _bow(world: World, use: Use) -> float:
    drive = world.site.drives.pair[leaf_at(use)]
    needs(isinstance(drive, Drive | HydraulicRam), said("the {leaf} leaf's drive has no rod", leaf=use.at))
    assert isinstance(drive, Drive | HydraulicRam)
    needs(not world.notices.moving(), "the gate moves under power; hands off its rods")
    return drive.rod_bow * 1000.0


class StraightEdge(Scaled):
    """The straight edge of a bag, with its slips."""

    name = "straight edge"
    group: Group = "mechanical"
    help = "Whether something is straight, with slips put under it."
    rows = (
        Row(
            Function(
                "bow of the rod",
                "mm/m",
                "Along the rod of a ram that is run out.",
                at="leaf",
                takes_s=45.0,
                caution="Between a leaf and its ram a hand is crushed. Isolate first.",
            ),
            _bow,
            Scale(0.1, 0.1, 0.0, 60.0),
        ),
    )
