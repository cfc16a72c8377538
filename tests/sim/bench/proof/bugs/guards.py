"""Controllers that forget a guard, or heed it too late or too little."""

from __future__ import annotations

from dataclasses import replace

from sim.controller import beam_check, guards, moving, reacting
from sim.controller.machine import State
from sim.controller.memory import GuardTest
from sim.controller.ports import Inputs, Outputs, Scan
from sim.controller.reference import ReferenceController
from sim.controller.turn import Turn
from sim.units import Us

_CLEAR_V = (0.1, 0.1, 1.65, 1.65, 0.1)


def _taken_for_clear(inputs: Inputs, *terminals: int) -> Inputs:
    volts = tuple(_CLEAR_V[i] if i in terminals else v for i, v in enumerate(inputs.guard_v))
    return replace(inputs, guard_v=volts)


class BlindWhileClosing(ReferenceController):
    """It doesn't look at the outer beam while it closes."""

    breaks, within = "never closes past a reopening guard", 20

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with the beam taken for clear."""
        closes = self.headline().state == "closing"
        return super().scan(now, _taken_for_clear(inputs, 0) if closes else inputs)


class SlowToReverse(ReferenceController):
    """It heeds a reopening guard only when it is tripped for a fifth of a second."""

    breaks, within = "never closes past a reopening guard", 20

    def __init__(self) -> None:
        super().__init__()
        self._since = -1

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, later."""
        tripped = inputs.guard_v[0] > 12.0
        self._since = (self._since if self._since >= 0 else now) if tripped else -1
        late = tripped and now - self._since < 200_000 and self.headline().state == "closing"
        answer = super().scan(now, _taken_for_clear(inputs, 0) if late else inputs)
        return replace(answer, watches=None) if late else answer


def _never_holds_closing(reaction: str, direction: int) -> bool:
    return {"not fitted": False, "reopen": direction <= 0, "hold": direction > 0}.get(reaction, True)


class HoldsOnlyOpening(ReferenceController):
    """A guard that holds holds an opening, but not a closing."""

    breaks, within = "never closes past any other guard", 20

    instead = (("sim.controller.guards:acts", _never_holds_closing),)


class HoldsOnlyClosing(ReferenceController):
    """A guard that holds holds a closing, but not an opening."""

    breaks, within = "never opens past a guard that holds or halts", 20

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with the inner beam taken for clear."""
        opens = self.headline().state == "opening"
        return super().scan(now, _taken_for_clear(inputs, 1) if opens else inputs)


class LooksAtNoEdgeBeforeItMoves(ReferenceController):
    """It looks at the edges once the gate moves, and not before."""

    breaks, within = "starts nothing that a guard acts on", 20

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with the edges taken for clear while nothing is driven."""
        outputs = self._answer.outputs
        moves = outputs.active.duty or outputs.inactive.duty
        answer = super().scan(now, inputs if moves else _taken_for_clear(inputs, 2, 3))
        begins = not moves and (answer.outputs.active.duty or answer.outputs.inactive.duty)
        return replace(answer, watches=None) if begins else answer


class ForgetsTheOtherLeaf(ReferenceController):
    """An edge stops the leaf it is on, and the other one goes on for a second."""

    breaks, within = "a trip on either leaf acts on both", 20

    def __init__(self) -> None:
        super().__init__()
        self._goes_on: tuple[int, Outputs] | None = None

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, but the leaf whose edge is clear is driven as before."""
        before, was = self._answer.outputs, self.headline().state
        answer = super().scan(now, inputs)
        if self.headline().state == "backing off" and was in ("opening", "closing"):
            self._goes_on = (now + 1_000_000, before)
        if self._goes_on is None or now >= self._goes_on[0]:
            return answer
        name = "active" if guards.read(3, inputs.guard_v[3]) is not guards.Reading.CLEAR else "inactive"
        outputs = replace(answer.outputs, **{name: getattr(self._goes_on[1], name)})
        return replace(answer, outputs=outputs, watches=None)


class FinishesBeforeItHalts(ReferenceController):
    """The stop circuit halts it when the leaves stand."""

    breaks, within = "stop beats everything", 20

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with the stop circuit taken for closed while it opens."""
        opens = self.headline().state == "opening"
        return super().scan(now, _taken_for_clear(inputs, 4) if opens else inputs)


def _frees_always(turn: Turn) -> bool:
    if turn.state in (State.OPENING, State.CLOSING):
        moving.back_off(turn, reacting.STOP_OPEN, contact=True, relief=True)
    return turn.state is State.BACKING_OFF


class FreesWhatNobodyTouched(ReferenceController):
    """When it is stopped it goes back a little, whether or not a leaf touched anything."""

    breaks, within = "stop beats everything", 30

    instead = (("sim.controller.reacting:_frees_first", _frees_always),)


def _tests_every_beam(turn: Turn) -> None:
    turn.memory.test = test = GuardTest()
    test.tested = [i for i in guards.BEAM_INDICES if guards.declared(turn.sheet, i) != "not fitted"]
    test.dropped = bool(test.tested)
    turn.start_timer("guard test", beam_check.TEST_S)


class FailsABeamThatIsTripped(ReferenceController):
    """It tests a beam that is tripped already, and finds that it doesn't recover."""

    breaks, within = "a tripped guard is not a failed test", 15
    instead = (("sim.controller.beam_check:begin", _tests_every_beam),)
