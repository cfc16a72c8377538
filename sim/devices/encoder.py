"""Encoders: fed with 5 V by the board, each pulls its line to common or lets it go by its rotor's place.

What the board counts follows from the net: which encoder is fed, which line it can move between high and low, and
under which terminal that line ends. A board that sees a second line, a quarter turn behind the first, knows which way
the motor turns; with one line it takes the way it drives.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final, TypeAlias

from sim.devices.part import Terminal, core, pins
from sim.site import AnyDrive, Cable
from sim.units import LEAVES, LeafName
from sim.wiring.elements import Contact, Element, Resistor, VoltageSource
from sim.wiring.netlist import Netlist
from sim.wiring.solve import Potentials, injections, network_of

RAIL: Final = "board.encoder rail"
"""5 V from the board."""

PULL_UP_OHM: Final = 2200.0
"""From the rail to a line [Ω]. CP, no source."""

INPUT_OHM: Final = 100e3
"""A line's input, to common [Ω]. CP, no source."""

LOAD_OHM: Final = 500.0
"""The encoder itself: 10 mA [Ω]. CP, no source."""

OUTPUT_OHM: Final = 50.0
"""Its output transistor while it conducts [Ω]. CP, no source."""

SHUT_OHM: Final = 0.1
"""Its switch behind that, closed [Ω]. CP, no source."""

HIGH_V: Final = 3.5
"""A line above this reads high [V]. CP, no source."""

LOW_V: Final = 1.5
"""A line below this reads low [V]. CP, no source."""

LEAST_SUPPLY_V: Final = 4.0
"""Below this an encoder is dead and lets its lines go [V]. CP, no source."""

SCREENED_OHM: Final = 10.0
"""A screen joined to common by no more than this keeps noise off the lines [Ω]. CP, no source."""

UNSCREENED_WANDER: Final = 0.1
"""By what share the counting wanders beside a motor's cable without a screen: some 50 counts (facts 8.2). CP."""

UNSCREENED_OHM: Final = 50.0
"""A screen behind this lets half of that in [Ω]. Ours."""

MEAN_OHM: Final = PULL_UP_OHM
"""An output that conducts half of the time looks like this to a slow meter [Ω]: half the rail is left."""

LINES: Final = ("signal", "second signal")

Moved: TypeAlias = tuple[int, str]
"""An encoder's output: which leaf's, which line's."""


@dataclass(frozen=True, slots=True)
class Counting:
    """What one of the board's counters sees."""

    encoder: int | None
    """Which leaf's encoder moves its line; None: none does."""
    order: int = 1
    """+1 the second line follows the first as it should, −1 they are exchanged."""


class EncoderRail:
    """What feeds both encoders: 5 V, as long as the board's logic runs."""

    terminals: tuple[Terminal, ...] = ()

    def stamp(self, net: Netlist) -> None:
        """The regulator and its output."""
        net.add(
            VoltageSource("encoder rail", "board.encoder regulator", "board.common", 5.0, 0.5),
            Contact("encoder rail, output", "board.encoder regulator", RAIL, False, 0.01),
        )

    def react(self, net: Netlist) -> bool:
        """Come and go with the logic rail; True if that changed the net."""
        logic = net["logic rail, output"]
        return net.switch("encoder rail, output", isinstance(logic, Contact) and logic.closed)


class Encoder:
    """One leaf's encoder with its cable; no terminals and nothing on the net where none is fitted."""

    def __init__(self, leaf: LeafName, drive: AnyDrive, cable: Cable) -> None:
        self.fitted = drive.sensing.kind == "encoder"
        self.lines = LINES if drive.sensing.channels == "two" else LINES[:1]
        self._block = f"{leaf} encoder"
        self._place = f"{leaf} encoder at the leaf"
        self._cable = cable
        self.terminals: tuple[Terminal, ...] = (
            (
                *pins(self._block, "plus", *self.lines, "minus", "screen"),
                *pins(self._place, "plus", *self.lines, "minus", "screen"),
            )
            if self.fitted
            else ()
        )

    def stamp(self, net: Netlist) -> None:
        """Supply pins, lines with their pull-ups, cores, screen, the encoder's own load and outputs."""
        if not self.fitted:
            return
        block, place = self._block, self._place
        net.add(
            Resistor(f"{block}, supply pin", RAIL, f"{block}.plus", 0.5),
            Resistor(f"{block}, return pin", f"{block}.minus", "board.common", 0.005),
            Contact(f"{block}, screen joint", f"{block}.screen", "board.common", True, 0.005),
            core(f"{block}, plus core", f"{block}.plus", f"{place}.plus", self._cable),
            core(f"{block}, minus core", f"{block}.minus", f"{place}.minus", self._cable),
            core(f"{block}, screen core", f"{block}.screen", f"{place}.screen", self._cable),
            Resistor(f"{block}, electronics", f"{place}.plus", f"{place}.minus", LOAD_OHM),
        )
        for line in self.lines:
            net.add(
                Resistor(f"{block}, {line} pull-up", RAIL, f"{block}.{line}", PULL_UP_OHM),
                Resistor(f"{block}, {line} input", f"{block}.{line}", "board.common", INPUT_OHM),
                core(f"{block}, {line} core", f"{block}.{line}", f"{place}.{line}", self._cable),
                Resistor(f"{block}, {line} transistor", f"{place}.{line}", f"{place}.{line} output", OUTPUT_OHM),
                Contact(f"{block}, {line} output", f"{place}.{line} output", f"{place}.minus", False, SHUT_OHM),
            )

    def stand(self, net: Netlist, turns: float | None) -> bool:
        """The rotor stands so many pulses on, or turns (None): what a slow meter sees of the lines then is their
        mean. True if the net changed."""
        changed = False
        for quarter, line in enumerate(self.lines if self.fitted else ()):
            before = net[f"{self._block}, {line} output"]
            low = turns is None or (turns - 0.25 * quarter) % 1.0 >= 0.5
            after = Contact(before.name, before.a, before.b, low, SHUT_OHM if turns is not None else MEAN_OHM)
            if after != before:
                net.put((after,))
                changed = True
        return changed


