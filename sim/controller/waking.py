"""What the board does with power that came: it looks at itself and says where it stands. It never moves anything."""

from __future__ import annotations

from typing import Final

from sim.controller import calendar, rules, supply, whereabouts
from sim.controller.calendar import NOT_SET
from sim.controller.ports import CLOCK_STOPS_V
from sim.controller.turn import Turn
from sim.said import joined, said
from sim.units import LEAVES

SELF_CHECK_S: Final = 0.5
"""How long the board looks at itself after power came [s]. CP, no source."""

STRAY_A: Final = 0.5
"""A motor that is not driven draws nothing; this much is a current that comes from elsewhere [A]. CP, no source."""


def first_look(turn: Turn) -> None:
    """The terminals were read for the first time since power came: what was kept holds from here on."""
    memory = turn.memory
    memory.fresh = False
    if memory.clock_ahead != NOT_SET and turn.inputs.clock_v < CLOCK_STOPS_V:
        memory.clock_ahead, memory.clock_stopped = NOT_SET, True
    for index, leaf in enumerate(memory.leaves):
        leaf.origin = turn.inputs.counts[index] - leaf.kept_position
    turn.note("power", "board", said("has power again"))
    supply.read(turn, fresh=True)


def check(turn: Turn) -> None:
    """The self-check: once it is over the gate rests, and the panel says all that there is to say of it."""
    if not turn.take_timer("self-check"):
        return
    memory = turn.memory
    memory.ailments = _ailments(turn)
    for each in memory.ailments:
        turn.note("power", "self-check", each)
    turn.fire("check is done")
    found = [said("self-check: {ailment}", ailment=each) for each in memory.ailments]
    turn.say(joined([*found, *_where_it_stands(turn)], "; "))


def check_again(turn: Turn) -> None:
    """A start is asked for: what the self-check found may be mended by now."""
    if turn.memory.ailments:
        turn.memory.ailments = _ailments(turn)


def _ailments(turn: Turn) -> list[str]:
    """What keeps the gate still, in words."""
    found: list[str] = [
        said(
            "the {leaf} leaf's motor draws {amps:.1f} A though nothing drives it",
            leaf=LEAVES[index],
            amps=abs(turn.inputs.motor_a[index]),
        )
        for index in turn.leaves
        if abs(turn.inputs.motor_a[index]) >= STRAY_A
    ]
    contradiction = rules.contradiction(turn.sheet)
    return (
        [*found, said("the sheet contradicts itself: {contradiction}", contradiction=contradiction)]
        if contradiction
        else found
    )


def _where_it_stands(turn: Turn) -> list[str]:
    memory = turn.memory
    stands: list[str] = []
    if memory.learned and not memory.position_known:
        stands.append(said("position unknown: it stays as it is, and the first movement will be a slow finding run"))
    elif memory.learned and whereabouts.place(memory) != whereabouts.CLOSED:
        stands.append(said("power is back: it stays {place} until a new command", place=whereabouts.place(memory)))
    if memory.on_battery:
        stands.append(said("the board runs on its battery"))
    if memory.clock_stopped:
        stands.append(said("the clock stood still for want of power: set it"))
    return stands


def set_clock(turn: Turn, second: int) -> None:
    """Somebody sets the clock to a second of the year [s]."""
    memory = turn.memory
    memory.clock_ahead, memory.clock_stopped = calendar.ahead(int(turn.now), second), False
