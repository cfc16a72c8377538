"""The states of the gate and every way from one to another: one table, in rows and in whole numbers.

The table is all there is: no automatic transitions, no callbacks, no conditions. Who fires a trigger decides; a
trigger that a state has no row for is an error, never silence. The chart of the table is kept in the tests, so that
a change of behaviour is a visible change.

`ROWS` is for reading. `TABLE` is the same as whole numbers, and all that is needed to run it: what code that knows
neither words nor enums (a compiled loop over many gates, say) is given.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from enum import Enum
from typing import Final, Protocol

from sim.errors import ControllerError


class State(Enum):
    """What the gate does, in words. A driven state's words say who drives: jog, learning, hold-to-run."""

    NO_POWER = "no power"
    SELF_CHECK = "self-check"
    AT_REST = "at rest"
    HALTED = "halted"
    TESTING = "testing the guards"
    WARNING = "warning before moving"
    UNLOCKING = "freeing the lock"
    OPENING = "opening"
    CLOSING = "closing"
    STOPPING = "stopping"
    REVERSING = "reversing"
    HELD = "held by a guard"
    BACKING_OFF = "backing off"
    DWELLING = "open, waiting to close"
    FINDING = "finding its position"
    LEARNING = "travel learning"
    JOGGING = "jog"
    HELD_OPENING = "hold-to-run opening"
    HELD_CLOSING = "hold-to-run closing"


RESTING: Final = (State.AT_REST, State.HALTED, State.DWELLING)
"""Nothing is driven and nothing is about to be, except by the dwell."""

STARTING: Final = (State.TESTING, State.WARNING, State.UNLOCKING)
"""A movement was asked for and has not begun."""

TRAVELLING: Final = (State.OPENING, State.CLOSING, State.FINDING, State.LEARNING)
"""Driven by itself towards a stop."""

HELD_RUNS: Final = (State.HELD_OPENING, State.HELD_CLOSING)
"""Driven only while somebody holds a wired control."""

BY_HAND: Final = (State.JOGGING, *HELD_RUNS)
"""Driven only while somebody holds a control."""

UNSETTLED: Final = (*TRAVELLING, *BY_HAND, State.UNLOCKING, State.STOPPING, State.REVERSING, State.BACKING_OFF)
"""A leaf may be moving: where it stands is not kept if power goes now."""

GROUPS: Final[dict[str, tuple[State, ...]]] = {
    "power": (State.NO_POWER, State.SELF_CHECK),
    "at rest": RESTING,
    "starting": STARTING,
    "moving": TRAVELLING,
    "stopping, and guards": (State.STOPPING, State.REVERSING, State.HELD, State.BACKING_OFF),
    "by hand": BY_HAND,
}
"""Every state once, with those it belongs to; for whoever draws the table."""

_POWERED: Final = tuple(state for state in State if state is not State.NO_POWER)
_STOPPABLE: Final = tuple(s for s in _POWERED if s not in (State.SELF_CHECK, State.HALTED))

ROWS: Final[tuple[tuple[str, tuple[State, ...], State], ...]] = (
    # power
    ("power returns", (State.NO_POWER,), State.SELF_CHECK),
    ("power fails", _POWERED, State.NO_POWER),
    ("check is done", (State.SELF_CHECK,), State.AT_REST),
    # the stop circuit beats everything; a back-off that still has a load to take off comes to it after that
    ("stop opens", _STOPPABLE, State.HALTED),
    ("stop closes", (State.HALTED,), State.AT_REST),
    # from rest by command or by itself: guard test, warning, lock, movement
    ("start is asked", (State.AT_REST, State.DWELLING), State.TESTING),
    ("guards pass", (State.TESTING,), State.WARNING),
    ("goes on in sight", (State.TESTING,), State.WARNING),
    ("start is refused", STARTING, State.AT_REST),
    ("lock is freed", (State.WARNING,), State.UNLOCKING),
    ("go open", (*STARTING[1:], State.FINDING, State.REVERSING, State.HELD), State.OPENING),
    ("go close", (State.WARNING,), State.CLOSING),
    ("go finding", STARTING[1:], State.FINDING),
    ("go learning", STARTING[1:], State.LEARNING),
    # ends of a movement
    ("arrives", TRAVELLING, State.AT_REST),
    ("is told to stop", (*TRAVELLING, *BY_HAND, State.REVERSING, State.BACKING_OFF), State.STOPPING),
    ("stands", (State.STOPPING,), State.AT_REST),
    # guards and obstacles
    ("reverses", (State.CLOSING,), State.REVERSING),
    ("is held", (State.OPENING, State.CLOSING, State.REVERSING, *STARTING[1:]), State.HELD),
    ("resumes", (State.HELD,), State.WARNING),
    ("gives up", (State.HELD,), State.AT_REST),
    ("backs off", (*TRAVELLING, *HELD_RUNS, State.REVERSING), State.BACKING_OFF),
    # closing by itself
    ("dwell begins", (State.AT_REST,), State.DWELLING),
    ("dwell ends", (State.DWELLING,), State.AT_REST),
    # under a hand
    ("jog is held", (State.AT_REST,), State.JOGGING),
    ("run is held open", STARTING[1:], State.HELD_OPENING),
    ("run is held closed", (State.WARNING,), State.HELD_CLOSING),
)
"""(trigger, from, to), all of it."""

