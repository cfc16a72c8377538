"""Limit switches that are wired to the board's own inputs: what they read, and what of it can't be."""

from __future__ import annotations

from collections.abc import Sequence

from sim.controller import sensing
from sim.controller.installed import OPENS_WHEN_REACHED
from sim.controller.memory import Memory, Phase
from sim.controller.ports import CONTACT_THRESHOLD_V, LIMIT_TERMINALS, InputLine, Inputs
from sim.controller.sheet import Sheet, leaves, word
from sim.said import said
from sim.units import LEAVES


def reached(sheet: Sheet, volts: Sequence[float]) -> list[bool]:
    """Which of `LIMIT_TERMINALS` say that their leaf is there; empty where the sheet has none on the board."""
    if not volts or not sensing.limits_on_board(sheet):
        return []
    opens = word(sheet, "limit switches") == OPENS_WHEN_REACHED
    return [(level >= CONTACT_THRESHOLD_V) is opens for level in volts]


def read(memory: Memory, inputs: Inputs) -> None:
    """Take over what they say. A leaf at rest that is no longer at its limit switch was moved by somebody."""
    memory.limits, memory.limit_volts = reached(memory.sheet, inputs.limit_v), list(inputs.limit_v)
    for index, leaf in enumerate(memory.leaves):
        if memory.limits and leaf.move.phase is Phase.IDLE and not is_reached(memory, index, leaf.at_stop):
            leaf.at_stop = 0


def is_reached(memory: Memory, index: int, way: int) -> bool:
    """Whether a leaf is at its open (+1) or closed (−1) limit switch; never where none is on the board."""
    return bool(memory.limits) and way != 0 and memory.limits[2 * index + (way < 0)]


def against(memory: Memory) -> list[str]:
    """What of their readings can't be, in words."""
    return [
        said("both limit switches of the {leaf} leaf read reached", leaf=LEAVES[index])
        for index in leaves(memory.sheet)
        if is_reached(memory, index, 1) and is_reached(memory, index, -1)
    ]


def _meaning(there: bool, both: bool) -> str:
    if not there:
        return said("not reached")
    return said("reached, and so is the other one" if both else "reached")


def lines(memory: Memory) -> list[InputLine]:
    """How the panel shows them."""
    wrong = [is_reached(memory, index, 1) and is_reached(memory, index, -1) for index in (0, 1)]
    return [
        InputLine(
            name,
            said("closed ({volts:.1f} V)" if volts < CONTACT_THRESHOLD_V else "open ({volts:.1f} V)", volts=volts),
            _meaning(there, wrong[place // 2]),
            wrong[place // 2],
        )
        for place, (name, volts, there) in enumerate(
            zip(LIMIT_TERMINALS, memory.limit_volts, memory.limits, strict=False)
        )
        if place // 2 in leaves(memory.sheet)
    ]
