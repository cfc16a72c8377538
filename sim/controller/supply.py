"""What the board runs on, its power supply or its battery, and what the sheet says about that.

The board reads a contact of its own takeover relay and its own supply voltage, nothing else: it knows neither the
mains nor the charge of the battery. Nothing here stops a movement under way; only starts from rest are judged.
"""

from __future__ import annotations

from typing import Final

from sim.controller import beam_check, commands, motion
from sim.controller.machine import RESTING
from sim.controller.memory import Memory, Wish
from sim.controller.ports import FEED_THRESHOLD_V, Inputs, Watch, Watched
from sim.controller.sheet import number, word
from sim.controller.turn import Turn
from sim.said import said

CONFIRM_S: Final = 2.0
"""A low battery must be low again after this long: a motor that starts draws its peak for less than 0.5 s (facts 5.3,
common practice) [s]."""

HYSTERESIS_V: Final = 0.3
"""Recovered by more than this when it is looked at again, it was not low [V]. CP, no source."""

LOW: Final = said("the battery is low")

OPENS_ONCE: Final = "opens once and stays open"
CLOSES_ONCE: Final = "closes once"

_BY_ITSELF: Final = {OPENS_ONCE: "open", CLOSES_ONCE: "close"}


def is_on_battery(inputs: Inputs) -> bool:
    """Whether the takeover relay has the battery feed the board."""
    return inputs.feed_v < FEED_THRESHOLD_V


def read(turn: Turn, *, fresh: bool) -> None:
    """Take note of what feeds the board. On the first look after power came nothing is asked for, whatever it is."""
    memory = turn.memory
    on_battery = is_on_battery(turn.inputs)
    if on_battery != memory.on_battery:
        memory.on_battery, memory.battery_low, memory.of_itself = on_battery, False, ""
        turn.stop_timer("battery low")
        turn.note("power", "board", said("runs on its battery" if on_battery else "runs on its power supply again"))
        _tell(
            turn, said("the board runs on its battery" if on_battery else "the board runs on its power supply again")
        )
        if on_battery and not fresh:
            memory.of_itself = _BY_ITSELF.get(word(turn.sheet, "on battery"), "")
    if on_battery and not memory.battery_low:
        _watch_low(turn, fresh=fresh)


def _watch_low(turn: Turn, *, fresh: bool) -> None:
    memory, volts = turn.memory, turn.inputs.supply_v
    least = number(turn.sheet, "battery low below")
    if turn.take_timer("battery low"):
        if volts <= least + HYSTERESIS_V:
            memory.battery_low = True
            turn.note("power", "battery", said("low, {volts:.1f} V", volts=volts))
            _tell(turn, said("the battery is low ({volts:.1f} V)", volts=volts))
            memory.of_itself = _BY_ITSELF.get(word(turn.sheet, "battery low"), "")
    elif volts <= least and not turn.timer_runs("battery low"):
        turn.start_timer("battery low", CONFIRM_S)


def _tell(turn: Turn, message: str) -> None:
    """Say it, unless the message now says why the gate moves."""
    if turn.state in RESTING:
        turn.say(message)


def watches(memory: Memory) -> list[Watch]:
    """What should wake the controller: its own supply falling to where the battery counts as low."""
    if not memory.on_battery or memory.battery_low or "battery low" in memory.timers:
        return []
    return [Watch(Watched.SUPPLY_AT_MOST, 0, number(memory.sheet, "battery low below"))]


def forbids(memory: Memory, what: str, way: int) -> str:
    """Why the battery forbids a start, in words; empty if it doesn't. `way`: +1 opens, −1 closes, 0 does both."""
    if not memory.battery_low or what in commands.UNSPARED:
        return ""
    policy = word(memory.sheet, "battery low")
    if policy == "stays as it is":
        return said("the battery is low: the gate stays as it is")
    if policy in ("opens only", OPENS_ONCE) and way <= 0:
        return said(
            "the battery is low: the gate opens only" if way < 0 else "the battery is low: the gate closes no leaf"
        )
    return ""


def why_no_auto_close(memory: Memory) -> str:
    """Why the gate would not close by itself for want of power, in words; empty if it would."""
    if not memory.on_battery:
        return ""
    if memory.battery_low and word(memory.sheet, "battery low") != "as usual":
        return LOW
    policy = word(memory.sheet, "on battery")
    return "" if policy in ("as usual", CLOSES_ONCE) else said("it runs on its battery")


def wish(turn: Turn) -> Wish | None:
    """What the sheet has the gate do once, now that it rests on its battery; None for nothing.

    It is a movement by itself like an auto-close: never after a halt, never with a failed guard test, never to find
    its position. What stands against it is said; it isn't tried again.
    """
    memory = turn.memory
    what, memory.of_itself = memory.of_itself, ""
    if not what or all(_is_there(turn, what, index) for index in turn.leaves):
        return None
    reason = said("the board, its battery low" if memory.battery_low else "the board, on its battery")
    against = _against(memory)
    if against:
        turn.refuse(what, said("wanted by {reason}; {against}", reason=reason, against=against))
        return None
    return Wish(what, reason, by_itself=True)


def _is_there(turn: Turn, what: str, index: int) -> bool:
    known = turn.memory.learned and turn.memory.position_known
    return known and (motion.is_open(turn, index) if what == "open" else motion.is_home(turn, index))


def _against(memory: Memory) -> str:
    if not memory.learned:
        return said("learning is not finished")
    if not memory.position_known:
        return said("the position is unknown")
    if memory.waits_for_command:
        return said("nothing moves by itself before a new command")
    return said("a guard failed its test") if beam_check.standing(memory) else ""