STATES: Final = tuple(State)
"""The states by their number in the table."""

TRIGGERS: Final = tuple(trigger for trigger, _, _ in ROWS)
"""The triggers by their number in the table."""

NO_WAY: Final = -1
"""Stands in the table where a state has no row for a trigger."""


def _whole_numbers() -> tuple[tuple[int, ...], ...]:
    """The rows as a table of numbers, all of it from `ROWS`."""
    ways = {(source, trigger): target for trigger, sources, target in ROWS for source in sources}
    return tuple(
        tuple(STATES.index(ways[state, trigger]) if (state, trigger) in ways else NO_WAY for trigger in TRIGGERS)
        for state in STATES
    )


TABLE: Final = _whole_numbers()
"""`TABLE[state][trigger]` is the number of the state it leads to, or `NO_WAY`; numbers as in `STATES` and `TRIGGERS`.

The first state is the one a gate begins in. Order and numbers are those of this version and are kept nowhere: what
is written down names states in words.
"""

_STATE_NUMBER: Final = {state: number for number, state in enumerate(STATES)}
_TRIGGER_NUMBER: Final = {trigger: number for number, trigger in enumerate(TRIGGERS)}


class Moved(Protocol):
    """The gate's present state, moved only along the rows of the table."""

    state: State

    told: Callable[[str, State], None] | None
    """Hears of each row that is taken: its trigger, and the state it was taken in."""

    def fire(self, trigger: str) -> None:
        """Take the row of `trigger` from the present state. Raises ControllerError if there is none."""
        ...

    def restore(self, state: State) -> None:
        """Be in `state` again, as kept."""
        ...


class GateMachine:
    """The table of numbers at work: one look-up a step."""

    def __init__(self) -> None:
        self.state: State = State.NO_POWER
        self.told: Callable[[str, State], None] | None = None

    def fire(self, trigger: str) -> None:
        """Take the row of `trigger` from the present state. Raises ControllerError if there is none."""
        row = TABLE[_STATE_NUMBER[self.state]]
        target = row[_TRIGGER_NUMBER[trigger]] if trigger in _TRIGGER_NUMBER else NO_WAY
        if target == NO_WAY:
            raise no_way(trigger, self.state)
        if self.told is not None:
            self.told(trigger, self.state)
        self.state = STATES[target]

    def restore(self, state: State) -> None:
        """Be in `state` again, as kept."""
        self.state = state


def no_way(trigger: str, state: State) -> ControllerError:
    """The error of a trigger that a state has no row for."""
    return ControllerError(f"'{trigger}' has no meaning while the gate is {state.value}")


def _mark(state: State) -> str:
    return state.name.lower()


def _chart_lines() -> Iterator[str]:
    yield "stateDiagram-v2"
    for state in State:
        yield f'    state "{state.value}" as {_mark(state)}'
    yield f"    [*] --> {_mark(State.NO_POWER)}"
    for trigger, sources, target in ROWS:
        for source in sources:
            yield f"    {_mark(source)} --> {_mark(target)}: {trigger}"


def chart() -> str:
    """The table as a Mermaid state diagram."""
    return "\n".join(_chart_lines()) + "\n"
