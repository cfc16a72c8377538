"""The network as the motors see it, and every other node by superposition.

Between two changes the net is linear. What drives it: its fixed sources, the current each bridge draws from the
board, the voltage each bridge puts across its output (averaged over a switching period), and each motor, as the
current the kernel found or, where none can flow, as its back-EMF behind its winding. Any voltage is then a fixed
part plus one sensitivity per source times that source.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from sim.kernel.network import DriveNetwork
from sim.said import said
from sim.wiring.elements import Element, VoltageSource
from sim.wiring.netlist import WiringError
from sim.wiring.solve import Network, injections, network_of

LOOP_MOST_OHM: Final = 100e3
"""A motor loop above this counts as open: a meter's or a tester's own resistance turns no motor [Ω]. Ours."""

CROSS_MOST: Final = 0.01
"""Largest coupling between ports that the reduced form has no term for [1 or Ω]; above it the net is refused."""


@dataclass(frozen=True, slots=True)
class LeafPorts:
    """Where one leaf's bridge and motor sit in the net."""

    name: str
    """In words, for messages."""
    input_plus: str
    input_minus: str
    bridge: str | None
    """Name of the source that stands for the driven leg; None while the bridge is off."""
    sign: int
    """+1: the board's plus terminal is the driven leg (opening sense); −1: its minus terminal; 0: off."""
    winding: str
    """Name of the motor's winding, `a` on the motor's plus."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """What drives the net at one instant beside its fixed sources; index 0 is the active leaf."""

    input_a: tuple[float, float] = (0.0, 0.0)
    """Current each bridge draws from the board [A]."""
    output_v: tuple[float, float] = (0.0, 0.0)
    """Voltage each bridge puts on its driven leg above the other [V]."""
    motor_a: tuple[float, float] = (0.0, 0.0)
    """Motor currents, positive opens a correctly wired leaf [A]."""
    emf_v: tuple[float, float] = (0.0, 0.0)
    """Back-EMF of motors that carry no current of the kernel's [V]."""


@lru_cache(maxsize=64)
def reduce_drive(key: tuple[Element, ...], ports: tuple[LeafPorts, LeafPorts]) -> DriveNetwork:
    """The form the kernel runs on. Raises WiringError if the net couples its ports in a way that form can't hold."""
    elements = {element.name: element for element in key}
    windings = tuple(elements[leaf.winding] for leaf in ports)
    network = network_of(tuple(e for e in key if e not in windings))
    fixed = _Level(network, injections(e for e in key if e not in windings))
    draws = [_Level(network, [(leaf.input_minus, leaf.input_plus, 1.0)]) for leaf in ports]
    lifts = [_Level(network, _lift(elements, leaf.bridge)) for leaf in ports]
    loops = [_loop(network, winding) for winding in windings]
    flows = [
        _Level(network, [(winding.b, winding.a, 1.0)] if loop is not None and loop <= LOOP_MOST_OHM else [])
        for winding, loop in zip(windings, loops, strict=True)
    ]

    alpha, leak = [], []
    for leaf, winding, lift in zip(ports, windings, lifts, strict=True):
        alpha.append(leaf.sign * lift.across(winding.a, winding.b))
        leak.append(_leak(elements, leaf.bridge, lift))
    closed = tuple(
        loop is not None and loop <= LOOP_MOST_OHM and leaf.bridge is not None
        for loop, leaf in zip(loops, ports, strict=True)
    )
    # the board's inputs must not feel the outputs except through the bridges, nor one output the other
    strays = [level.across(leaf.input_plus, leaf.input_minus) for leaf in ports for level in (*lifts, *flows)] + [
        level.across(windings[one].a, windings[one].b)
        for one in (0, 1)
        if closed[one]
        for level in (lifts[1 - one], draws[one])
    ]
    if max(abs(stray) for stray in strays) > CROSS_MOST:
        raise WiringError("a motor circuit is joined to another circuit: the drive model has no term for that")

    voc0, voc1 = (fixed.across(leaf.input_plus, leaf.input_minus) for leaf in ports)
    (z00, z01), (z10, z11) = (
        tuple(-draw.across(leaf.input_plus, leaf.input_minus) for draw in draws) for leaf in ports
    )
    rth = [loop if whole and loop is not None else 0.0 for loop, whole in zip(loops, closed, strict=True)]
    return DriveNetwork(
        voc=(voc0, voc1),
        z=((z00, z01), (z10, z11)),
        alpha=(alpha[0] if closed[0] else 0.0, alpha[1] if closed[1] else 0.0),
        g=(leak[0], leak[1]),
        rth=(rth[0], rth[1]),
        closed=(closed[0], closed[1]),
    )


