"""A net whose parts have come to rest, and everything that is read from it until something changes."""

from __future__ import annotations

from functools import cached_property
from typing import Final, TypeVar

from sim.devices.battery import CHARGER_FUSE, LINK
from sim.devices.boardio import BOARD_FUSE, COMMAND_NAMES, as_read
from sim.devices.encoder import Seen, seen
from sim.devices.look import Look
from sim.devices.output_path import Driven, Signs
from sim.site import GUARD_NAMES
from sim.wiring.elements import Element
from sim.wiring.solve import solve

MOST_KEPT: Final = 64
"""How many nets at rest a cabinet remembers: a gate's cycle goes through about a dozen, again and again."""

K = TypeVar("K")
V = TypeVar("V")


class Rest:
    """One net at rest. What is read from it is worked out when it is first asked for, and never again."""

    def __init__(self, key: tuple[Element, ...]) -> None:
        self.key = key
        self.solved = solve(key)
        """With both bridges off."""
        self.drives: dict[Signs, Driven] = {}
        """As the motors see it, by how the bridges are switched."""
        self.looks: dict[tuple[Signs, tuple[str, ...]], Look] = {}
        """Every node, by how the bridges are switched and which sources are quiet."""

    @cached_property
    def encoders(self) -> Seen:
        """What the board's counters see of the encoders, and how each wanders."""
        return seen(self.key)

    @cached_property
    def fuse_amps(self) -> tuple[float, float, float]:
        """Through board fuse, charger fuse and out of the battery [A], with both bridges off."""
        there = {element.name for element in self.key}
        board_a, charger_a, battery_a = (
            float(self.solved.current(name).real) if name in there else 0.0
            for name in (BOARD_FUSE, CHARGER_FUSE, LINK)
        )
        return abs(board_a), abs(charger_a), battery_a

    @cached_property
    def guard_volts(self) -> tuple[float, ...]:
        """Guard inputs as the board reads them [V]."""
        return as_read(self.solved.volts, GUARD_NAMES)

    @cached_property
    def command_volts(self) -> tuple[float, ...]:
        """Command inputs as the board reads them [V]."""
        return as_read(self.solved.volts, COMMAND_NAMES)


def keep(memory: dict[K, V], key: K, value: V) -> V:
    """Remember `value`, and forget the oldest if there are too many. Returns `value`."""
    if len(memory) >= MOST_KEPT:
        del memory[next(iter(memory))]
    memory[key] = value
    return value
