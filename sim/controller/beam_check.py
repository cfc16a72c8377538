"""The guard test before a start: drop the emitter supply, see every beam trip, give it back, see every beam recover.

A beam that is tripped already is recorded as tripped, not as failed; it is tested at the next start that finds it
clear. Edges are watched by their value all the time, and the stop circuit is not on the switched supply.
"""

from __future__ import annotations

from typing import Final

from sim.controller import guards
from sim.controller.memory import GuardTest, Memory
from sim.controller.ports import GUARD_TERMINALS
from sim.controller.settings import NOT_FITTED
from sim.controller.sheet import word
from sim.controller.turn import Turn
from sim.said import said

TEST_S: Final = 0.5
"""A beam must react to its emitter supply, and recover, within this [s]. Facts 2.2, common practice."""

SILENT: Final = said("did not react when its emitter supply was dropped")
DARK: Final = said("did not recover when its emitter supply came back")
PASSED: Final = said("passed")


def begin(turn: Turn) -> None:
    """Drop the emitter supply if there is a beam to test; called when a start is asked."""
    memory = turn.memory
    memory.test = test = GuardTest()
    if word(turn.sheet, "guard test") == "off":
        return
    for index in guards.beams(turn.sheet):
        if guards.declared(turn.sheet, index) == NOT_FITTED:
            continue
        if _is_clear(turn, index):
            test.tested.append(index)
        else:
            turn.note("guard test", GUARD_TERMINALS[index], said("tripped, not tested"))
    if test.tested:
        test.dropped = True
        turn.start_timer("guard test", TEST_S)


def is_over(turn: Turn) -> bool:
    """Carry the test on; whether it has come to its end. Called at each due scan while it runs."""
    test = turn.memory.test
    late = turn.take_timer("guard test")
    if test.dropped:
        silent = [index for index in test.tested if _is_clear(turn, index)]
        if silent and not late:
            return False
        test.dropped = False
        test.failed = {GUARD_TERMINALS[index]: SILENT for index in silent}
        turn.start_timer("guard test", TEST_S)
        return False
    dark = [index for index in test.tested if not _is_clear(turn, index)]
    none_reacted = bool(test.tested) and len(test.failed) == len(test.tested)
    if not late and (dark or none_reacted):
        return False  # beams that never went dark show nothing by reading clear, so they have until the time is up
    turn.stop_timer("guard test")
    test.failed |= {GUARD_TERMINALS[index]: DARK for index in dark}
    return True


def write_down(turn: Turn) -> None:
    """Note how each beam did, once the test is over."""
    memory = turn.memory
    for index in memory.test.tested:
        name = GUARD_TERMINALS[index]
        how = memory.test.failed.get(name, PASSED)
        turn.note("guard test", name, how)
        if name in memory.test.failed:
            memory.failed_tests[name] = how
        else:
            memory.failed_tests.pop(name, None)
    memory.test = GuardTest()


def standing(memory: Memory) -> dict[str, str]:
    """Guards that failed their last test and are still told to be there and to be tested: how each failed."""
    if word(memory.sheet, "guard test") == "off":
        return {}
    tested = [GUARD_TERMINALS[index] for index in guards.beams(memory.sheet)]
    declared = [name for name in tested if word(memory.sheet, name) != NOT_FITTED]
    return {name: how for name, how in memory.failed_tests.items() if name in declared}


def _is_clear(turn: Turn, index: int) -> bool:
    return turn.memory.guards[index] == guards.Reading.CLEAR.value
