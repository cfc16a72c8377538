"""The mains side: distribution board, isolator, supply lead, protective conductors. RMS phasors, a second net.

In the house stand the breaker and the residual-current device, at the gate the isolator with its fuse. The supplier's
neutral is earthed; each metal post has a protective conductor to the earth bar, and stands in the soil besides.
"""

from __future__ import annotations

from typing import Final

from sim.devices.insulation import insulation
from sim.devices.joint import SCREW_OHM, behind, screw
from sim.devices.part import Terminal, pins
from sim.site import Cable, Site, Supply
from sim.units import LEAVES
from sim.wiring.conductor import core_ohm
from sim.wiring.elements import Contact, Resistor, VoltageSource
from sim.wiring.netlist import Netlist, Undo, in_turn
from sim.wiring.solve import Potentials

INPUT_OHM: Final = 1500.0
"""The supply as the mains sees it: 35 W at 230 V [Ω]. CP, no source."""

MAINS_OHM: Final = 0.4 + 0.2j
"""Impedance of the final circuit, there and back [Ω]. CP, no source."""

EARTH_OHM: Final = 0.3
"""From the earth bar to the supplier's neutral [Ω]. CP, no source."""

POST_EARTH_OHM: Final = 0.05
"""Protective conductor from the earth bar to a post: some 10 m of 4 mm² [Ω]. Facts 8.1 want 0.5 Ω at most."""

SOIL_OHM: Final = 400.0
"""A post's foundation through the soil to the supplier's electrode [Ω]. CP, no source."""

POLE_OHM: Final = 0.005
"""One pole of a switch [Ω]. CP, no source."""

FUSE_OHM: Final = 0.02
"""The line fuse [Ω]. CP, no source."""

CLOSING_POST: Final = "closing post"
"""What one leaf alone shuts against."""

WIRES: Final = ("live", "neutral")

ISOLATOR_POLES: Final = ("isolator, live pole", "isolator, neutral pole")
RESIDUAL_POLES: Final = ("residual-current device, live pole", "residual-current device, neutral pole")
BREAKER: Final = "distribution breaker"
LINE_FUSE: Final = "line fuse"
INPUT: Final = "power supply, input"

SWITCHES: Final = {BREAKER: (BREAKER,), "residual-current device": RESIDUAL_POLES}
"""What stands in the distribution board, with the contacts of each."""


def posts_of(site: Site) -> tuple[str, str]:
    """Both metal posts by their names: one each leaf hangs on, or the second that a leaf alone shuts against."""
    return f"{LEAVES[0]} post", f"{LEAVES[1]} post" if len(site.leaves.fitted) > 1 else CLOSING_POST


class Mains:
    """Everything at 230 V up to the terminals of the power supply."""

    def __init__(self, supply: Supply, lead: Cable, posts: tuple[str, str]) -> None:
        self._supply = supply
        self._posts = posts
        self.terminals: tuple[Terminal, ...] = (
            *pins("isolator inlet", *WIRES, net="mains"),
            *pins("isolator outlet", *WIRES, net="mains"),
            *pins("power supply inlet", *WIRES, net="mains"),
            *pins("earth bar", "earth", net="mains"),
            *(pin for post in posts for pin in pins(post, "earth", net="mains")),
        )
        self._lead_ohm = complex(core_ohm(lead.length_m, lead.section_mm2, lead.conductor, lead.temperature_c))

    def stamp(self, net: Netlist) -> None:
        """Onto the mains net."""
        place = {(t.part, t.pin): t for t in self.terminals}
        net.add(
            VoltageSource("mains", "supplier.live", "supplier.neutral", complex(self._supply.mains_v), MAINS_OHM),
            Resistor("earthing", "supplier.neutral", "earth bar.earth", complex(EARTH_OHM)),
            Contact(BREAKER, "supplier.live", "distribution.live", True, complex(POLE_OHM)),
            Contact(RESIDUAL_POLES[0], "distribution.live", "isolator inlet.live", True, complex(POLE_OHM)),
            Contact(RESIDUAL_POLES[1], "supplier.neutral", "isolator inlet.neutral", True, complex(POLE_OHM)),
            Contact(ISOLATOR_POLES[0], "isolator inlet.live", "isolator.live", True, complex(POLE_OHM)),
            Contact(ISOLATOR_POLES[1], "isolator inlet.neutral", "isolator outlet.neutral", True, complex(POLE_OHM)),
            Contact(LINE_FUSE, "isolator.live", "isolator outlet.live", True, complex(FUSE_OHM)),
            Resistor(INPUT, "power supply inlet.live", "power supply inlet.neutral", complex(INPUT_OHM)),
        )
        for wire in WIRES:
            near, far = place["isolator outlet", wire], place["power supply inlet", wire]
            net.add(
                screw(near),
                Resistor(f"supply lead, {wire}", behind(near), behind(far), self._lead_ohm),
                screw(far),
                insulation(f"supply lead, {wire}", behind(far), complex(5e9)),
            )
        for name in self._posts:
            post = place[name, "earth"]
            net.add(
                screw(post),
                Contact(
                    f"protective conductor, {name}",
                    behind(post),
                    "earth bar.earth",
                    True,
                    complex(POST_EARTH_OHM),
                ),
                Resistor(f"{name}, foundation in soil", post.node, "supplier.neutral", complex(SOIL_OHM)),
            )

    @property
    def sound_ohm(self) -> complex:
        """The whole circuit as it should be, there and back, up to the power supply's inlet [Ω]."""
        return MAINS_OHM + 5 * POLE_OHM + FUSE_OHM + 2 * self._lead_ohm + 4 * SCREW_OHM

    def isolator(self, net: Netlist, closed: bool) -> Undo:
        """Throw both poles."""
        return in_turn(*(net.change(pole, closed=closed) for pole in ISOLATOR_POLES))

    def is_closed(self, net: Netlist) -> bool:
        """Whether the isolator lets the mains through."""
        return all(is_shut(net, pole) for pole in ISOLATOR_POLES)


def is_shut(net: Netlist, name: str) -> bool:
    """Whether a contact is closed."""
    contact = net[name]
    return isinstance(contact, Contact) and contact.closed


def residual_a(net: Netlist, solved: Potentials) -> float:
    """What goes out through the residual-current device and doesn't come back [A RMS]."""
    if not is_shut(net, RESIDUAL_POLES[0]):
        return 0.0
    return abs(sum(solved.current(pole) for pole in RESIDUAL_POLES))
