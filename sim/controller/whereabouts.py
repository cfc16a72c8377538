"""Where the gate rests, in words, from the positions that were written down when it came to rest."""

from __future__ import annotations

from typing import Final

from sim.controller import motion, sensing
from sim.controller.memory import Memory
from sim.controller.sheet import leaves
from sim.said import said

CLOSED: Final = said("closed{of_a_gate}", of_a_gate="")
"""The place of a gate that is shut."""

OPEN: Final = said("open{of_a_gate}", of_a_gate="")
FOR_PEDESTRIANS: Final = said("open for pedestrians")

_PLACES: Final[dict[str, str]] = {
    "closed": CLOSED,
    "open": OPEN,
    "pedestrian": FOR_PEDESTRIANS,
    "between": said("part way open"),
}


def place(memory: Memory) -> str:
    """Where the gate rests, in words, from the positions written down when it came to rest."""
    if not memory.position_known:
        return said("position unknown") if memory.learned else said("at rest")
    where = [_leaf_place(memory, index) for index in leaves(memory.sheet)]
    if all(each == where[0] for each in where):
        return _PLACES[where[0]]
    return _PLACES["pedestrian" if memory.pedestrian and sorted(where) == ["closed", "open"] else "between"]


def _leaf_place(memory: Memory, index: int) -> str:
    leaf = memory.leaves[index]
    if not sensing.is_counted(memory.sheet):
        return ("between", "open", "closed")[leaf.at_stop]
    if abs(leaf.kept_position) <= motion.home_counts(leaf.travel):
        return "closed"
    return "open" if abs(leaf.kept_position - leaf.travel) <= sensing.ahead(memory.sheet, leaf.travel) else "between"
