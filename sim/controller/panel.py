"""What the controller shows of itself: its state, its reasons, every input as it reads it. Never a cause."""

from __future__ import annotations

from sim.controller import counters, duty, guards, limits, log, rules, season, supply, whereabouts
from sim.controller.beam_check import standing
from sim.controller.commands import HOLD_OPEN, TIMER_CONTACT
from sim.controller.dwelling import why_not
from sim.controller.machine import RESTING, STARTING, State
from sim.controller.memory import Memory, Phase
from sim.controller.ports import COMMAND_TERMINALS, GUARD_TERMINALS, Headline, HeardWord, InputLine, Panel
from sim.controller.service import locked
from sim.controller.settings import NOT_FITTED
from sim.controller.sheet import leaves, unstated, word
from sim.controller.starting import NOT_LEARNED
from sim.units import LEAVES


def shown(memory: Memory, told: log.Told) -> Panel:
    """The panel now. A pure look; `told` spares putting old notes in words again."""
    sentences, happenings, dates = told.of(memory.notes)
    return Panel(
        state=_state(memory),
        message=memory.message,
        waits_for=tuple(_waits_for(memory)),
        inputs=tuple(
            _guard_lines(memory)
            + _command_lines(memory)
            + limits.lines(memory)
            + _supply_lines(memory)
            + _clock_lines(memory)
        ),
        settings=dict(memory.sheet),
        travel=_travel(memory),
        transmitters=tuple((button.holder, button.function) for button in memory.radio.buttons),
        heard=tuple(HeardWord(each.holder, each.step, each.verdict) for each in memory.radio.heard),
        log=sentences,
        sealed=bool(memory.sealed_by),
        locked=locked(memory),
        answer=memory.answer,
        accepted=memory.accepted,
        happenings=happenings,
        dates=dates,
        learned=season.learned_words(memory),
        counters=counters.shown(memory),
        counted=counters.words(memory),
        warnings=rules.warnings(memory.sheet),
    )


def headline(memory: Memory) -> Headline:
    """The same state, message and travel without the rest of the panel."""
    return Headline(_state(memory), memory.message, _travel(memory))


def _state(memory: Memory) -> str:
    if memory.state is State.AT_REST:
        return whereabouts.place(memory)
    return str(memory.state.value)


def _travel(memory: Memory) -> tuple[int | None, int | None]:
    known = [leaf.travel if memory.learned and leaf.travel else None for leaf in memory.leaves]
    return known[0], known[1] if 1 in leaves(memory.sheet) else None


# what it waits for


def _waits_for(memory: Memory) -> list[str]:
    state = memory.state
    if state is State.NO_POWER or not memory.guards:
        return ["power"] if state is State.NO_POWER else []
    if state in RESTING or state is State.HELD:
        return _to_start(memory)
    if state in STARTING:
        return {
            State.TESTING: ["the beams to react to their emitter supply"],
            State.WARNING: ["the end of the warning time"],
            State.UNLOCKING: ["the lock to be free"],
        }[state]
    return _leaf_waits(memory)


def _to_start(memory: Memory) -> list[str]:
    waits = [f"{GUARD_TERMINALS[i]} to read clear" for i in _blocking(memory)]
    if not memory.learned:
        waits += [f"the sheet to say '{name}'" for name in unstated(memory.sheet)]
        waits.append(f"travel learning: {NOT_LEARNED}")
    if memory.doubt:
        waits.append(f"a whole stroke from stop to stop, or travel learning: {memory.doubt}")
    if memory.rests_until > memory.at:
        waits.append(f"the motors to rest{duty.until(memory)}")
    if memory.battery_low and supply.forbids(memory, "close", -1):
        waits.append(f"the power supply to feed the board again: {supply.forbids(memory, 'close', -1)}")
    waits += [f"{name} to be let go" for name in memory.held_over if name != COMMAND_TERMINALS[TIMER_CONTACT]]
    waits += [f"{name} to pass its test at the next start" for name in standing(memory)]
    if memory.state is State.DWELLING:
        return [*waits, "the end of the waiting time" if "dwell" in memory.timers else "the way to be clear"]
    if waits or memory.state is State.HELD:
        return waits
    off = why_not(memory) if word(memory.sheet, "auto-close") == "on" else ""
    return [f"a command ({off})" if off else "a command"]


def _leaf_waits(memory: Memory) -> list[str]:
    waits = []
    for index in leaves(memory.sheet):
        move = memory.leaves[index].move
        if move.phase is Phase.PAUSED:
            waits.append(f"{LEAVES[1 - index]} leaf to be home before the {LEAVES[index]} leaf comes into the lap")
        elif move.phase is Phase.WAITING and memory.state is not State.BACKING_OFF:
            late = move.start_at > memory.at
            waits.append(f"{LEAVES[index]} leaf waits for {'its delay' if late else f'the {LEAVES[1 - index]} leaf'}")
    return waits


def _blocking(memory: Memory) -> list[int]:
    return guards.not_clear(memory.sheet, memory.guards, 0)


# every input, as it is read


def _guard_lines(memory: Memory) -> list[InputLine]:
    if not memory.guards:
        return []
    return [_guard_line(memory, index) for index in range(len(GUARD_TERMINALS))]


def _guard_line(memory: Memory, index: int) -> InputLine:
    name, volts = GUARD_TERMINALS[index], memory.guard_volts[index]
    reaction = guards.declared(memory.sheet, index)
    reads = guards.in_words(memory.sheet, index, volts)
    if reaction == NOT_FITTED:
        return InputLine(name, reads, "declared not fitted", False)
    blocks = index in _blocking(memory)
    if not blocks:
        failed = memory.failed_tests.get(name)
        return InputLine(name, reads, f"at its last test it {failed}" if failed else f"clear ({reaction})", False)
    if index not in guards.not_clear(memory.sheet, memory.guards, 1):
        return InputLine(name, reads, f"keeps the gate from closing ({reaction})", True)
    return InputLine(name, reads, f"keeps the gate still ({reaction})", True)


def _command_lines(memory: Memory) -> list[InputLine]:
    if not memory.pressed:
        return []
    return [_command_line(memory, index) for index in range(len(COMMAND_TERMINALS))]


def _command_line(memory: Memory, index: int) -> InputLine:
    name, volts = COMMAND_TERMINALS[index], memory.command_volts[index]
    pressed = memory.pressed[index]
    reads = f"{'closed' if pressed else 'open'} ({volts:.1f} V)"
    if not pressed:
        return InputLine(name, reads, "not given", False)
    if index in HOLD_OPEN:
        return InputLine(name, reads, "keeps an open gate open", True)
    if name in memory.held_over:
        return InputLine(name, reads, "ignored until it is let go and given again", False)
    return InputLine(name, reads, "given", False)


def _supply_lines(memory: Memory) -> list[InputLine]:
    if not memory.on_battery or not memory.guards:
        return []
    policy = "battery low" if memory.battery_low else "on battery"
    meaning = f"{policy}: {word(memory.sheet, policy)}"
    blocks = bool(supply.forbids(memory, "close", -1))
    return [InputLine("board supply", f"from the battery ({memory.supply_v:.1f} V)", meaning, blocks)]


def _clock_lines(memory: Memory) -> list[InputLine]:
    if not memory.clock_stopped:
        return []
    return [InputLine("board clock", "stood still for want of power", "the log has no dates until it is set", False)]