class Superposition:
    """Any node of the net as a fixed part plus one sensitivity per source."""

    def __init__(
        self,
        key: tuple[Element, ...],
        ports: tuple[LeafPorts, LeafPorts],
        carrying: tuple[bool, bool],
        muted: Collection[str] = (),
    ) -> None:
        """`carrying`: which motors carry the kernel's current; the others are a back-EMF behind their winding.

        `muted`: sources that are taken as quiet (their resistance stays)."""
        elements = {element.name: element for element in key}
        windings = tuple(elements[leaf.winding] for leaf in ports)
        out = [winding for winding, carries in zip(windings, carrying, strict=True) if carries]
        kept = tuple(e for e in key if e not in out)
        self._carrying = carrying
        self._network = network_of(kept)
        self._fixed = _Level(self._network, injections(e for e in kept if e.name not in muted))
        self._draws = [_Level(self._network, [(leaf.input_minus, leaf.input_plus, 1.0)]) for leaf in ports]
        self._lifts = [_Level(self._network, _lift(elements, leaf.bridge)) for leaf in ports]
        self._motors = [
            _Level(self._network, [(w.b, w.a, 1.0)] if carries else [(w.a, w.b, 1.0 / w.ohm)])  # type: ignore[union-attr]
            for w, carries in zip(windings, carrying, strict=True)
        ]

    def joined(self, red: str, black: str) -> bool:
        """Whether any conductor joins the two nodes, and not only their insulation."""
        return self._network.holds(red, black)

    def volts(self, red: str, black: str, drawn: Drawn) -> float | None:
        """Voltage of `red` above `black` [V]; None when one floats against the other."""
        if not self._network.holds(red, black):
            return None
        total = self._fixed.across(red, black)
        for leaf in (0, 1):
            total += self._draws[leaf].across(red, black) * drawn.input_a[leaf]
            total += self._lifts[leaf].across(red, black) * drawn.output_v[leaf]
            motor = drawn.motor_a[leaf] if self._carrying[leaf] else drawn.emf_v[leaf]
            total += self._motors[leaf].across(red, black) * motor
        return total


def operating_point(
    drive: DriveNetwork,
    ports: tuple[LeafPorts, LeafPorts],
    duty: tuple[float, float],
    motor_a: tuple[float, float],
    emf_v: tuple[float, float] = (0.0, 0.0),
) -> Drawn:
    """What both bridges draw and put out for given signed duties and motor currents."""
    motor_a = (motor_a[0] if drive.closed[0] else 0.0, motor_a[1] if drive.closed[1] else 0.0)
    leak = [drive.g[k] * duty[k] * duty[k] for k in (0, 1)]
    asked = [drive.alpha[k] * duty[k] * motor_a[k] for k in (0, 1)]
    (z00, z01), (z10, z11) = drive.z
    m00, m01, m10, m11 = 1.0 + z00 * leak[0], z01 * leak[1], z10 * leak[0], 1.0 + z11 * leak[1]
    free0 = drive.voc[0] - z00 * asked[0] - z01 * asked[1]
    free1 = drive.voc[1] - z10 * asked[0] - z11 * asked[1]
    whole = m00 * m11 - m01 * m10
    bus = ((free0 * m11 - m01 * free1) / whole, (m00 * free1 - m10 * free0) / whole)
    return Drawn(
        input_a=(leak[0] * bus[0] + asked[0], leak[1] * bus[1] + asked[1]),
        output_v=(ports[0].sign * duty[0] * bus[0], ports[1].sign * duty[1] * bus[1]),
        motor_a=motor_a,
        emf_v=emf_v,
    )


class _Level:
    """Potentials of a net for one set of currents, read as real differences."""

    def __init__(self, network: Network, currents: list[tuple[str, str, complex]]) -> None:
        self._network = network
        self._level = network.potentials(currents)

    def across(self, red: str, black: str) -> float:
        """Voltage of `red` above `black` [V]; nothing when no conductor joins them."""
        if not self._network.joined(red, black):
            return 0.0
        index = self._network.index
        return float((self._level[index[red]] - self._level[index[black]]).real)


def _lift(elements: dict[str, Element], bridge: str | None) -> list[tuple[str, str, complex]]:
    """One volt in the driven leg."""
    if bridge is None:
        return []
    leg = elements[bridge]
    return [(leg.a, leg.b, leg.siemens)]


def _leak(elements: dict[str, Element], bridge: str | None, lift: _Level) -> float:
    """Current the driven leg delivers for one volt while the motor takes none [S]."""
    if bridge is None:
        return 0.0
    leg = elements[bridge]
    return max(0.0, float(leg.siemens.real) * (1.0 - lift.across(leg.a, leg.b)))


def _loop(network: Network, winding: Element) -> float | None:
    """Resistance of the loop a motor sits in, without its winding [Ω]; None when it is open."""
    if not isinstance(winding, VoltageSource):
        raise WiringError(said("'{winding}' stands for no motor winding", winding=winding.name))
    found = network.resistance(winding.a, winding.b)
    return None if found is None else float(found.real)
