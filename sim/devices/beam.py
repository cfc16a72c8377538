"""A through-beam pair: emitter on the switched supply, receiver with a contact that is closed when all is clear.

The pure functions below say whether a body stands in the light; the part says what follows on the net.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from sim.devices.part import Terminal, Volts, core, pins
from sim.site import Beam, Cable
from sim.wiring.elements import Contact, Resistor
from sim.wiring.netlist import Netlist

FEED_OHM: Final = 800.0
"""Emitter or receiver as a load: 30 mA at 24 V [Ω]. CP, no source."""

FEED_LEAST_V: Final = 18.0
"""Below this an emitter is dark and a receiver is asleep [V]. CP, no source."""

CONTACT_OHM: Final = 0.1
"""The receiver's contact when closed [Ω]; healthy below 1 Ω (facts 8.4, misaligned)."""


class BeamPair:
    """One beam as it is wired."""

    def __init__(self, guard: str, cable: Cable) -> None:
        self.guard = guard
        self.blocked = False
        """Whether something stands in the light."""
        self.receiver = f"{guard} receiver"
        self.emitter = f"{guard} emitter"
        self.contact = f"{guard} receiver, contact"
        self._cable = cable
        self.terminals: tuple[Terminal, ...] = (
            *pins(self.receiver, "contact", "contact return", "supply plus", "supply minus"),
            *pins(self.emitter, "supply plus", "supply minus"),
        )

    def stamp(self, net: Netlist) -> None:
        """Six cores, two loads, one contact."""
        runs = (
            ("contact core", f"{self.guard} plug.contact", f"{self.receiver}.contact"),
            ("return core", f"{self.guard} plug.common", f"{self.receiver}.contact return"),
            ("receiver plus core", "accessory supply plug.plus", f"{self.receiver}.supply plus"),
            ("receiver minus core", "accessory supply plug.minus", f"{self.receiver}.supply minus"),
            ("emitter plus core", "emitter supply plug.plus", f"{self.emitter}.supply plus"),
            ("emitter minus core", "emitter supply plug.minus", f"{self.emitter}.supply minus"),
        )
        net.add(*(core(f"{self.guard}, {name}", a, b, self._cable) for name, a, b in runs))
        net.add(
            Contact(self.contact, f"{self.receiver}.contact", f"{self.receiver}.contact return", False, CONTACT_OHM),
            Resistor(
                f"{self.receiver}, load", f"{self.receiver}.supply plus", f"{self.receiver}.supply minus", FEED_OHM
            ),
            Resistor(
                f"{self.emitter}, load", f"{self.emitter}.supply plus", f"{self.emitter}.supply minus", FEED_OHM
            ),
        )

    def react(self, net: Netlist, volts: Volts) -> bool:
        """Close the contact when both ends are fed and the light gets through; True if that changed the net."""
        fed = [volts(f"{end}.supply plus", f"{end}.supply minus") for end in (self.receiver, self.emitter)]
        sees = all(level is not None and level >= FEED_LEAST_V for level in fed)
        return net.switch(self.contact, sees and not self.blocked)


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box on the plan [m]: centre, size along its own two sides and up, clear height below it, turn."""

    x: float
    y: float
    along: float
    across: float
    height: float
    bottom: float = 0.0
    turn: float = 0.0
    """How far it is turned about its centre, from x towards y [rad]."""


def crossing(
    ends: tuple[tuple[float, float], tuple[float, float]], height: float, box: Box
) -> tuple[float, float] | None:
    """Where a level segment at a height passes through a box: (in, out) as distance from its first end [m], or None.

    The segment is clipped against the box's two pairs of faces in the box's own axes.
    """
    if not box.bottom <= height <= box.bottom + box.height:
        return None
    (x0, y0), (x1, y1) = ends
    length = math.hypot(x1 - x0, y1 - y0)
    if length == 0.0:
        return None
    cos, sin = (1.0, 0.0) if box.turn == 0.0 else (math.cos(box.turn), math.sin(box.turn))
    enters, leaves = 0.0, 1.0
    for start, step, half in (
        ((x0 - box.x) * cos + (y0 - box.y) * sin, (x1 - x0) * cos + (y1 - y0) * sin, box.along / 2),
        ((y0 - box.y) * cos - (x0 - box.x) * sin, (y1 - y0) * cos - (x1 - x0) * sin, box.across / 2),
    ):
        if step == 0.0:
            if abs(start) > half:
                return None
            continue
        one, other = (-half - start) / step, (half - start) / step
        enters, leaves = max(enters, min(one, other)), min(leaves, max(one, other))
    return (enters * length, leaves * length) if enters <= leaves else None


def cut_by(
    beam: Beam, x_m: float, y_m: float, size_m: tuple[float, float, float], bottom_m: float = 0.0
) -> float | None:
    """Where a body that stands square on the plan cuts a beam: x of the middle of the shadow [m], or None.

    `size_m` is along x, along y and height as it stands or lies.
    """
    box = Box(x_m, y_m, size_m[0], size_m[1], size_m[2], bottom_m)
    found = crossing(((beam.emitter_x_m, beam.y_m), (beam.receiver_x_m, beam.y_m)), beam.height_m, box)
    if found is None:
        return None
    towards = 1.0 if beam.receiver_x_m >= beam.emitter_x_m else -1.0
    return beam.emitter_x_m + towards * (found[0] + found[1]) / 2
