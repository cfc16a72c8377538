"""The board's rails: 24 V for accessories with its limit, the logic's own, and 12 V for the lock.

Each is a converter behind an inner resistance that takes from the board's bus what it gives, with its losses.
"""

from __future__ import annotations

from typing import Final

from sim.devices.part import JOINT_OHM
from sim.wiring.elements import Contact, CurrentSource, Resistor, VoltageSource
from sim.wiring.netlist import Netlist
from sim.wiring.solve import Potentials

CONVERTER_STARTS_V: Final = 16.0
"""The board's rails come up with the supply at this [V]; the controller's terminals say the same. CP, no source."""

CONVERTER_STOPS_V: Final = 13.0
"""Below this they fall again [V]: the rails outlast the logic, so that no guard reads clear for want of one. CP."""

ACCESSORY_V: Final = 24.0
"""Accessory rail, held by the converter whatever the supply does [V]; 24 V ± 10 % (facts 8.1, accessory rail)."""

LOGIC_V: Final = 3.3
"""Behind the edges' pull-up resistors [V]. Facts C62."""

LOSS: Final = 1.1
"""The converter draws this times the current it gives: 24 V from about 27 V with its losses. CP, no source."""

LOCK_V: Final = 12.6
"""What the lock output is fed with [V]: a little above the 12 V of the lock (facts 8, reference bench), for its
cable. CP, no source."""

LOCK_SUPPLY: Final = "board.lock supply"

SHORT_SHARE: Final = 0.4
"""Into a short the accessory rail still gives this share of its limit: it folds back. CP, no source."""

RAIL_OHM: Final = 0.21
"""The accessory converter up to its terminal [Ω]."""

VOLT_DIGITS: Final = 2
"""A rail that folds back does so in steps of 10 mV, so that it comes to rest."""


class Rails:
    """Three converters on the board."""

    def __init__(self, limit_a: float) -> None:
        self._limit_a = limit_a

    def stamp(self, net: Netlist) -> None:
        """Sources, their switches, and what they take from the bus."""
        net.add(
            CurrentSource("board converter, input", "board.common", "board.bus", 0.0, 1e6),
            VoltageSource("board converter", "board.converter", "board.common", ACCESSORY_V, 0.2),
            Contact("board converter, output", "board.converter", "accessory supply.plus", False, 0.01),
            Resistor("accessory supply, return", "accessory supply.minus", "board.common", JOINT_OHM),
            Contact("emitter supply, switch", "accessory supply.plus", "emitter supply.plus", True, 0.1),
            Resistor("emitter supply, return", "emitter supply.minus", "board.common", JOINT_OHM),
            VoltageSource("logic rail", "board.regulator", "board.common", LOGIC_V, 0.5),
            Contact("logic rail, output", "board.regulator", "board.logic", False, 0.01),
            Resistor("logic rail, rest", "board.logic", "board.common", 10e3),
            VoltageSource("lock converter", "board.lock converter", "board.common", LOCK_V, 0.1),
            Contact("lock converter, output", "board.lock converter", LOCK_SUPPLY, False, 0.01),
        )

    def react(self, net: Netlist, solved: Potentials, *, may_start: bool = True) -> bool:
        """Run while the supply is high enough, fold back when overloaded, draw what is given; True if it changed."""
        bus = solved.volts("board.bus", "board.common")
        was = net["board converter, output"]
        least = CONVERTER_STOPS_V if isinstance(was, Contact) and was.closed else CONVERTER_STARTS_V
        runs = may_start and bus is not None and bus >= least
        changed = [
            net.switch(f"{rail}, output", runs) for rail in ("board converter", "logic rail", "lock converter")
        ]
        accessory_a = float(solved.current("board converter, output").real) if runs else 0.0
        lock_a = float(solved.current("lock converter, output").real) if runs else 0.0
        changed.append(self._limited(net, solved, accessory_a))
        # to the microampere: what it draws must not hang on the last bit of a solution
        amps = round(LOSS * (accessory_a + lock_a * LOCK_V / ACCESSORY_V), 6) + 0.0
        feed = net["board converter, input"]
        if isinstance(feed, CurrentSource) and feed.amps != amps:
            net.change(feed.name, amps=amps)
            changed.append(True)
        return any(changed)

    def _limited(self, net: Netlist, solved: Potentials, amps: float) -> bool:
        """The rail's source for the load it has: full voltage up to the limit, less beyond it.

        Into a load of R ohms a rail that folds back gives limit·(s + (1 − s)·V/24) amperes, s the share left in a
        short: V = R·s·limit/(1 − R·(1 − s)·limit/24).
        """
        volts = ACCESSORY_V
        rail = solved.volts("board.converter", "board.common")
        if amps > 1e-3 and rail is not None and rail > 0.0:
            load = rail / amps
            given = ACCESSORY_V / (load + RAIL_OHM)
            if given > self._limit_a:
                room = 1.0 - load * (1.0 - SHORT_SHARE) * self._limit_a / ACCESSORY_V
                folded = load * SHORT_SHARE * self._limit_a / room if room > 0.0 else ACCESSORY_V
                volts = round(min(ACCESSORY_V, folded + 0.2 * folded / load), VOLT_DIGITS)
        source = net["board converter"]
        if isinstance(source, VoltageSource) and source.volts != volts:
            net.change(source.name, volts=volts)
            return True
        return False
