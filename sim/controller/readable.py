"""The controller's other form: every scan takes a whole turn, on a state machine of the `transitions` library.

It is there to be read and to be compared with: no question whether anything is due, no answer kept from last time.
`ReferenceController` answers a scan in which nothing is due without touching anything; that it may, is what the
comparison of the two shows, scan for scan and bit for bit.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, is_dataclass
from functools import cache
from operator import attrgetter
from typing import Any, Final

from transitions import Machine

from sim.controller.machine import ROWS, State, no_way
from sim.controller.memory import Leaf, Memory
from sim.controller.ports import BOARD_MINIMUM_V, Inputs, Scan
from sim.controller.reference import ReferenceController
from sim.units import Us

READINGS: Final = ("at", "guard_volts", "command_volts", "supply_v", "limit_volts", "board_c")
"""What of the memory only says what was read, and when, the last time that anything was due."""

TOLD_BY_A_COUNT: Final = ("notes",)
"""What is never changed, only added to, and counted beside."""


class ChartMachine:
    """The rows of the table as `transitions` runs them: automatic ways off, no callbacks, no conditions."""

    state: State

    def __init__(self) -> None:
        self.told: Callable[[str, State], None] | None = None
        self._machine: Any = Machine(
            model=self,
            states=State,
            transitions=[
                {"trigger": trigger, "source": list(sources), "dest": target} for trigger, sources, target in ROWS
            ],
            initial=State.NO_POWER,
            auto_transitions=False,
        )

    def fire(self, trigger: str) -> None:
        """Take the row of `trigger` from the present state. Raises ControllerError if there is none."""
        if trigger not in self._machine.get_triggers(self.state):
            raise no_way(trigger, self.state)
        if self.told is not None:
            self.told(trigger, self.state)
        self._machine.events[trigger].trigger(self)

    def restore(self, state: State) -> None:
        """Be in `state` again, as kept."""
        self._machine.set_state(state, model=self)


class ReadableController(ReferenceController):
    """The same controller without a short way: for tests and for the bench, some thirty times as slow."""

    _new_machine = ChartMachine

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """Take a whole turn. A board without power takes none.

        A turn in which nothing changed and nobody said anything is as if it had not been: its readings are not kept.
        """
        memory = self._memory
        if memory.state is State.NO_POWER and inputs.supply_v <= BOARD_MINIMUM_V:
            return self._answer
        before, read = remembered(memory), _readings(memory)
        self._take_turn(now, inputs)
        if not (inputs.radio or inputs.requests) and self._memory is memory and remembered(memory) == before:
            _read_again(memory, read)
        return self._answer


def _readings(memory: Memory) -> tuple[dict[str, Any], list[int]]:
    return {name: getattr(memory, name) for name in READINGS}, [leaf.kept_position for leaf in memory.leaves]


def _read_again(memory: Memory, read: tuple[dict[str, Any], list[int]]) -> None:
    for name, value in read[0].items():
        setattr(memory, name, value)
    for leaf, position in zip(memory.leaves, read[1], strict=True):
        leaf.kept_position = position


# what a turn may change

_PLAIN: Final = (bool, int, float, str, type(None))
_LEFT_OUT: Final[dict[Any, tuple[str, ...]]] = {Memory: (*READINGS, *TOLD_BY_A_COUNT), Leaf: ("kept_position",)}


def remembered(value: Any) -> Any:
    """A memory, or a part of one, as something that stays as it is and compares: all but the readings."""
    kind: Any = type(value)
    if kind in _PLAIN:
        return value
    if kind is list:
        return tuple(value) if not value or type(value[0]) in _PLAIN else tuple([remembered(each) for each in value])
    if kind is dict:
        return dict(value)
    look = _parts(kind)
    return value if look is None else tuple([remembered(part) for part in look(value)])


@cache
def _parts(kind: Any) -> Callable[[Any], tuple[Any, ...]] | None:
    """What reads off all that counts of a kind of dataclass, the first part twice (one alone would be no tuple)."""
    if not is_dataclass(kind):
        return None
    names = tuple(field.name for field in fields(kind) if field.name not in _LEFT_OUT.get(kind, ()))
    return attrgetter(*names, names[0])
