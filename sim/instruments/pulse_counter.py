"""A pulse counter clipped to an encoder's terminals at the board: it counts what the board's counter counts.

It follows the board's own counter up and down, and stores the count each time that motor has come to rest.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.instruments.instrument import Function, Group, Reading, Use
from sim.instruments.oscilloscope import LINES, encoder_at
from sim.instruments.shown import Shown
from sim.said import said
from sim.units import LEAVES
from sim.wiring.netlist import Undo
from sim.world.history import Event

if TYPE_CHECKING:
    from sim.world.world import World

NEAR_THE_END: Final = 0.75
"""Counts above this share of the greatest are stops at the open end [-]. Ours."""


class PulseCounter:
    """The counter of a bag; it remembers what it stored since it was clipped on."""

    name = "pulse counter"
    group: Group = "electrical"
    help = "Counts an encoder's pulses at the board, up and down, and stores the count at each standstill."
    functions: tuple[Function, ...] = (
        Function(
            "count",
            "",
            "Pulses since it was clipped on, up less down.",
            at="spot",
            spots=LINES,
            takes_s=20.0,
            settles_s=1.0,
        ),
        Function(
            "spread at the open end",
            "",
            "Greatest less least of the counts stored at standstills near the open end.",
            at="spot",
            spots=LINES,
            takes_s=20.0,
            settles_s=1.0,
        ),
    )

    def __init__(self) -> None:
        self._start = 0
        self._stored: list[int] = []

    def place(self, world: World, use: Use) -> Undo:
        """Clip it on: it counts from nothing, and listens for standstills."""
        leaf = encoder_at(world, use.at)
        self._start, self._stored = world.host.drives.counts()[leaf], []

        def heard(event: Event) -> None:
            if event.kind == "resting" and event.data["leaf"] == LEAVES[leaf]:
                self._stored.append(world.host.drives.counts()[leaf] - self._start)

        world.listeners.append(heard)
        return lambda: world.listeners.remove(heard)

    def read(self, world: World, use: Use, index: int) -> Reading:
        """The count, or how far the stored ones lie apart."""
        count = world.host.drives.counts()[encoder_at(world, use.at)] - self._start
        if use.function == "count":
            return Reading(_shown(count))
        ends = [each for each in self._stored if each > NEAR_THE_END * max(self._stored)]
        if not ends:
            return Reading(Shown(None, "", said("nothing stored")))
        return Reading(_shown(max(ends) - min(ends)), float(min(ends)), float(max(ends)))


def _shown(count: int) -> Shown:
    return Shown(float(count), "", said("{count} pulses", count=count))
