"""The board's own copper: fuse, guard and command inputs, switched outputs.

The board is a part like any other: it has terminals and a stamp, and knows nothing of what hangs on them.
"""

from __future__ import annotations

from typing import Final, get_args

from sim.devices.insulation import EARTH, insulation
from sim.devices.part import JOINT_OHM, Terminal, Volts, pins
from sim.devices.rails import LOCK_SUPPLY
from sim.site import GUARD_NAMES, ControlName
from sim.wiring.elements import Contact, Resistor
from sim.wiring.netlist import Netlist
from sim.wiring.solve import Potentials

COMMAND_NAMES: Final[tuple[str, ...]] = (*get_args(ControlName), "emergency contact")
"""Command inputs in the order of the terminals. What is wired to the last one is no control: people latch it."""

EDGE_INPUTS: Final = ("active edge", "inactive edge")
"""Guard inputs that watch a resistance; the others watch a contact."""

OUTPUTS: Final = ("warning lamp", "yard light", "lock")
"""Switched outputs, fed from the board's supply."""

PULL_UP_OHM: Final = 4700.0
"""From the accessory rail to a contact input [Ω]. CP, no source."""

EDGE_PULL_UP_OHM: Final = 8200.0
"""From the logic rail to an edge input [Ω]. Facts C62."""

INPUT_OHM: Final = 1e6
"""An input by itself, to common [Ω]. CP, no source."""

EDGE_INPUT_OHM: Final = 10e6
"""An edge input by itself, to common [Ω]. CP, no source."""

RESOLUTION_DIGITS: Final = 3
"""The board's converter of voltages into numbers resolves 1 mV. CP, no source."""

FUSE_OHM_A: Final = 0.05
"""A fuse drops about this at its rated current: resistance is this over the rating [V]. CP, no source."""


BOARD_FUSE: Final = "board fuse"

FUSED: Final = "board fuse.load side"
"""Behind the fuse."""

FEED: Final = "board, feed track"
"""Copper from the fuse to everything else on the board: what burns when a board is killed."""

SUPPRESSOR: Final = "board, suppressor"
"""Surge arrester from the board's common to the frame."""

STRUCK_OHM: Final = 1000.0
"""The arrester once it has struck [Ω]. CP, no source."""

STRIKES_V: Final = 350.0
"""It strikes at this across it [V]: above a test with 250 V, below one with 500 V. CP, no source."""


HOLDS_V: Final = 0.05
"""Once struck it goes out below this [V]. CP, no source."""


class Board:
    """Everything between the supply terminals and the other terminals."""

    terminals: tuple[Terminal, ...] = (
        *pins("board supply", "plus", "minus"),
        *pins("board fuse", "load side"),
        *pins("accessory supply", "plus", "minus"),
        *pins("emitter supply", "plus", "minus"),
        *(t for name in GUARD_NAMES for t in pins(name, "line" if name in EDGE_INPUTS else "contact", "common")),
        *(t for name in COMMAND_NAMES for t in pins(name, "contact", "common")),
        *(t for name in OUTPUTS for t in pins(name, "plus", "minus")),
    )

    def __init__(self, fuse_a: float) -> None:
        self._fuse_ohm = FUSE_OHM_A / fuse_a

    def stamp(self, net: Netlist) -> None:
        """Fuse, rails, inputs and outputs."""
        self._stamp_supply(net)
        for name in GUARD_NAMES:
            node = input_node(name)
            if name in EDGE_INPUTS:
                net.add(
                    Resistor(f"{name}, pull-up", "board.logic", node, EDGE_PULL_UP_OHM),
                    Resistor(f"{name}, input", node, "board.common", EDGE_INPUT_OHM),
                )
            else:
                self._stamp_contact_input(net, name)
            net.add(Resistor(f"{name}, common", f"{name}.common", "board.common", JOINT_OHM))
        for command in COMMAND_NAMES:
            self._stamp_contact_input(net, command)
            net.add(Resistor(f"{command}, common", f"{command}.common", "board.common", JOINT_OHM))
        for output in OUTPUTS:
            source = LOCK_SUPPLY if output == "lock" else "board.bus"
            net.add(
                Contact(f"{output}, switch", source, f"{output}.plus", False, 0.05),
                Resistor(f"{output}, return", f"{output}.minus", "board.common", JOINT_OHM),
            )

    def _stamp_supply(self, net: Netlist) -> None:
        net.add(
            Contact(BOARD_FUSE, "board supply.plus", FUSED, True, self._fuse_ohm),
            Contact(FEED, FUSED, "board.bus", True, 0.0005),
            Resistor("board supply, return", "board supply.minus", "board.common", 0.0005),
            Resistor("board, logic", "board.bus", "board.common", 390.0),
            insulation("board", "board.common"),
            Contact(SUPPRESSOR, "board.common", EARTH, False, STRUCK_OHM),
        )

    def _stamp_contact_input(self, net: Netlist, name: str) -> None:
        node = input_node(name)
        net.add(
            Resistor(f"{name}, pull-up", "accessory supply.plus", node, PULL_UP_OHM),
            Resistor(f"{name}, input", node, "board.common", INPUT_OHM),
        )

    def react(self, net: Netlist, solved: Potentials) -> bool:
        """The arrester strikes when too much stands across it, and holds until hardly anything does; True if so."""
        across = abs(solved.across("board.common", EARTH) or 0.0)
        struck = net[SUPPRESSOR]
        holds = HOLDS_V if isinstance(struck, Contact) and struck.closed else STRIKES_V
        return net.switch(SUPPRESSOR, across >= holds)


def input_node(name: str) -> str:
    """The node that a guard or command input reads, against the board's common."""
    return f"{name}.line" if name in EDGE_INPUTS else f"{name}.contact"


def as_read(volts: Volts, names: tuple[str, ...]) -> tuple[float, ...]:
    """What the board reads at these inputs [V], to its resolution. An input is never without a path to common."""
    found = []
    for name in names:
        level = volts(input_node(name), "board.common")
        found.append(round(level, RESOLUTION_DIGITS) + 0.0 if level is not None else 0.0)
    return tuple(found)
