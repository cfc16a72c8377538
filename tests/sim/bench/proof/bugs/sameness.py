"""Controllers that answer by more than what they read, get stuck, or are wrong with some settings alone."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar

from sim.controller.machine import State
from sim.controller.ports import Inputs, Scan
from sim.controller.reference import ReferenceController
from sim.units import Us


class CountsItsScans(ReferenceController):
    """What it drives hangs on how often any of its kind was ever asked."""

    breaks, within = "same inputs, same outputs", 10

    asked: ClassVar[int] = 0

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with the yard light on at every third scan."""
        type(self).asked += 1
        answer = super().scan(now, inputs)
        return replace(answer, outputs=replace(answer.outputs, yard_light=type(self).asked % 3 == 0))


class StuckOnceHalted(ReferenceController):
    """A stop while the gate closes is never over."""

    breaks, within = "no state without an exit", 30

    stuck = False

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with the stop circuit taken for open from then on."""
        closed = self._memory.state is State.CLOSING
        answer = super().scan(now, replace(inputs, guard_v=(*inputs.guard_v[:4], 24.0)) if self.stuck else inputs)
        self.stuck = self.stuck or (closed and self._memory.state is State.HALTED)
        return answer


class OneRelayForBothLights(ReferenceController):
    """Where a yard light is on the sheet, the warning lamp is not lit."""

    breaks, within = "every promise holds at either end of every setting", 20

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with one of its two lights at a time."""
        answer = super().scan(now, inputs)
        return replace(
            answer, outputs=replace(answer.outputs, lamp=answer.outputs.lamp and not answer.outputs.yard_light)
        )
