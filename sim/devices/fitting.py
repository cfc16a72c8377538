"""Which parts a site has, each with its own cable, and how they follow what feeds them."""

from __future__ import annotations

from collections.abc import Iterator

from sim.devices import optics
from sim.devices.asking import Asking
from sim.devices.battery import BatterySet
from sim.devices.beam import BeamPair
from sim.devices.boardio import Board
from sim.devices.bridge import Bridge
from sim.devices.button import Button
from sim.devices.edge import ResistorEdge, SafetyEdge
from sim.devices.encoder import Encoder, EncoderRail
from sim.devices.lamp import LightOverTheYard, WarningLamp
from sim.devices.limit_input import LimitInputs
from sim.devices.lock import ElectricLock
from sim.devices.mains import Mains, posts_of
from sim.devices.mains_motor import MainsMotor
from sim.devices.motor import MotorCircuit
from sim.devices.no_motor import NoMotor
from sim.devices.output_path import AnyMotorCircuit, AnyPlug, OutputPath
from sim.devices.part import Part, Terminal
from sim.devices.passing import passing_of
from sim.devices.plug import input_plug, two_pole_plug
from sim.devices.radio_edge import RadioEdge
from sim.devices.rails import Rails
from sim.devices.receiver import RadioReceiver
from sim.devices.reservoir import Reservoir
from sim.devices.stop import StopCircuit
from sim.devices.supply import PowerSupply
from sim.site import GUARD_NAMES, AnyDrive, Beam, Cable, Edge, GuardName, InductionMotor, Lock, Site, Stop, YardLight
from sim.units import LEAVES, LeafName
from sim.wiring.netlist import Netlist
from sim.wiring.solve import Potentials


