"""What the board's electronics stand: an insulation tester that was put on while the board is connected kills it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sim.devices.boardio import COMMAND_NAMES, SUPPRESSOR, input_node
from sim.devices.insulation import EARTH
from sim.site import GUARD_NAMES
from sim.wiring.elements import Contact
from sim.wiring.netlist import Netlist
from sim.wiring.solve import Potentials

INPUT_MOST_V: Final = 60.0
"""An input, or the supply, bears this against the board's common [V]. CP, no source."""

PLACES: Final = ("board.bus", *(input_node(name) for name in (*GUARD_NAMES, *COMMAND_NAMES)))
"""Nodes that lead into the electronics."""


@dataclass(frozen=True, slots=True)
class Stress:
    """Volts across the electronics."""

    inside_v: float
    """The most that stands between a node of the electronics and the board's common [V]."""
    to_frame_v: float
    """Between the board's common and the frame [V]."""
    struck: bool
    """Whether the arrester between them has struck: its surge went through the board's copper."""

    @property
    def kills(self) -> bool:
        """Whether the board is dead afterwards."""
        return self.struck or self.inside_v > INPUT_MOST_V


def stress(solved: Potentials, net: Netlist) -> Stress:
    """What stands across the electronics in a solved net."""
    inside = max(abs(complex(solved.across(node, "board.common") or 0.0)) for node in PLACES)
    struck = net[SUPPRESSOR]
    frame = abs(complex(solved.across("board.common", EARTH) or 0.0))
    return Stress(inside, frame, isinstance(struck, Contact) and struck.closed)
