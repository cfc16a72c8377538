"""What the controller shows of itself: its state, its reasons, every input as it reads it. Never a cause."""

from __future__ import annotations

from typing import Final

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
from sim.controller.wording import LEAF
from sim.said import said

STARTS_AFTER: Final = {
    State.TESTING: said("the beams to react to their emitter supply"),
    State.WARNING: said("the end of the warning time"),
    State.UNLOCKING: said("the lock to be free"),
}
"""What a start waits for in each of its states."""


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
        return [said("power")] if state is State.NO_POWER else []
    if state in RESTING or state is State.HELD:
        return _to_start(memory)
    if state in STARTING:
        return [STARTS_AFTER[state]]
    return _leaf_waits(memory)


def _to_start(memory: Memory) -> list[str]:
    waits: list[str] = [said("{guard} to read clear", guard=GUARD_TERMINALS[i]) for i in _blocking(memory)]
    if not memory.learned:
        waits += [said("the sheet to say '{setting}'", setting=name) for name in unstated(memory.sheet)]
        waits.append(said("travel learning: {why}", why=NOT_LEARNED))
    if memory.doubt:
        waits.append(said("a whole stroke from stop to stop, or travel learning: {doubt}", doubt=memory.doubt))
    if memory.rests_until > memory.at:
        waits.append(duty.waits(memory))
    if memory.battery_low and (why := supply.forbids(memory, "close", -1)):
        waits.append(said("the power supply to feed the board again: {why}", why=why))
    held = [name for name in memory.held_over if name != COMMAND_TERMINALS[TIMER_CONTACT]]
    waits += [said("{control} to be let go", control=name) for name in held]
    waits += [said("{guard} to pass its test at the next start", guard=name) for name in standing(memory)]
    if memory.state is State.DWELLING:
        return [*waits, said("the end of the waiting time" if "dwell" in memory.timers else "the way to be clear")]
    if waits or memory.state is State.HELD:
        return waits
    off = why_not(memory) if word(memory.sheet, "auto-close") == "on" else ""
    return [said("a command ({why})", why=off) if off else said("a command")]


def _leaf_waits(memory: Memory) -> list[str]:
    waits: list[str] = []
    for index in leaves(memory.sheet):
        move = memory.leaves[index].move
        if move.phase is Phase.PAUSED:
            waits.append(
                said(
                    "{other} to be home before the {leaf} comes into the lap",
                    other=LEAF[1 - index],
                    leaf=LEAF[index],
                )
            )
        elif move.phase is Phase.WAITING and memory.state is not State.BACKING_OFF:
            late = move.start_at > memory.at
            waits.append(
                said(
                    "{leaf} waits for its delay" if late else "{leaf} waits for the {other}",
                    leaf=LEAF[index],
                    other=LEAF[1 - index],
                )
            )
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
        return InputLine(name, reads, said("declared not fitted"), False)
    blocks = index in _blocking(memory)
    if not blocks:
        failed = memory.failed_tests.get(name)
        if failed:
            return InputLine(name, reads, said("at its last test it {failed}", failed=failed), False)
        return InputLine(name, reads, said("clear ({reaction})", reaction=reaction), False)
    if index not in guards.not_clear(memory.sheet, memory.guards, 1):
        return InputLine(name, reads, said("keeps the gate from closing ({reaction})", reaction=reaction), True)
    return InputLine(name, reads, said("keeps the gate still ({reaction})", reaction=reaction), True)


def _command_lines(memory: Memory) -> list[InputLine]:
    if not memory.pressed:
        return []
    return [_command_line(memory, index) for index in range(len(COMMAND_TERMINALS))]


def _command_line(memory: Memory, index: int) -> InputLine:
    name, volts = COMMAND_TERMINALS[index], memory.command_volts[index]
    pressed = memory.pressed[index]
    reads = said("closed ({volts:.1f} V)" if pressed else "open ({volts:.1f} V)", volts=volts)
    if not pressed:
        return InputLine(name, reads, said("not given"), False)
    if index in HOLD_OPEN:
        return InputLine(name, reads, said("keeps an open gate open"), True)
    if name in memory.held_over:
        return InputLine(name, reads, said("ignored until it is let go and given again"), False)
    return InputLine(name, reads, said("given"), False)


def _supply_lines(memory: Memory) -> list[InputLine]:
    if not memory.on_battery or not memory.guards:
        return []
    policy = "battery low" if memory.battery_low else "on battery"
    reads = said("from the battery ({volts:.1f} V)", volts=memory.supply_v)
    meaning = said("{setting}: {policy}", setting=policy, policy=word(memory.sheet, policy))
    return [InputLine(said("board supply"), reads, meaning, bool(supply.forbids(memory, "close", -1)))]


def _clock_lines(memory: Memory) -> list[InputLine]:
    if not memory.clock_stopped:
        return []
    reads = said("stood still for want of power")
    return [InputLine(said("board clock"), reads, said("the log has no dates until it is set"), False)]
