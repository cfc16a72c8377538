"""The signal-margin reader: plugged to a beam's receiver, it shows signal over threshold.

Below 1 the receiver is dark. It keeps the least and the most since it was plugged in: it is told when light or feed
changes, and never polls.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from sim.devices.optics import beams_of
from sim.draws import normal
from sim.errors import Refused
from sim.instruments.instrument import Function, Group, Reading, Use
from sim.instruments.shown import Shown
from sim.said import said
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

STEP: Final = 0.05
"""What it resolves [-]. CP, no source."""

MOST: Final = 50.0
"""Its scale ends here [-]. CP, no source."""

NOISE: Final = 0.01
"""Deviation of one reading, as a share of it [-]. CP, no source."""

UNIT: Final = "×"

FUNCTIONS: Final = (
    Function(
        "signal margin",
        UNIT,
        "Plugged to a beam's receiver: how many times the light comes that the receiver just needs.",
        at="guard",
        takes_s=30.0,
        settles_s=2.0,
        caution="Stand beside the beam and out of the arc: who leans over it is in the light.",
    ),
)


class SignalMarginReader:
    """The reader of a bag."""

    name = "signal margin reader"
    group: Group = "guards and radio"
    help = "How much light a photo beam's receiver has to spare."
    functions: tuple[Function, ...] = FUNCTIONS

    def __init__(self) -> None:
        self._seen: list[float] = []
        """Least and most since it was plugged in; empty while the receiver had no feed."""

    def place(self, world: World, use: Use) -> Undo:
        """Plug it to a receiver. Raises Refused where there is none."""
        if use.at not in beams_of(world.site):
            raise Refused(said("there is no photo beam's receiver at the {at}", at=use.at))
        self._seen = []

        def note() -> None:
            margin = world.cabinet.beam_margin(use.at)
            if margin is not None:
                self._seen = [min([*self._seen, margin]), max([*self._seen, margin])]

        listening = (world.host.changed, world.people.beams.listeners)
        for listeners in listening:
            listeners.append(note)
        note()

        def lift() -> None:
            for listeners in listening:
                listeners.remove(note)

        return lift

    def read(self, world: World, use: Use, index: int) -> Reading:
        """What it shows; a pure look."""
        margin = world.cabinet.beam_margin(use.at)
        if margin is None:
            return Reading(Shown(None, UNIT, said("the receiver has no feed")), *self._kept())
        value = margin * (1.0 + NOISE * normal(world.seed, self.name, use.at, index))
        if value > MOST:
            return Reading(
                Shown(None, UNIT, said("over {most:g} {unit}", most=MOST, unit=UNIT), ("over range",)), *self._kept()
            )
        value = max(0.0, round(round(value / STEP) * STEP, 2))
        return Reading(Shown(value, UNIT, f"{value:g} {UNIT}"), *self._kept())

    def _kept(self) -> tuple[float | None, float | None]:
        if not self._seen:
            return None, None
        least, most = (min(MOST, math.floor(each / STEP + 0.5) * STEP) for each in self._seen)
        return round(least, 2), round(most, 2)


__all__ = ["FUNCTIONS", "SignalMarginReader"]
