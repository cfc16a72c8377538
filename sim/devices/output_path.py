"""From both power stages to both motors, as the net has it now: which stage feeds which motor, and what it gives.

Nothing here asks how the cores should run. A core under another screw, a welded relay, a burnt contact or an open
limit switch is an element of the net, and what the motors get follows from it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from sim.devices.bridge import Asked, Bridge
from sim.devices.mains_motor import LeadPlug, MainsMotor
from sim.devices.motor import MotorCircuit
from sim.devices.no_motor import NoMotor
from sim.devices.plug import Plug
from sim.kernel.network import DriveNetwork
from sim.wiring.elements import Element
from sim.wiring.netlist import Netlist
from sim.wiring.reduction import LeafPorts, reduce_drive
from sim.wiring.solve import Network, network_of

AnyMotorCircuit: TypeAlias = MotorCircuit | MainsMotor | NoMotor

AnyPlug: TypeAlias = Plug | LeadPlug

Signs: TypeAlias = tuple[int, int]
"""Per leaf of the board: +1 its opening relay is pulled in, −1 its closing relay, 0 neither."""

LEAST_SHARE: Final = 0.02
"""A stage that lifts terminals or a winding by less than this share of its own voltage doesn't drive them. Ours."""


@dataclass(frozen=True, slots=True)
class Driven:
    """The wiring as both motors see it, with the relays pulled in as the board has them."""

    network: DriveNetwork
    """By motor, whichever stage feeds it."""
    ports: tuple[LeafPorts, LeafPorts]
    """By motor."""
    key: tuple[Element, ...]
    """The net with the stages and what the relays join."""
    senses: Signs
    """By stage: which way its output stands at the motor terminals of its own leaf; 0 not at all."""
    stages: tuple[int, int]
    """By motor: which stage feeds it, or would if a relay were pulled in."""


class OutputPath:
    """Both leaves' bridges and motors."""

    def __init__(self, bridges: tuple[Bridge, Bridge], motors: tuple[AnyMotorCircuit, AnyMotorCircuit]) -> None:
        self.bridges = bridges
        self.motors = motors

    def driven(self, net: Netlist, signs: Signs) -> Driven:
        """The net with the relays pulled in so. Raises WiringError where the drive model has no term for it."""
        stages = self.stages(net)
        key = self._key(net, signs, (None, None))
        senses = self._senses(key)
        found = self._reduced(key, signs, senses, stages)
        if any(motor.has_limits for motor in self.motors):
            ways = [
                senses[stages[j]] * (0 if a == 0.0 else 1 if a > 0.0 else -1)
                for j, a in enumerate(found.network.alpha)
            ]
            key = self._key(net, signs, (ways[0], ways[1]))
            found = self._reduced(key, signs, senses, stages)
        return found

    def _reduced(self, key: tuple[Element, ...], signs: Signs, senses: Signs, stages: tuple[int, int]) -> Driven:
        one, other = (self._ports(j, stages[j], signs, senses) for j in (0, 1))
        return Driven(reduce_drive(key, (one, other)), (one, other), key, senses, stages)

    def _key(self, net: Netlist, signs: Signs, ways: tuple[int | None, int | None]) -> tuple[Element, ...]:
        """`ways`: which way each motor is driven, for the diodes over its limit switches; None lets both pass."""
        stands_for = {bridge.channel for bridge in self.bridges}
        kept = [element for element in net.key if element.name not in stands_for]
        for bridge, motor, sign, way in zip(self.bridges, self.motors, signs, ways, strict=True):
            kept += motor.stand_in()
            kept += () if motor.on_mains else bridge.legs(sign)
            kept += motor.diodes(way)
        return tuple(kept)

    def _senses(self, key: tuple[Element, ...]) -> Signs:
        windings = {motor.winding for motor in self.motors}
        network = network_of(tuple(element for element in key if element.name not in windings))
        one, other = (self._sense(network, bridge, key) for bridge in self.bridges)
        return one, other

    def _sense(self, network: Network, bridge: Bridge, key: tuple[Element, ...]) -> int:
        stage = next((element for element in key if element.name == bridge.source), None)
        if stage is None or not network.joined(bridge.plus, bridge.minus):
            return 0
        level = network.potentials([(stage.a, stage.b, stage.siemens)])
        across = (level[network.index[bridge.plus]] - level[network.index[bridge.minus]]).real
        return 0 if abs(across) < LEAST_SHARE else 1 if across > 0.0 else -1

    def stages(self, net: Netlist) -> tuple[int, int]:
        """By motor, which stage's terminals its cores lead to, if need be through the diode of a limit switch;
        its own where they lead nowhere."""
        network = network_of((*net.key, *(each for motor in self.motors for each in motor.diodes(None))))
        shares = [self._shares(network, bridge) for bridge in self.bridges]
        crossed = shares[0][1] > shares[0][0] and shares[1][0] > shares[1][1]
        half = max(shares[0][1], shares[1][0]) > LEAST_SHARE > max(shares[0][0], shares[1][1])
        return (1, 0) if crossed or half else (0, 1)

    def _shares(self, network: Network, bridge: Bridge) -> tuple[float, float]:
        """How much of a voltage laid on a bridge's motor terminals stands across each winding."""
        if not network.joined(bridge.plus, bridge.minus):
            return 0.0, 0.0
        level = network.potentials([(bridge.plus, bridge.minus, 1.0)])
        index = network.index

        def across(a: str, b: str) -> float:
            return abs((level[index[a]] - level[index[b]]).real) if network.joined(a, b) else 0.0

        whole = across(bridge.plus, bridge.minus)
        one, other = (across(*motor.coil) / whole if whole else 0.0 for motor in self.motors)
        return one, other

    def _ports(self, j: int, stage: int, signs: Signs, senses: Signs) -> LeafPorts:
        motor, bridge = self.motors[j], self.bridges[stage]
        acts = bool(signs[stage] or senses[stage]) and not motor.on_mains
        return LeafPorts(
            name=f"{motor.leaf} leaf",
            input_plus=bridge.input,
            input_minus="board.common",
            bridge=bridge.source if acts else None,
            sign=senses[stage] if acts else 0,
            winding=motor.winding,
        )

    def gives(self, net: Netlist, driven: Driven, asked: tuple[Asked, Asked], signs: Signs) -> tuple[Asked, Asked]:
        """By motor, what the stage that feeds it really gives, for what the board asks of each stage."""
        one, other = (self.bridges[k].gives(net, asked[k], signs[k], driven.senses[k]) for k in driven.stages)
        return one, other

    def with_mains(self, driven: Driven, mains: Netlist) -> Driven:
        """The same with the mains at the motors that run on it."""
        alpha, volts, senses = list(driven.network.alpha), [0.0, 0.0], list(driven.senses)
        for j, motor in enumerate(self.motors):
            if isinstance(motor, MainsMotor):
                volts[j], senses[j], turned = motor.fed(mains)
                alpha[j] = float(senses[j] * turned)
        network = replace(driven.network, alpha=(alpha[0], alpha[1]), mains=(volts[0], volts[1]))
        return replace(driven, network=network, senses=(senses[0], senses[1]))
