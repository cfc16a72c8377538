"""How warm things are that carry current: what a thermometer touches and a thermal view sees."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.devices.joint import screw_name
from sim.instruments.course import live_now
from sim.wiring.elements import Contact

if TYPE_CHECKING:
    from sim.world.world import World

SCREW_K_W: Final = 20.0
"""A terminal over the air for each watt in its screw [K/W]. Engineering value, no source."""


def screw_c(world: World, terminal: str) -> float:
    """A terminal as warm as it gets at the current of this moment [°C]: the air, and 20 K for each watt I²·R."""
    return world.weather.temperature_c + SCREW_K_W * screw_w(world, terminal)


def screw_w(world: World, terminal: str) -> float:
    """What the screw of a terminal turns into heat [W]; nothing where there is none."""
    found = world.cabinet.terminal(terminal)
    name = screw_name(found)
    if found.net == "mains":
        net, look = world.cabinet.mains, None
    else:
        net, look = world.cabinet.netlist, world.cabinet.look()
    if name not in net or look is None:
        return 0.0
    screw = net[name]
    assert isinstance(screw, Contact)
    amps = float(look.amps(name, live_now(world)))
    return amps * amps * abs(screw.ohm)


def warmest_terminal(world: World) -> tuple[str, float]:
    """(terminal, its temperature [°C]) of the warmest in the cabinet; the first by name among equals."""
    found = [(screw_c(world, name), name) for name in world.cabinet.terminals]
    warmth, name = max(found, key=lambda pair: (pair[0], -found.index(pair)))
    return name, warmth
