"""A hand-held oscilloscope: what stands on an encoder's line beside its pulses, the highest since it was put on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.errors import Refused
from sim.instruments.display import Display, Range
from sim.instruments.instrument import Function, Group, Reading, Use, nothing
from sim.units import LEAVES
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

LINE: Final = Display("oscilloscope", "highest spike", "V", (Range(40.0, 0.02),), gain_error=0.02, noise_steps=1.0)

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
            "On the signal terminal of an encoder at the board: the highest spike beside its pulses since then.",
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


def encoder_at(world: World, terminal: str) -> int:
    """Which leaf's encoder a terminal belongs to. Raises Refused for one that is no line of an encoder."""
    world.cabinet.terminal(terminal)
    for leaf, name in enumerate(LEAVES):
        if terminal in (f"{name} encoder, signal", f"{name} encoder, second signal"):
            return leaf
    raise Refused(f"'{terminal}' is no line of an encoder; put it on '{LEAVES[0]} encoder, signal'")
