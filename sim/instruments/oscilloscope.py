"""A hand-held oscilloscope: what stands on an encoder's line beside its pulses, the highest since it was put on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.errors import Refused
from sim.instruments.display import Display, Range
from sim.instruments.instrument import Function, Group, Reading, Use, nothing
from sim.said import said
from sim.units import LEAVES
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

LINE: Final = Display("oscilloscope", "highest spike", "V", (Range(40.0, 0.02),), gain_error=0.02, noise_steps=1.0)

LINES: Final = tuple(f"{leaf} encoder's line" for leaf in LEAVES)
"""Signal terminals of both encoders at the board, against common."""

FLOOR_V: Final = 0.02
"""Its own noise [V]. CP, no source."""


class Oscilloscope:
    """The oscilloscope of a bag, on the lines that it is used for here."""

    name = "oscilloscope"
    group: Group = "electrical"
    help = "Spikes on an encoder's line; it keeps the highest since it was put there."
    functions: tuple[Function, ...] = (
        Function(
            "highest spike",
            "V",
            "On an encoder's signal terminal at the board: the highest spike beside its pulses since then.",
            at="spot",
            spots=LINES,
            takes_s=30.0,
        ),
    )

    def place(self, world: World, use: Use) -> Undo:
        """Its probe loads the line with 10 MΩ: too little to change it."""
        encoder_at(world, use.at)
        return nothing

    def read(self, world: World, use: Use, index: int) -> Reading:
        """The highest spike since it was put there."""
        leaf = encoder_at(world, use.at)
        seen = [spike.volts for spike in world.coupling.spikes if spike.leaf == leaf and spike.at >= use.since]
        highest = max([FLOOR_V, *seen])
        return Reading(LINE.show(highest, world.seed, index), FLOOR_V, highest)


def encoder_at(world: World, spot: str) -> int:
    """Which leaf's encoder a spot belongs to. Raises Refused where none is fitted."""
    leaf = LINES.index(spot)
    if f"{LEAVES[leaf]} encoder, signal" not in world.cabinet.terminals:
        raise Refused(said("the {leaf} leaf's drive has no encoder", leaf=LEAVES[leaf]))
    return leaf
