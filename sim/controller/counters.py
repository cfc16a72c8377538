"""How often the gate moved, met something, and was stopped by a guard: in all, and since the sheet was sealed last.

A visit ends with the seal: what is counted since is what happened while nobody from the trade was there.
"""

from __future__ import annotations

from dataclasses import fields

from sim.controller import calendar
from sim.controller.memory import Memory
from sim.controller.ports import Counter
from sim.controller.records import Counts
from sim.said import joined, said

_NAMES = {
    "movements": said("movements"),
    "obstacles": said("obstacles met"),
    "guard_trips": said("guard trips"),
}


def add(memory: Memory, what: str) -> None:
    """One more of `movements`, `obstacles` or `guard_trips`."""
    for counts in (memory.counted, memory.counted_since):
        setattr(counts, what, getattr(counts, what) + 1)


def begin_anew(memory: Memory, now: int) -> None:
    """A visit ends: what is counted from here on is since the visit."""
    memory.counted_since = Counts()
    memory.visited = calendar.words(calendar.reading(now, memory.clock_ahead))


def shown(memory: Memory) -> tuple[Counter, ...]:
    """Every counter as the panel shows it."""
    return tuple(
        Counter(_NAMES[each.name], getattr(memory.counted_since, each.name), getattr(memory.counted, each.name))
        for each in fields(Counts)
    )


def words(memory: Memory) -> str:
    """All of them in one line."""
    rows = shown(memory)
    in_all = joined([said("{name} {count}", name=row.name, count=row.in_all) for row in rows], ", ")
    if not memory.visited:
        return said("in all: {in_all}", in_all=in_all)
    since = joined([said("{name} {count}", name=row.name, count=row.since_visit) for row in rows], ", ")
    return said(
        "since the sheet was sealed ({visited}): {since}; in all: {in_all}",
        visited=memory.visited,
        since=since,
        in_all=in_all,
    )
