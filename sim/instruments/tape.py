"""The tape: lengths that tell of a leaf, its drive's bracket and its travel."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from sim.instruments.instrument import Function, Group, Use
from sim.instruments.scaled import Row, Scale, Scaled, leaf_at, needs
from sim.instruments.travel import slow_way
from sim.mechanics import by_hand, hanging
from sim.mechanics.leaf import hinge_gap
from sim.said import said
from sim.site import Drive, HydraulicRam
from sim.site.drives import RamMounting

if TYPE_CHECKING:
    from sim.world.world import World

_LENGTH: Final = Scale(1.0, 0.6, 0.0, 5_000.0)
"""Read to a millimetre, laid on by hand. CP, no source."""


def _resting(world: World) -> None:
    needs(not world.notices.moving(), "the gate moves under power; nobody lays a tape on it now")


def _ram(world: World, use: Use) -> RamMounting:
    _resting(world)
    drive = world.site.drives.pair[leaf_at(use)]
    needs(isinstance(drive, Drive | HydraulicRam), said("the {leaf} leaf's drive is no ram", leaf=use.at))
    assert isinstance(drive, RamMounting)
    return drive


def _across(world: World, use: Use) -> float:
    return _ram(world, use).post_across_m * 1000.0


def _inside(world: World, use: Use) -> float:
    return _ram(world, use).post_inside_m * 1000.0


def _diagonals(world: World, use: Use) -> float:
    _resting(world)
    return world.site.leaves.pair[leaf_at(use)].out_of_square_m * 1000.0


def _lift(world: World, use: Use) -> float:
    _resting(world)
    model = world.site.leaves.pair[leaf_at(use)]
    return (model.sag_m + hanging.bolt_play(model)) * 1000.0


def _low(world: World, use: Use) -> float:
    _resting(world)
    return hanging.droop(world.site.leaves.pair[leaf_at(use)]) * 1000.0


def _least_gap(world: World, use: Use) -> float:
    _resting(world)
    return by_hand.least_clearance(world.plant, leaf_at(use)) * 1000.0


def _hinge(world: World, use: Use) -> float:
    _resting(world)
    gap = world.site.leaves.pair[leaf_at(use)].hinge_gap
    angle = world.plant.angle(leaf_at(use))
    return hinge_gap(gap.post_m, gap.heel_along_m, gap.heel_across_m, angle) * 1000.0


def _angle(world: World, use: Use) -> float:
    _resting(world)
    return math.degrees(world.plant.angle(leaf_at(use)))


def _slow(world: World, use: Use) -> float:
    return slow_way(world, leaf_at(use), use.since) * 1000.0


def _row(name: str, help: str, figure: object, scale: Scale = _LENGTH, unit: str = "mm", later: bool = False) -> Row:
    function = Function(name, unit, help, at="leaf", takes_s=30.0)
    return Row(function, figure, scale, at_once=not later)  # type: ignore[arg-type]


class Tape(Scaled):
    """The tape of a bag."""

    name = "tape"
    group: Group = "mechanical"
    help = "Lengths, to a millimetre."
    rows = (
        _row("rear bracket, across", "From the hinge away from the opening, to a ram's rear pivot.", _across),
        _row("rear bracket, inside", "From the hinge towards the inside, to a ram's rear pivot.", _inside),
        _row("difference of the diagonals", "Corner to corner, both ways, on a leaf.", _diagonals),
        _row("lift at the tip", "How far the closing edge of a leaf can be lifted by hand.", _lift),
        _row("tip below its line", "From a string along the built height down to the closing edge.", _low),
        _row("least gap under the leaf", "Under a leaf over all of its way, at the narrowest.", _least_gap),
        _row("gap at the hinge", "Between the leaf's heel and its post, as it stands.", _hinge),
        _row(
            "opening angle",
            "From the tip to where it stands shut, worked out as an angle.",
            _angle,
            Scale(0.5, 0.2, -40.0, 180.0),
            "°",
        ),
        _row(
            "slow way before the stop",
            "Chalk marks on the ground: from where the leaf slowed down to where it stopped, last movement.",
            _slow,
            Scale(5.0, 5.0, 0.0, 9_000.0),
            later=True,
        ),
    )
