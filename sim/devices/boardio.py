"""The board's own copper: fuse, converter, guard and command inputs, switched outputs.

The board is a part like any other: it has terminals and a stamp, and knows nothing of what hangs on them.
"""

from __future__ import annotations

from typing import Final, get_args

from sim.devices.part import JOINT_OHM, Terminal, Volts, pins
from sim.site import GUARD_NAMES, ControlName
from sim.wiring.elements import Contact, CurrentSource, Resistor, VoltageSource
from sim.wiring.netlist import Netlist
from sim.wiring.solve import Potentials

COMMAND_NAMES: Final[tuple[str, ...]] = get_args(ControlName)
"""Command inputs in the order of the terminals."""

EDGE_INPUTS: Final = ("active edge", "inactive edge")
"""Guard inputs that watch a resistance; the others watch a contact."""

OUTPUTS: Final = ("warning lamp", "yard light", "lock")
"""Switched outputs, fed from the board's supply."""

CONVERTER_STARTS_V: Final = 16.0
"""The board's rails come up with the supply at this [V]; the controller's terminals say the same. CP, no source."""

CONVERTER_STOPS_V: Final = 13.0
"""Below this they fall again [V]: the rails outlast the logic, so that no guard reads clear for want of one. CP."""

ACCESSORY_V: Final = 24.0
"""Accessory rail, held by the converter whatever the supply does [V]; 24 V ± 10 % (facts 8.1, accessory rail)."""

LOGIC_V: Final = 3.3
"""Behind the edges' pull-up resistors [V]. Facts C62."""

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

LOSS: Final = 1.1
"""The converter draws this times the current it gives: 24 V from about 27 V with its losses. CP, no source."""

FUSE_OHM_A: Final = 0.05
"""A fuse drops about this at its rated current: resistance is this over the rating [V]. CP, no source."""


class Board:
    """Everything between the supply terminals and the other terminals."""

    terminals: tuple[Terminal, ...] = (
        *pins("board supply", "plus", "minus"),
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
        self._stamp_rails(net)
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
            net.add(
                Contact(f"{output}, switch", "board.bus", f"{output}.plus", False, 0.05),
                Resistor(f"{output}, return", f"{output}.minus", "board.common", JOINT_OHM),
            )

    def _stamp_supply(self, net: Netlist) -> None:
        net.add(
            Contact("board fuse", "board supply.plus", "board.bus", True, self._fuse_ohm),
            Resistor("board supply, return", "board supply.minus", "board.common", JOINT_OHM),
            Resistor("board, logic", "board.bus", "board.common", 390.0),
            CurrentSource("board converter, input", "board.common", "board.bus", 0.0, 1e6),
        )

    def _stamp_rails(self, net: Netlist) -> None:
        net.add(
            VoltageSource("board converter", "board.converter", "board.common", ACCESSORY_V, 0.2),
            Contact("board converter, output", "board.converter", "accessory supply.plus", False, 0.01),
            Resistor("accessory supply, return", "accessory supply.minus", "board.common", JOINT_OHM),
            Contact("emitter supply, switch", "accessory supply.plus", "emitter supply.plus", True, 0.1),
            Resistor("emitter supply, return", "emitter supply.minus", "board.common", JOINT_OHM),
            VoltageSource("logic rail", "board.regulator", "board.common", LOGIC_V, 0.5),
            Contact("logic rail, output", "board.regulator", "board.logic", False, 0.01),
            Resistor("logic rail, rest", "board.logic", "board.common", 10e3),
        )

    def _stamp_contact_input(self, net: Netlist, name: str) -> None:
        node = input_node(name)
        net.add(
            Resistor(f"{name}, pull-up", "accessory supply.plus", node, PULL_UP_OHM),
            Resistor(f"{name}, input", node, "board.common", INPUT_OHM),
        )

    def react(self, net: Netlist, solved: Potentials) -> bool:
        """Run the converters while the supply is high enough, and draw what they need; True if the net changed."""
        bus = solved.volts("board.bus", "board.common")
        was = net["board converter, output"]
        least = CONVERTER_STOPS_V if isinstance(was, Contact) and was.closed else CONVERTER_STARTS_V
        runs = bus is not None and bus >= least
        changed = [net.switch(f"{rail}, output", runs) for rail in ("board converter", "logic rail")]
        # to the microampere: what it draws must not hang on the last bit of a solution
        amps = round(LOSS * float(solved.current("board converter, output").real), 6) if runs else 0.0
        feed = net["board converter, input"]
        if isinstance(feed, CurrentSource) and feed.amps != amps:
            net.change(feed.name, amps=amps)
            changed.append(True)
        return any(changed)


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