class Fittings:
    """Every part of one site, by what it is. A guard that isn't fitted has no part, no plug and no wire."""

    def __init__(self, site: Site) -> None:
        cables, battery = site.cables, site.supply.battery
        self.mains = Mains(site.supply, cables.supply_lead, posts_of(site))
        self.supply = PowerSupply(site.supply, self.mains.sound_ohm)
        self.battery = BatterySet(battery) if battery is not None else None
        self.passing = passing_of(site.supply, self.battery)
        self.board = Board(site.supply.fuse_a)
        self.rails = Rails(site.supply.accessory_a)
        self.radio = RadioReceiver()
        active = _motor(LEAVES[0], site.drives.active, cables.active_motor)
        inactive: AnyMotorCircuit = NoMotor(LEAVES[1], active.on_mains)
        if site.drives.inactive != "not fitted":
            inactive = _motor(LEAVES[1], site.drives.inactive, cables.inactive_motor)
        self.motors: tuple[AnyMotorCircuit, AnyMotorCircuit] = (active, inactive)
        self.rail = EncoderRail()
        self.encoders = (
            Encoder(LEAVES[0], site.drives.active, cables.active_encoder),
            Encoder(LEAVES[1], site.drives.pair[1], cables.inactive_encoder),
        )
        self.limits = LimitInputs(site.drives, (cables.active_encoder, cables.inactive_encoder))
        self.bridges = (Bridge(LEAVES[0], active.on_mains), Bridge(LEAVES[1], inactive.on_mains))
        self.path = OutputPath(self.bridges, self.motors)
        self.reservoir = Reservoir()
        self.lamp = WarningLamp(cables.lamp)
        self.lock = ElectricLock(site.lock, cables.lock) if isinstance(site.lock, Lock) else None
        light = site.yard_light
        self.yard_light = LightOverTheYard(light, cables.yard_light) if isinstance(light, YardLight) else None
        self.buttons = {str(name): Button(name, cables.controls) for name in site.controls}
        self.asking = Asking(site)
        self.buttons.update(self.asking.contacts)
        self.plugs = {plug.name: plug for plug in self._plugs(site)}
        self.beams: dict[str, BeamPair] = {}
        self.edges: dict[str, SafetyEdge] = {}
        self.stop: StopCircuit | None = None
        for guard in GUARD_NAMES:
            self._fit(site, guard)

    def _plugs(self, site: Site) -> Iterator[AnyPlug]:
        """Every block that can be pulled, the guards' first."""
        yield from (input_plug(guard) for guard, fitted in site.guards.fitted.items() if fitted)
        yield from (input_plug(control) for control in site.controls)
        yield from (motor.plug for motor in self.motors if not isinstance(motor, NoMotor))
        yield from self.limits.plugs
        yield from (two_pole_plug(supply) for supply in ("accessory supply", "emitter supply"))
        yield self.radio.plug
        yield self.lamp.feed.plug
        if self.lock is not None:
            yield self.lock.feed.plug
        if self.yard_light is not None:
            yield self.yard_light.feed.plug
        if self.battery is not None:
            yield self.battery.plug
        yield from self.asking.plugs.values()

    def _fit(self, site: Site, guard: GuardName) -> None:
        device = site.guards.device(guard)
        cable = getattr(site.cables, guard.replace(" ", "_"))
        if isinstance(device, Beam):
            self.beams[guard] = BeamPair(guard, cable, optics.light_at(optics.clear(site), guard))
        elif isinstance(device, Edge):
            self.edges[guard] = (
                RadioEdge(guard, device, device.radio) if device.radio else ResistorEdge(guard, device, cable)
            )
        elif isinstance(device, Stop):
            self.stop = StopCircuit(cable, device)

    def _low_voltage(self) -> Iterator[Part]:
        yield self.supply
        yield self.reservoir
        if self.battery is not None:
            yield self.battery
        yield self.board
        yield from self.motors
        yield self.rail
        yield from self.encoders
        yield self.limits
        yield from self.plugs.values()
        yield from self.beams.values()
        yield from self.edges.values()
        if self.stop is not None:
            yield self.stop
        yield from self.buttons.values()
        yield from self.asking.parts()
        yield self.lamp
        if self.lock is not None:
            yield self.lock
        if self.yard_light is not None:
            yield self.yard_light
        yield self.radio

    def stamp(self, net: Netlist, mains: Netlist) -> None:
        """Wire everything, each part once."""
        self.mains.stamp(mains)
        for part in self._low_voltage():
            part.stamp(net)
        self.rails.stamp(net)
        for bridge in self.bridges:
            bridge.stamp(net)
        for motor in self.motors:
            if isinstance(motor, MainsMotor):
                motor.stamp_mains(mains)

    def pull(self, mains: Netlist, signs: tuple[int, int]) -> None:
        """The relays of mains motors are pulled in as the board has them."""
        for motor, sign in zip(self.motors, signs, strict=True):
            if isinstance(motor, MainsMotor):
                motor.pull(mains, sign)

    def refit(self, net: Netlist, mains: Netlist, site: Site) -> None:
        """What is fitted is worn, mended or moved; conductors stay as they are."""
        for motor, drive in zip(self.motors, site.drives.pair, strict=True):
            if isinstance(motor, MotorCircuit):
                motor.refit(drive)
            elif isinstance(motor, MainsMotor) and isinstance(drive.motor, InductionMotor):
                motor.refit(mains, drive.motor)
        if self.lock is not None and isinstance(site.lock, Lock):
            self.lock.refit(site.lock)
        self.asking.refit(net, site)
        for guard, edge in self.edges.items():
            device = site.guards.device(guard)
            if isinstance(device, Edge):
                edge.refit(net, device)

    def terminals(self) -> Iterator[Terminal]:
        """Every terminal there is, the mains side first."""
        yield from self.mains.terminals
        for motor in self.motors:
            if isinstance(motor, MainsMotor):
                yield from motor.mains_terminals
        for part in self._low_voltage():
            yield from part.terminals

    def react(self, net: Netlist, mains: Netlist, solved: Potentials, *, weary: bool = False) -> bool:
        """Supply, battery relay, converters and receivers follow the net as it was solved; True if one moved.

        `weary`: they have tried long enough; converters that fall over their own start stay off.
        """
        changed = [self.supply.react(net, mains)]
        if self.battery is not None:
            changed.append(self.battery.react(net, solved, self.supply.gives(solved)))
        changed.append(self.board.react(net, solved))
        changed.append(self.rails.react(net, solved, may_start=not weary))
        if not any(changed):  # a filament follows a rail that has found its voltage, or each would chase the other
            changed.append(self.lamp.react(net, solved))
        changed.append(self.rail.react(net))
        changed += [beam.react(net, solved.volts) for beam in self.beams.values()]
        changed += [edge.react(net, solved.volts) for edge in self.edges.values()]
        changed.append(self.asking.react(net, solved.volts))
        return any(changed)

    def mood(self) -> tuple[object, ...]:
        """What decides how parts react, beside the nets."""
        beams = tuple(beam.seen for beam in self.beams.values())
        return (beams, tuple(edge.heard for edge in self.edges.values()), self.asking.mood())


def _motor(leaf: LeafName, drive: AnyDrive, cable: Cable) -> AnyMotorCircuit:
    if isinstance(drive.motor, InductionMotor):
        return MainsMotor(leaf, drive.motor, cable)
    return MotorCircuit(leaf, drive, cable)
