"""The two-pole voltage tester: lamps that say how much stands between two terminals, of either kind.

It loads the circuit far more than a meter, so a wire that only floats shows nothing. It is proved on a known
source before and after: a tester that shows nothing may be broken.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from sim.devices.cabinet import REST, Cabinet, Live
from sim.instruments.cautions import LIVE_WORK
from sim.instruments.course import live_now
from sim.instruments.instrument import Function, Group, Reading, Use, nothing
from sim.instruments.shown import Shown
from sim.said import said
from sim.wiring.elements import Resistor
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

TIPS: Final = "two-pole tester, tips"
"""The element the tester puts on the net."""


@dataclass(frozen=True, slots=True)
class TesterSpec:
    """A tester with lamps. CP, no source."""

    load_ohm: float = 200e3
    steps_v: tuple[float, ...] = (12.0, 24.0, 50.0, 120.0, 230.0, 400.0)
    """Each lamp lights from 0.85 of its figure on, the first from all of it [V]."""
    lights: bool = True
    """Whether its lamps work at all."""


SPEC: Final = TesterSpec()

KNOWN_V: Final = 24.0
"""The known source a tester is proved on: a proving unit of its own [V]."""


@dataclass(frozen=True, slots=True)
class Tips:
    """Where the two tips sit: plain data."""

    red: str
    black: str


def place(cabinet: Cabinet, tips: Tips, spec: TesterSpec = SPEC) -> Undo:
    """Set both tips. Raises Refused for an unknown terminal."""
    net = cabinet.shared_net(tips.red, tips.black)
    if net is None:
        return nothing
    return net.add(Resistor(TIPS, cabinet.terminal(tips.red).node, cabinet.terminal(tips.black).node, spec.load_ohm))


def read(cabinet: Cabinet, tips: Tips, live: Live = REST, spec: TesterSpec = SPEC) -> Shown:
    """The highest lamp that lights; a pure look."""
    net = cabinet.shared_net(tips.red, tips.black)
    if net is cabinet.mains:
        found = cabinet.mains_volts(tips.red, tips.black)
    else:
        found = cabinet.volts(tips.red, tips.black, live)
    return lamps(abs(found) if found is not None else 0.0, spec)


def prove(spec: TesterSpec = SPEC) -> Shown:
    """What it shows on a known source."""
    return lamps(KNOWN_V, spec)


def lamps(volts: float, spec: TesterSpec = SPEC) -> Shown:
    """What lights at a voltage [V]."""
    lit = [step for step in spec.steps_v if volts >= (step if step == spec.steps_v[0] else 0.85 * step)]
    if not lit or not spec.lights:
        return Shown(0.0, "V", said("no lamp lights"))
    return Shown(lit[-1], "V", said("lit to {volts:g} V", volts=lit[-1]))


class TwoPoleTester:
    """The two-pole tester of a bag."""

    name = "two-pole tester"
    group: Group = "electrical"
    help = "Lamps that say how much stands between two terminals, of either kind."
    functions: tuple[Function, ...] = (
        Function("prove", "V", "Tries it on a known source of its own.", at="", takes_s=8.0, settles_s=2.0),
        Function(
            "test dead",
            "V",
            "What stands between two terminals, under a load that a floating wire can't carry.",
            against="terminal",
            takes_s=8.0,
            settles_s=2.0,
            caution=LIVE_WORK,
        ),
    )

    def place(self, world: World, use: Use) -> Undo:
        """Set both tips."""
        return nothing if use.function == "prove" else place(world.cabinet, Tips(use.at, use.against))

    def read(self, world: World, use: Use, index: int) -> Reading:
        """The highest lamp that lights."""
        if use.function == "prove":
            return Reading(prove())
        return Reading(read(world.cabinet, Tips(use.at, use.against), live_now(world)))
