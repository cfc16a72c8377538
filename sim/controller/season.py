"""At what temperature the load was learned, and how far off that is today.

Grease, seals and oil are stiffer in the cold, so a load that was learned warm is too little in winter, and one that
was learned cold notices an obstacle late in summer. The margin is left as it is: widening it by itself in the cold
would take protection away that nobody measured. It is said instead, where it bites. The board feels its own
temperature, not the drives'.
"""

from __future__ import annotations

from typing import Final

from sim.controller.memory import Memory
from sim.said import joined, said

FAR_K: Final = 15.0
"""So far off, the learned load is called learned in another season [K]. CP, no source."""


def name(direction: int) -> str:
    """The key of a direction: +1 opening, −1 closing."""
    return "opening" if direction > 0 else "closing"


def learned_words(memory: Memory) -> str:
    """At what temperature the load was learned, and what that means today; empty while it isn't noted."""
    noted = memory.load_c
    if not memory.learned or not noted:
        return ""
    if len(set(noted.values())) == 1:
        at: str = said("{degrees_c:.0f} °C", degrees_c=next(iter(noted.values())))
    else:
        at = joined([said("{degrees_c:.0f} °C {way}", degrees_c=each, way=way) for way, each in noted.items()], ", ")
    return _today(memory, _farthest(memory), at)


def remark(memory: Memory, direction: int, what: str) -> str:
    """What effort alone told of, and at what temperature the load was learned unless that is much like today's."""
    learned_c = memory.load_c.get(name(direction))
    if learned_c is None or abs(memory.board_c - learned_c) < FAR_K:
        return what
    return said(
        "{what} (learned with the board at {learned_c:.0f} °C, now {board_c:.0f} °C)",
        what=what,
        learned_c=learned_c,
        board_c=memory.board_c,
    )


def _farthest(memory: Memory) -> float:
    return max(memory.load_c.values(), key=lambda degrees: abs(memory.board_c - degrees))


def _today(memory: Memory, learned_c: float, at: str) -> str:
    off = memory.board_c - learned_c
    if abs(off) < FAR_K:
        return said("load learned with the board at {at}", at=at)
    return said(
        "load learned with the board at {at}; now it is at {board_c:.0f} °C: it may need more effort than was learned"
        if off < 0.0
        else "load learned with the board at {at}; now it is at {board_c:.0f} °C: an obstacle may be noticed late",
        at=at,
        board_c=memory.board_c,
    )
