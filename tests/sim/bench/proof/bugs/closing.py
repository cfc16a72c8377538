"""Controllers that close by themselves when they must not, or too soon."""

from __future__ import annotations

from dataclasses import replace

from sim.controller import dwelling, reacting, timers
from sim.controller.machine import STARTING, State
from sim.controller.ports import Inputs, Scan
from sim.controller.reference import ReferenceController
from sim.controller.turn import Turn
from sim.units import Us

_holds_over = reacting.hold_over


def _waits_to_close_again(turn: Turn) -> None:
    _holds_over(turn)
    turn.memory.waits_for_command = False
    dwelling.consider(turn)


class ClosesAfterAStop(ReferenceController):
    """When the stop circuit closes again, an open gate waits to close as before."""

    breaks, within = "never closes by itself after a halt", 20

    instead = (("sim.controller.reacting:hold_over", _waits_to_close_again),)


class BlindUntilItCloses(ReferenceController):
    """It doesn't look at the inner beam before it closes by itself."""

    breaks, within = "never closes by itself against a guard", 30

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with the inner beam taken for clear, or for the other one while they are tested."""
        state, volts = self._memory.state, inputs.guard_v
        if state is State.DWELLING or (state in STARTING and self._memory.wish.by_itself):
            inner = volts[0] if state is State.TESTING else 0.1
            inputs = replace(inputs, guard_v=(volts[0], inner, *volts[2:]))
        return super().scan(now, inputs)


class NeverTired(ReferenceController):
    """It doesn't count how often it met something."""

    breaks, within = "never closes by itself beyond its retries", 10

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, which forgets."""
        self._memory.tries = 0
        return super().scan(now, inputs)


_starts_a_timer = timers.start


def _a_second_too_short(running: timers.Timers, name: str, now: int, seconds: float) -> None:
    _starts_a_timer(running, name, now, seconds - 1.0 if name == "dwell" else seconds)


class ClosesTooSoon(ReferenceController):
    """It waits a second less than the sheet says."""

    breaks, within = "waits before it closes as long as the sheet says", 20

    instead = (("sim.controller.timers:start", _a_second_too_short),)


class WaitsOnThroughAPassage(ReferenceController):
    """A guard that trips in the wait does not restart it."""

    breaks, within = "waits before it closes as long as the sheet says", 30

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with the old deadline put back."""
        before = self._memory.timers.get("dwell", 0)
        answer = super().scan(now, inputs)
        if self._memory.state is State.DWELLING and before > now:
            self._memory.timers["dwell"] = before
            return replace(answer, wake=Us(before))
        return answer


class ClosesAgainstTheTimer(ReferenceController):
    """Closing by itself doesn't look at the timer contact."""

    breaks, within = "a contact that stays closed only keeps open", 30

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with the contact taken for open while it waits and starts by itself."""
        state, volts = self._memory.state, inputs.command_v
        if state is State.DWELLING or (state in STARTING and self._memory.wish.by_itself):
            inputs = replace(inputs, command_v=(*volts[:4], 24.0, *volts[5:]))
        return super().scan(now, inputs)


class HeardWhenPowerComes(ReferenceController):
    """After its self-check it takes for given what is only closed."""

    breaks, within = "a contact that stays closed only keeps open", 30

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, which knows of nothing pressed once its self-check is done."""
        checked = self._memory.state is State.SELF_CHECK
        answer = super().scan(now, inputs)
        if checked and self._memory.state is State.AT_REST:
            self._memory.pressed = [False] * len(inputs.command_v)
            self._volts = ((), ())
            return replace(answer, wake=Us(int(now) + 10_000))
        return answer
