"""The torque wrench: how tight bolts and screws still are."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.devices.joint import SCREW_OHM, screw_name
from sim.errors import Refused
from sim.instruments.instrument import Function, Group, Use
from sim.instruments.scaled import Row, Scale, Scaled, leaf_at
from sim.said import said
from sim.wiring.elements import Contact

if TYPE_CHECKING:
    from sim.world.world import World

SCREW_N_M: Final = 0.6
"""A terminal screw as it should be [N·m]. CP, no source."""


def _bolts(world: World, use: Use) -> float:
    return world.site.leaves.pair[leaf_at(use)].hinge_bolts_n_m


def _screw(world: World, use: Use) -> float:
    """A contact's resistance falls with the root of its force (constriction, Holm): the screw turns at a torque in
    proportion to that force."""
    cabinet = world.cabinet
    terminal = cabinet.terminal(use.at)
    if cabinet.is_live(use.at):
        raise Refused(said("{at} is live; no wrench goes on it before it is proved dead", at=use.at))
    net = cabinet.mains if terminal.net == "mains" else cabinet.netlist
    name = screw_name(terminal)
    if name not in net:
        raise Refused(said("{at} has no screw that a wrench reaches", at=use.at))
    screw = net[name]
    assert isinstance(screw, Contact)
    if not screw.closed:
        return 0.0
    return SCREW_N_M * min(1.0, (SCREW_OHM / abs(screw.ohm)) ** 2)


class TorqueWrench(Scaled):
    """The torque wrench of a bag, with a driver for terminals."""

    name = "torque wrench"
    group: Group = "mechanical"
    help = "At what torque a bolt or a screw turns on."
    rows = (
        Row(
            Function("hinge bolts", "N·m", "On the bolts of a leaf's hinges: where the loosest turns.", at="leaf"),
            _bolts,
            Scale(1.0, 1.0, 0.0, 200.0),
        ),
        Row(
            Function(
                "terminal screw",
                "N·m",
                "On the screw of a terminal that is dead.",
                at="terminal",
                caution="A screwdriver in a live terminal: isolate and prove dead first.",
            ),
            _screw,
            Scale(0.05, 0.02, 0.0, 3.0),
        ),
    )
