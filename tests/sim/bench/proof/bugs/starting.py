"""Controllers that start from rest though nobody asked, or without what a start must wait for."""

from __future__ import annotations

from dataclasses import replace

from sim.controller import beam_check, order, starting, timers
from sim.controller.machine import State
from sim.controller.memory import Wish
from sim.controller.ports import Inputs, Scan
from sim.controller.reference import ReferenceController
from sim.controller.turn import Turn
from sim.units import Us


class HeardAgainAfterAStop(ReferenceController):
    """When the stop circuit closes, what is held counts as given anew."""

    breaks, within = "a command that is only held moves nothing", 10

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, which forgets while it is halted what was pressed."""
        if self.headline().state == State.HALTED.value:
            self._memory.pressed = [False] * len(inputs.command_v)
        return super().scan(now, inputs)


class WaitsForTheGuard(ReferenceController):
    """A command that a guard stood against is carried out once the guard is clear."""

    breaks, within = "a command that is only held moves nothing", 10

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, which asks again when a guard changes."""
        before = self._memory.guards
        answer = super().scan(now, inputs)
        memory = self._memory
        if before != memory.guards and memory.state is State.AT_REST and any(memory.pressed):
            memory.after_stop, memory.wake = Wish("open", "open button"), int(now) + 10_000
            return replace(answer, wake=Us(memory.wake))
        return answer


def _resolves_nothing(turn: Turn) -> None:
    """Opposite commands are left as they are."""


class TheLastOneWins(ReferenceController):
    """Of opposite commands the one that was given last is carried out."""

    breaks, within = "opposite commands together are a halt", 10

    instead = (("sim.controller.commands:resolve", _resolves_nothing),)


_begins_the_test = beam_check.begin


def _tests_for_people_only(turn: Turn) -> None:
    if not turn.memory.wish.by_itself:
        _begins_the_test(turn)


class NoTestBeforeAutoClose(ReferenceController):
    """The guard test is left out where nobody but the dwell asks."""

    breaks, within = "tests the guards before it starts", 10

    instead = (("sim.controller.beam_check:begin", _tests_for_people_only),)


class PassesEveryTest(ReferenceController):
    """A beam that has not reacted when its time is up is taken to have reacted."""

    breaks, within = "nothing moves by itself after a failed guard test", 10

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with both beams taken for tripped at the end of the time."""
        memory = self._memory
        up = memory.timers.get("guard test", int(now) + 1) <= now
        if memory.state is State.TESTING and memory.test.dropped and up:
            inputs = replace(inputs, guard_v=(24.0, 24.0, *inputs.guard_v[2:]))
        return super().scan(now, inputs)


_starts_a_timer = timers.start


def _halves_the_warning(running: timers.Timers, name: str, now: int, seconds: float) -> None:
    _starts_a_timer(running, name, now, seconds / 2.0 if name == "warning" else seconds)


class HalfTheWarning(ReferenceController):
    """The lamp warns half as long as the sheet says."""

    breaks, within = "warns before it moves", 10

    instead = (("sim.controller.timers:start", _halves_the_warning),)


class DarkWhileItReopens(ReferenceController):
    """The lamp is dark while the gate goes back open after a guard."""

    breaks, within = "warns before it moves", 30

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, with the lamp off in one kind of opening."""
        answer = super().scan(now, inputs)
        if self._memory.wish.reaction and self._memory.state is State.OPENING:
            return replace(answer, outputs=replace(answer.outputs, lamp=False))
        return answer


_lock_may_hold = starting._lock_may_hold


def _holds_for_cars_only(turn: Turn) -> bool:
    return turn.memory.wish.what != "pedestrian" and _lock_may_hold(turn)


class LockedForPedestrians(ReferenceController):
    """Before a pedestrian opening nobody thinks of the lock."""

    breaks, within = "frees the lock before it opens", 10

    instead = (("sim.controller.starting:_lock_may_hold", _holds_for_cars_only),)


class LockStaysDriven(ReferenceController):
    """A halt in the midst of the pulse leaves the lock driven."""

    breaks, within = "the lock's pulse ends", 30

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """As the reference, which starts the pulse once more when it is cut off."""
        before = self._memory.timers.get("lock pulse", 0)
        answer = super().scan(now, inputs)
        if before > now and "lock pulse" not in self._memory.timers:
            self._memory.timers["lock pulse"] = int(now) + 60_000_000
            return replace(answer, outputs=replace(answer.outputs, lock=True))
        return answer


_opens = order.begin_opening


def _opens_both(turn: Turn, *, first_only: bool = False, at_once: bool = False) -> None:
    _opens(turn, at_once=at_once)


class BothForPedestrians(ReferenceController):
    """The second leaf follows in a pedestrian opening."""

    breaks, within = "opens one leaf for pedestrians", 10

    instead = (("sim.controller.order:begin_opening", _opens_both),)
