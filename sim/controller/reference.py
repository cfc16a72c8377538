"""The gate's own controller, behind its terminals: scan in, answer out.

A scan in which nothing is due is answered from the last answer without touching anything. Something is due when a
deadline is reached, a watch holds, a guard or a control reads differently, or a radio word or a request arrived; only
then is the memory changed. So it makes no difference how often it is asked in between.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from sim.controller import (
    answer,
    calendar,
    commands,
    conduct,
    duty,
    guards,
    limits,
    log,
    panel,
    plain,
    reckoning,
    service,
    supply,
    transmitters,
    waking,
)
from sim.controller.machine import RESTING, STARTING, UNSETTLED, GateMachine, Moved, State
from sim.controller.memory import Memory, power_lost
from sim.controller.ports import BOARD_MINIMUM_V, Controller, Enrolled, Headline, Inputs, Panel, Scan
from sim.controller.records import Transmitter
from sim.controller.settings import Value
from sim.controller.sheet import checked, number, word
from sim.controller.turn import Turn
from sim.said import said
from sim.units import SCAN, Us, next_on_grid

_UNREAD: Final = Inputs(0.0, (), (), (0.0, 0.0), (0, 0), (0, 0))
"""Terminals that nobody has looked at yet."""

_MADE_AGAIN: Final = ("_machine", "_answer", "_panel", "_told", "_volts")

_FORGOTTEN: Final = ("brake", "yard light", "lock pulse")
"""Deadlines that only end something."""


class ReferenceController(Controller):
    """A controller for two leaves, to the sheet."""

    _new_machine: Callable[[], Moved] = GateMachine

    def __init__(self) -> None:
        self._memory = Memory()
        self._machine = self._new_machine()
        self._answer = answer.DEAD
        self._panel: Panel | None = None
        self._told = log.Told()
        self._volts: tuple[tuple[float, ...], tuple[float, ...]] = ((), ())

    # -- the contract ----------------------------------------------------------------------------------

    def power_up(self, now: Us) -> None:
        """The board has power again: nothing moves, what was held is not a command, what was at rest is known."""
        if self._memory.state is not State.NO_POWER:  # it died so quickly that nobody asked it any more
            self._turn(now, None).fire("power fails")
        duty.cut_off(self._memory, int(now))
        memory = power_lost(self._memory)
        memory.position_known = memory.position_kept and memory.learned
        self._memory = memory
        turn = self._turn(now, None)
        turn.fire("power returns")
        turn.start_timer("self-check", waking.SELF_CHECK_S)
        self._conclude(turn)

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """Answer for this instant. Called at scan instants, by the host or by a test."""
        if self._is_due(now, inputs):
            self._take_turn(now, inputs)
        return self._answer

    def panel(self) -> Panel:
        """What the display shows."""
        if self._panel is None:
            self._panel = panel.shown(self._memory, self._told)
        return self._panel

    def headline(self) -> Headline:
        """The first lines of the panel: all that is looked at after every scan."""
        return panel.headline(self._memory)

    def assume(self, settings: Mapping[str, Value]) -> None:
        """Have the sheet found like this, as somebody left it who wrote nothing down: no log, nothing goes stale.

        Raises ActionError or Refused for a setting there is none of, or a value it can't have.
        """
        fits = {name: checked(self._memory.sheet, name, value) for name, value in settings.items()}
        memory = self._memory
        memory.sheet.update(fits)
        if memory.guard_volts:
            memory.guards = guards.read_all(memory.sheet, memory.guard_volts)
        self._answer = answer.made_from(self._memory)
        self._panel = None

    def know_time(self, now: Us, second: int) -> None:
        """Have the clock found set: it reads `second` [s since the year began] at `now` [µs]."""
        self._memory.clock_ahead, self._memory.clock_stopped = calendar.ahead(now, second), False
        self._panel = None

    def enrolled(self) -> tuple[Enrolled, ...]:
        """The memory of transmitters, as one would read it out for keeping."""
        return tuple(Enrolled(b.serial, b.button, b.holder, b.function, b.fixed) for b in self._memory.radio.buttons)

    def last_count(self, serial: str) -> int:
        """Counter of the last word that was taken from a transmitter, 0 for a stranger."""
        return self._memory.radio.counters.get(serial, 0)

    def know(self, enrolled: tuple[Enrolled, ...]) -> None:
        """Have the memory of transmitters found like this: somebody wrote it before, and logged nothing."""
        self._memory.radio.buttons = [Transmitter(*each) for each in enrolled]
        for each in enrolled:
            self._memory.radio.counters.setdefault(each.serial, 0)
        self._panel = None

    # -- keyframes -------------------------------------------------------------------------------------

    def state(self) -> dict[str, Any]:
        """Everything that outlives an instant, as base types."""
        kept: dict[str, Any] = plain.to_plain(self._memory)
        return kept

    def restore(self, state: dict[str, Any]) -> None:
        """Be exactly as when `state` was taken."""
        self._memory = plain.from_plain(Memory, state)
        self._machine.restore(self._memory.state)
        self._answer = answer.made_from(self._memory)
        self._panel = None
        self._volts = ((), ())

    def __getstate__(self) -> dict[str, Any]:
        """What a copy needs: everything but what can be made again from the memory."""
        return {name: value for name, value in vars(self).items() if name not in _MADE_AGAIN}

    def __setstate__(self, state: dict[str, Any]) -> None:
        """Be as the one that `state` was taken from; a machine that is there already is kept."""
        machine = vars(self).get("_machine") or self._new_machine()
        vars(self).clear()
        vars(self).update(state)
        self._machine, self._told = machine, log.Told()
        self._answer = answer.made_from(self._memory)
        self._panel, self._volts = None, ((), ())

    # -- one due scan ----------------------------------------------------------------------------------

    def _is_due(self, now: Us, inputs: Inputs) -> bool:
        memory = self._memory
        if memory.state is State.NO_POWER:
            return inputs.supply_v > BOARD_MINIMUM_V
        if memory.fresh or inputs.radio or inputs.requests or 0 <= memory.wake <= now:
            return True
        if inputs.supply_v <= BOARD_MINIMUM_V or supply.is_on_battery(inputs) != memory.on_battery:
            return True
        if inputs.limit_v and limits.reached(memory.sheet, inputs.limit_v) != memory.limits:
            return True
        if (inputs.guard_v, inputs.command_v) != self._volts:
            now_read = (guards.read_all(memory.sheet, inputs.guard_v), commands.levels(inputs.command_v))
            if now_read != (memory.guards, memory.pressed):
                return True
            self._volts = (inputs.guard_v, inputs.command_v)
        return any(answer.holds(watch, inputs) for watch in self._answer.watches or ())

    def _turn(self, now: Us, inputs: Inputs | None) -> Turn:
        self._machine.restore(self._memory.state)
        return Turn(Us(next_on_grid(now, SCAN)), inputs or _UNREAD, self._memory, self._machine)

    def _take_turn(self, now: Us, inputs: Inputs) -> None:
        if self._memory.state is State.NO_POWER:
            self.power_up(now)
        limits.read(self._memory, inputs)
        turn = self._turn(now, reckoning.seen(self._memory, inputs, now))
        if inputs.supply_v <= BOARD_MINIMUM_V:
            self._lose_power(turn)
            return
        was = turn.state
        self._read(turn)
        for name in _FORGOTTEN:
            turn.take_timer(name)
        if not turn.timer_runs("brake"):
            turn.memory.brakes = False
        duty.rested(turn)
        transmitters.watch_enrolling(turn)
        conduct.guards_at(turn)
        service.serve(turn)
        if inputs.requests:
            conduct.guards_at(turn)  # the sheet may say something else of an input now
        transmitters.hear(turn)
        commands.read(turn)
        conduct.obey(turn)
        conduct.carry_on(turn)
        _light_yard(turn, was)
        self._conclude(turn)

    def _read(self, turn: Turn) -> None:
        """Take over what the terminals say; the first time after power, the counters as they stand."""
        memory, inputs = turn.memory, turn.inputs
        self._volts = (inputs.guard_v, inputs.command_v)
        memory.guard_volts, memory.command_volts = list(inputs.guard_v), list(inputs.command_v)
        memory.supply_v, memory.board_c = inputs.supply_v, inputs.board_c
        if memory.fresh:
            waking.first_look(turn)
        else:
            supply.read(turn, fresh=False)

    def _lose_power(self, turn: Turn) -> None:
        turn.fire("power fails")
        turn.note("power", "board", said("supply too low"))
        self._answer = answer.DEAD
        self._panel = None

    def _conclude(self, turn: Turn) -> None:
        memory = turn.memory
        duty.count(turn)
        settled = memory.state not in UNSETTLED and not turn.timer_runs("brake")
        if not memory.fresh:
            memory.position_kept = settled and memory.position_known
            for index, leaf in enumerate(memory.leaves):
                leaf.kept_position = turn.position(index)
        memory.at = turn.now
        drives = answer.drive(memory, 0), answer.drive(memory, 1)
        reckoning.settle(memory, drives, (turn.position(0), turn.position(1)), turn.now)
        memory.wake = answer.next_wake(memory, turn.now)
        if memory.fresh:
            memory.wake = turn.now
        self._answer = answer.made_from(memory)
        self._panel = None


def _light_yard(turn: Turn, was: State) -> None:
    """The yard light stays on for a while after the gate came to rest."""
    moved = was in UNSETTLED or was in STARTING or was is State.HELD
    if moved and turn.state in RESTING and word(turn.sheet, "yard light") == "on":
        turn.start_timer("yard light", number(turn.sheet, "yard light after"))


def sentences(controller: ReferenceController) -> list[str]:
    """The controller's log in words, oldest first; for plays in tests and for the bench."""
    return [log.sentence(note) for note in controller._memory.notes]
