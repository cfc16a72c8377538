"""The controller's log as it is told: each note put in words once, and always what is really noted."""

from __future__ import annotations

import copy

from sim.controller import log
from sim.controller.memory import Memory


def fresh(memory: Memory) -> tuple[object, object]:
    """What somebody who has never looked before is told."""
    return log.Told().of(memory.notes)


def test_looking_again_tells_the_same_as_looking_first() -> None:
    """However often and whenever it was looked at, the log is that of a first look; old notes go at the front."""
    memory, told = Memory(), log.Told()
    for number in range(log.MOST_NOTES + 50):
        log.add(memory, number * 10_000, "guard", "outer beam", f"open, {number}")
        if number % 7 == 0:
            assert told.of(memory.notes) == fresh(memory)
    assert told.of(memory.notes) == fresh(memory)
    assert len(told.of(memory.notes)[0]) == log.MOST_NOTES


def test_another_past_is_told_as_it_is() -> None:
    """After going back in time the log is the restored one, though its numbers and times may be the same."""
    memory, told = Memory(), log.Told()
    for number in range(5):
        log.add(memory, number, "guard", "outer beam", "open")
    before = copy.deepcopy(memory)
    log.add(memory, 6, "guard", "outer beam", "closed")
    told.of(memory.notes)
    log.add(before, 6, "guard", "inner beam", "closed")
    assert told.of(before.notes) == fresh(before)
    del before.notes[2:]
    assert told.of(before.notes) == fresh(before)
    before.notes.clear()
    assert told.of(before.notes) == ((), (), ())


def test_nothing_is_put_in_words_twice() -> None:
    """Without a new note the very same answer is given."""
    memory, told = Memory(), log.Told()
    log.add(memory, 0, "guard", "outer beam", "open")
    assert told.of(memory.notes)[0] is told.of(memory.notes)[0]
