"""Which parts a site has, each with its own cable, and how they follow what feeds them."""

from __future__ import annotations

from collections.abc import Iterator

from sim.devices.battery import BatterySet
from sim.devices.beam import BeamPair
from sim.devices.boardio import Board
from sim.devices.bridge import Bridge
from sim.devices.button import Button
from sim.devices.edge import ResistorEdge
from sim.devices.encoder import Encoder, EncoderRail
from sim.devices.lamp import WarningLamp
from sim.devices.motor import MotorCircuit
from sim.devices.output_path import OutputPath
from sim.devices.part import Part, Terminal
from sim.devices.plug import Plug
from sim.devices.receiver import RadioReceiver
from sim.devices.stop import StopCircuit
from sim.devices.supply import Mains, PowerSupply
from sim.site import GUARD_NAMES, Beam, Edge, GuardName, Site, Stop
from sim.units import LEAVES
from sim.wiring.netlist import Netlist
from sim.wiring.solve import Potentials


class Fittings:
    """Every part of one site, by what it is. A guard that isn't fitted has no part, no plug and no wire."""

    def __init__(self, site: Site) -> None:
        cables, battery = site.cables, site.supply.battery
        runs = (cables.active_motor, cables.inactive_motor)
        self.mains = Mains(site.supply)
        self.supply = PowerSupply(site.supply)
        self.battery = BatterySet(battery) if battery is not None else None
        self.board = Board(site.supply.fuse_a)
        self.radio = RadioReceiver()
        active, inactive = (
            MotorCircuit(leaf, drive, cable)
            for leaf, drive, cable in zip(LEAVES, site.drives.pair, runs, strict=True)
        )
        self.motors = (active, inactive)
        self.rail = EncoderRail()
        self.encoders = (
            Encoder(LEAVES[0], site.drives.active, cables.active_encoder),
            Encoder(LEAVES[1], site.drives.inactive, cables.inactive_encoder),
        )
        self.bridges = (Bridge(LEAVES[0]), Bridge(LEAVES[1]))
        self.path = OutputPath(self.bridges, self.motors)
        self.lamp = WarningLamp(cables.lamp)
        self.plugs = {guard: Plug(guard) for guard, fitted in site.guards.fitted.items() if fitted}
        self.buttons = {str(name): Button(name, cables.controls) for name in site.controls}
        self.beams: dict[str, BeamPair] = {}
        self.edges: dict[str, ResistorEdge] = {}
        self.stop: StopCircuit | None = None
        for guard in GUARD_NAMES:
            self._fit(site, guard)

    def _fit(self, site: Site, guard: GuardName) -> None:
        device = site.guards.device(guard)
        cable = getattr(site.cables, guard.replace(" ", "_"))
        if isinstance(device, Beam):
            self.beams[guard] = BeamPair(guard, cable)
        elif isinstance(device, Edge):
            self.edges[guard] = ResistorEdge(guard, device, cable)
        elif isinstance(device, Stop):
            self.stop = StopCircuit(cable)

    def _low_voltage(self) -> Iterator[Part]:
        yield self.supply
        if self.battery is not None:
            yield self.battery
        yield self.board
        yield from self.motors
        yield self.rail
        yield from self.encoders
        yield from self.plugs.values()
        yield from self.beams.values()
        yield from self.edges.values()
        if self.stop is not None:
            yield self.stop
        yield from self.buttons.values()
        yield self.lamp
        yield self.radio

    def stamp(self, net: Netlist, mains: Netlist) -> None:
        """Wire everything, each part once."""
        self.mains.stamp(mains)
        for part in self._low_voltage():
            part.stamp(net)
        for bridge in self.bridges:
            bridge.stamp(net)

    def refit(self, site: Site) -> None:
        """What is fitted is worn, mended or moved; conductors stay as they are."""
        for motor, drive in zip(self.motors, site.drives.pair, strict=True):
            motor.refit(drive)

    def terminals(self) -> Iterator[Terminal]:
        """Every terminal there is, the mains side first."""
        yield from self.mains.terminals
        for part in self._low_voltage():
            yield from part.terminals

    def react(self, net: Netlist, mains: Netlist, solved: Potentials) -> bool:
        """Supply, battery relay, converters and receivers follow the net as it was solved; True if one moved."""
        feed = mains.solution().between("power supply inlet.live", "power supply inlet.neutral")
        changed = [self.supply.react(net, abs(feed) if feed is not None else 0.0)]
        if self.battery is not None:
            changed.append(self.battery.react(net, bool(net["power supply, output"].siemens)))
        changed.append(self.board.react(net, solved))
        changed.append(self.rail.react(net))
        changed += [beam.react(net, solved.volts) for beam in self.beams.values()]
        return any(changed)
