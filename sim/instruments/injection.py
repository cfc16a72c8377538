"""Testers that drive a current of their own between two terminals: insulation, low ohms.

The source is an element of the net while its leads are on; what is measured is what it has to drive through. A
circuit that is fed by itself spoils the figure, and shows by what stands there without the tester.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sim.instruments.course import live_now
from sim.instruments.instrument import Use
from sim.wiring.elements import VoltageSource
from sim.wiring.netlist import Netlist, Undo
from sim.wiring.solve import Potentials, direct, injections, network_of

if TYPE_CHECKING:
    from sim.world.world import World


@dataclass(frozen=True, slots=True)
class Source:
    """What a tester drives with."""

    name: str
    """The element it puts on the net."""
    volts: float
    """Open circuit [V]."""
    ohm: float
    """Inner resistance [Ω]."""


def net_at(world: World, use: Use) -> Netlist | None:
    """The net both leads are on; None across the two nets, where nothing flows."""
    return world.cabinet.shared_net(use.at, use.against)


def inject(world: World, use: Use, source: Source) -> Undo:
    """Put the source on; the undo takes it off whatever else was changed meanwhile."""
    net = net_at(world, use)
    if net is None:
        return lambda: None
    red, black = (world.cabinet.terminal(each).node for each in (use.at, use.against))
    volts: complex = complex(source.volts) if net is world.cabinet.mains else source.volts
    ohm: complex = complex(source.ohm) if net is world.cabinet.mains else source.ohm
    net.add(VoltageSource(source.name, red, black, volts, ohm))

    def off() -> None:
        net.remove(source.name)

    return off


def own_volts(world: World, use: Use, muted: str = "") -> float:
    """What stands between two terminals by itself [V], of either kind; nothing where they float."""
    cabinet = world.cabinet
    quiet = (muted,) if muted else ()
    if net_at(world, use) is cabinet.mains:
        found: float | None = cabinet.mains_volts(use.at, use.against, quiet)
    else:
        found = cabinet.volts(use.at, use.against, live_now(world), quiet)
    return abs(found) if found is not None else 0.0


def seen_ohm(world: World, use: Use, source: Source) -> float | None:
    """What the source drives through, from its own voltage and current [Ω]; None where no current flows at all."""
    cabinet, net = world.cabinet, net_at(world, use)
    red, black = (cabinet.terminal(each).node for each in (use.at, use.against))
    if net is None:
        return None
    if net is cabinet.mains:
        elements = direct(net.key)
        network = network_of(elements)
        alone = injections(e for e in elements if e.name == source.name)
        across = Potentials(network, elements, network.potentials(alone)).across(red, black)
    else:
        across = cabinet.look().at_rest().across(red, black)
    volts = abs(complex(across)) if across is not None else source.volts
    amps = (source.volts - volts) / source.ohm
    return volts / amps if amps > 0.0 else None