Seen: TypeAlias = tuple[tuple[Counting, Counting], tuple[float, float]]
"""What the board's two counters see, by leaf; by what share each encoder's counting wanders for want of a screen."""


def seen(key: tuple[Element, ...]) -> Seen:
    """What a net makes of both encoders. Only the part of it that holds them counts: whatever hangs on common besides
    leaves it as it is."""
    return _seen(tuple(e for e in key if " encoder" in e.a or " encoder" in e.b or ".encoder" in e.a))


@lru_cache(maxsize=64)
def _seen(key: tuple[Element, ...]) -> Seen:
    outputs = {f"{leaf} encoder, {line} output": (i, line) for i, leaf in enumerate(LEAVES) for line in LINES}
    free = _solved(key, outputs, "")
    live = {
        name: moved
        for name, moved in outputs.items()
        if any(e.name == name for e in key) and _fed(free, LEAVES[moved[0]]) >= LEAST_SUPPLY_V
    }
    pulled = {moved: _solved(key, outputs, name) for name, moved in live.items()}
    one, other = (_counter(leaf, free, pulled) for leaf in LEAVES)
    return (one, other), (_wander(free, LEAVES[0]), _wander(free, LEAVES[1]))


def _counter(leaf: LeafName, free: Potentials, pulled: dict[Moved, Potentials]) -> Counting:
    first = _mover(f"{leaf} encoder.signal", free, pulled)
    if f"{leaf} encoder.second signal" not in free.network.index:
        return Counting(None if first is None else first[0])
    second = _mover(f"{leaf} encoder.second signal", free, pulled)
    if first is None or second is None or first[0] != second[0] or first[1] == second[1]:
        return Counting(None)
    return Counting(first[0], 1 if first[1] == LINES[0] else -1)


def _mover(node: str, free: Potentials, pulled: dict[Moved, Potentials]) -> Moved | None:
    """The one output that moves a line of the board between high and low; None if none does, or several."""
    if _volts(free, node, "board.common") < HIGH_V:
        return None
    found = [moved for moved, solved in pulled.items() if _volts(solved, node, "board.common") <= LOW_V]
    return found[0] if len(found) == 1 else None


def _solved(key: tuple[Element, ...], outputs: dict[str, Moved], pulled: str) -> Potentials:
    """With every output let go but one."""
    elements = tuple(Contact(e.name, e.a, e.b, e.name == pulled, SHUT_OHM) if e.name in outputs else e for e in key)
    network = network_of(elements)
    return Potentials(network, elements, network.potentials(injections(elements)))


def _fed(free: Potentials, leaf: LeafName) -> float:
    return _volts(free, f"{leaf} encoder at the leaf.plus", f"{leaf} encoder at the leaf.minus")


def _volts(solved: Potentials, red: str, black: str) -> float:
    found = solved.volts(red, black)
    return 0.0 if found is None else found


def _wander(free: Potentials, leaf: LeafName) -> float:
    screen = f"{leaf} encoder at the leaf.screen"
    if screen not in free.network.index:
        return 0.0
    found = free.network.resistance(screen, "board.common")
    if found is None:
        return UNSCREENED_WANDER
    ohm = abs(found)
    return 0.0 if ohm <= SCREENED_OHM else round(UNSCREENED_WANDER * ohm / (ohm + UNSCREENED_OHM), 4)
