"""Controllers that move too fast, too long, out of order, or say what is not so."""

from __future__ import annotations

from dataclasses import replace

from sim.controller import motion, moving
from sim.controller.memory import Leaf, Phase
from sim.controller.ports import Drive, Inputs, Scan
from sim.controller.reference import ReferenceController
from sim.controller.sheet import Sheet, first_leaf
from sim.controller.turn import Turn
from sim.units import Us


def _the_other(sheet: Sheet) -> int:
    return 1 - first_leaf(sheet)


class OpensTheWrongLeafFirst(ReferenceController):
    """It reads 'opens first' the wrong way round."""

    breaks, within = "leaves never clash", 10
    instead = (("sim.controller.turn:first_leaf", _the_other),)


class RunsForEver(ReferenceController):
    """Its run-time limit is never due."""

    breaks, within = "the run-time limit ends every run", 15

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with that deadline forgotten."""
        self._memory.timers.pop("run-time limit", None)
        return super().scan(now, inputs)


def _half_a_zone(sheet: Sheet, leaf: Leaf) -> int:
    return _slow_counts(sheet, leaf) // 2


_slow_counts = motion._slow_counts


class SlowsDownLate(ReferenceController):
    """It slows down half way into its slow zone."""

    breaks, within = "slow in the slow zones", 10
    instead = (("sim.controller.motion:_slow_counts", _half_a_zone),)


class SlowsDownSoftly(ReferenceController):
    """It knows where to slow down, and takes seconds to do so."""

    breaks, within = "slow where it crushes", 10
    instead = (("sim.controller.motion:SLOWING_PER_S", 0.1),)


class LetsGoLate(ReferenceController):
    """It takes a key that was let go for held, for a third of a second."""

    breaks, within = "stops when it is let go", 15

    def __init__(self) -> None:
        super().__init__()
        self._held, self._let_go_at = False, -1

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with the key held longer."""
        volts, held = inputs.command_v, inputs.command_v[3] < 12.0
        self._let_go_at = int(now) if self._held and not held else self._let_go_at
        self._held = held
        late = not held and self._let_go_at >= 0 and now - self._let_go_at < 300_000
        read = replace(inputs, command_v=(*volts[:3], 0.0, *volts[4:])) if late else inputs
        answer = super().scan(now, read)
        return replace(answer, watches=None) if late else answer


class RunsOutWhenLetGo(ReferenceController):
    """It doesn't brake a leaf that was let go, and ends its drive slowly."""

    breaks, within = "stands within its overtravel when it is let go", 15
    instead = (("sim.controller.answer:SOFT_STOP_PER_S", 0.12),)

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, without the brake."""
        return _unbraked(super().scan(now, inputs), self.headline().state == "stopping")


class RunsOutWhenStopped(ReferenceController):
    """It doesn't brake when the stop circuit opens."""

    breaks, within = "stops within a distance", 15
    instead = (("sim.controller.answer:SOFT_STOP_PER_S", 0.12),)

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, without the brake."""
        return _unbraked(super().scan(now, inputs), self.headline().state == "halted")


def _unbraked(answer: Scan, so: bool) -> Scan:
    outputs = answer.outputs
    if not so or not outputs.active.brake:
        return answer
    soft = Drive(slew_per_s=0.12)
    return replace(answer, outputs=replace(outputs, active=soft, inactive=soft))


def _arrives_wherever(turn: Turn, index: int, met: motion.Met) -> None:
    if met is not motion.Met.PASSED:
        _meet(turn, index, met)
        return
    turn.move(index).phase = Phase.DONE
    turn.leaf(index).origin = turn.inputs.counts[index]
    if motion.all_done(turn):
        moving._arrive(turn)


_meet = moving._meet


class TakesAnyEndForClosed(ReferenceController):
    """A leaf that runs past the place of its stop has arrived, it thinks."""

    breaks, within = "closed is never said of an open leaf", 10
    instead = (("sim.controller.moving:_meet", _arrives_wherever),)


class TurnsRoundAtOnce(ReferenceController):
    """It drives a leaf the other way one scan after it was let go."""

    breaks, within = "never turns a drive round without a pause", 150
    instead = (("sim.controller.moving:BRAKE_S", 0.02),)
