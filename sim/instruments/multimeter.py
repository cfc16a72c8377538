"""The multimeter: volts, ohms and continuity between two terminals.

Its probes load the circuit: placing them is an edit of the net with an undo, reading is a pure look.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Literal, TypeAlias, cast

import numpy as np

from sim.devices.cabinet import REST, Cabinet, Live
from sim.devices.supply import OUTPUT
from sim.errors import Refused
from sim.instruments import instrument
from sim.instruments.cautions import DEAD_ONLY, LIVE_WORK
from sim.instruments.course import Figure, Stretch, course_of, live_now
from sim.instruments.display import Display, Range
from sim.instruments.series import FUNCTIONS as CURRENTS
from sim.instruments.series import Series
from sim.instruments.shown import Flag, Shown
from sim.said import joined, said
from sim.wiring.elements import Element, Resistor, VoltageSource
from sim.wiring.netlist import Undo
from sim.wiring.solve import solve

if TYPE_CHECKING:
    from sim.world.world import World

Function: TypeAlias = Literal["volts dc", "volts ac", "ohms", "continuity"]
FUNCTIONS: Final[tuple[Function, ...]] = ("volts dc", "volts ac", "ohms", "continuity")


_VOLTS = (Range(4.0, 0.001), Range(40.0, 0.01), Range(400.0, 0.1), Range(600.0, 1.0))
_OHMS = (
    Range(400.0, 0.1),
    Range(4e3, 1.0, "k"),
    Range(40e3, 10.0, "k"),
    Range(400e3, 100.0, "k"),
    Range(4e6, 1e3, "M"),
    Range(40e6, 10e3, "M"),
)


@dataclass(frozen=True, slots=True)
class MultimeterSpec:
    """A hand-held four-digit meter. CP, no source."""

    input_ohm: float = 10e6
    """Volts functions, either kind [Ω]."""
    source_v: float = 1.0
    """Ohms functions: what drives the unknown [V]."""
    source_ohm: float = 10e3
    """Ohms functions: inner resistance of that source [Ω]."""
    leads_ohm: float = 0.1
    """Both test leads [Ω]."""
    beeps_below_ohm: float = 30.0
    gain_error: float = 0.002
    """Deviation of one meter's scale from the truth: a draw of its own, the same for all its readings."""
    noise_steps: float = 0.4
    """Deviation of one reading [steps of the range]."""
    fed_above_v: float = 0.05
    """Ohms functions: a circuit with more than this in it by itself is fed [V]."""
    ranges: tuple[tuple[Function, tuple[Range, ...]], ...] = (
        ("volts dc", _VOLTS),
        ("volts ac", _VOLTS),
        ("ohms", _OHMS),
        ("continuity", _OHMS[:1]),
    )


SPEC: Final = MultimeterSpec()


@dataclass(frozen=True, slots=True)
class Probes:
    """Where the probes sit and what is measured: plain data, so that a session can keep it."""

    function: Function
    red: str
    black: str
    meter: str = "multimeter"

    @property
    def element(self) -> str:
        """What the probes put on the net."""
        return f"{self.meter}, probes"


def place(cabinet: Cabinet, probes: Probes, spec: MultimeterSpec = SPEC) -> Undo:
    """Put the probes on two terminals. Raises Refused for an unknown terminal or function.

    Between the mains side and the low-voltage side there is no path, so there the probes change nothing.
    """
    if probes.function not in FUNCTIONS:
        raise Refused(
            said(
                "the {instrument} has no '{function}'{hint}",
                instrument="multimeter",
                function=probes.function,
                hint=said("; it has {functions}", functions=joined(FUNCTIONS, ", ")),
            )
        )
    net = cabinet.shared_net(probes.red, probes.black)
    if net is None:
        return instrument.nothing
    return net.add(_load(cabinet, probes, spec))


def lift(cabinet: Cabinet) -> None:
    """Take the probes off, wherever they sit; nothing happens if they sit nowhere."""
    probes = Probes("volts dc", "", "").element
    for net in (cabinet.netlist, cabinet.mains):
        if probes in net:
            net.remove(probes)


def read(
    cabinet: Cabinet, probes: Probes, live: Live = REST, *, seed: int, index: int, spec: MultimeterSpec = SPEC
) -> Shown:
    """What the display shows once it has settled. `index` counts this meter's readings; a pure look."""
    if probes.function in ("ohms", "continuity"):
        return _ohms(cabinet, probes, live, seed, index, spec)
    return _volts(cabinet, probes, live, seed, index, spec)


class Multimeter:
    """The multimeter of a bag."""

    name = "multimeter"
    group: instrument.Group = "electrical"
    help = "Volts, ohms, continuity, and current in series with its fuse."
    category = 3
    functions: tuple[instrument.Function, ...] = (
        instrument.Function(
            "volts dc",
            "V",
            "Direct voltage of one terminal above another; remembers least and most.",
            against="terminal",
            caution=LIVE_WORK,
        ),
        instrument.Function(
            "volts ac",
            "V",
            "Alternating voltage between two terminals of the mains side; remembers least and most.",
            against="terminal",
            caution=LIVE_WORK,
        ),
        instrument.Function(
            "ohms", "Ω", "Resistance between two terminals of a dead circuit.", against="terminal", caution=DEAD_ONLY
        ),
        instrument.Function(
            "continuity", "Ω", "Beeps below 30 Ω, on a dead circuit.", against="terminal", caution=DEAD_ONLY
        ),
        *CURRENTS,
    )

    def __init__(self) -> None:
        self.series = Series(self.name)

    @property
    def state_words(self) -> str:
        """What it shows of itself."""
        blown = ", ".join(sorted(self.series.blown))
        return said("fuse blown: {blown}", blown=blown) if blown else ""

    def renew(self) -> str:
        """New fuses in both sockets. Raises Refused when both are whole."""
        if not self.series.blown:
            raise Refused(said("the fuses of the {meter} are whole", meter=self.name))
        self.series.blown.clear()
        return said("The {meter} has new fuses of the right kind.", meter=self.name)

    def suffer(self, world: World, use: instrument.Use) -> None:
        """What flowed through it since may have been too much for its fuse."""
        if self.series.is_mine(use):
            self.series.suffer(world, use)

    def place(self, world: World, use: instrument.Use) -> Undo:
        """Put the probes on two terminals."""
        if self.series.is_mine(use):
            return self.series.place(world, use)
        return place(world.cabinet, _probes(self.name, use))

    def read(self, world: World, use: instrument.Use, index: int) -> instrument.Reading:
        """What the display shows, and for volts and amps least and most since the probes were put there."""
        if self.series.is_mine(use):
            return self.series.read(world, use, index)
        shown = read(world.cabinet, _probes(self.name, use), live_now(world), seed=world.seed, index=index)
        if not use.function.startswith("volts"):
            return instrument.Reading(shown)
        least, most = course_of(world).extremes(use.since, _volts_of(world, use))
        kept = (_kept(each, _probes(self.name, use), world.seed) for each in (least, most))
        return instrument.Reading(shown, *kept)


class PocketMeter(Multimeter):
    """A small second meter, good for electronics and batteries: category II, not for fixed mains wiring."""

    name = "pocket meter"
    help = "The multimeter's little brother, of category II: for what is plugged in or runs on batteries."
    category = 2


def _probes(meter: str, use: instrument.Use) -> Probes:
    return Probes(cast(Function, use.function), use.at, use.against, meter)


def _volts_of(world: World, use: instrument.Use) -> Figure:
    red, black = (world.cabinet.terminal(each).node for each in (use.at, use.against))
    net = world.cabinet.shared_net(use.at, use.against)
    wanted = world.cabinet.mains if use.function == "volts ac" else world.cabinet.netlist

    def figure(stretch: Stretch, live: Live) -> Any:
        if net is not wanted:
            return None
        if net is world.cabinet.netlist:
            return stretch.look.volts(red, black, live)
        # the more the power supply gives, the more it takes: the extremes lie at its own
        given = np.atleast_1d(np.asarray(stretch.look.amps(OUTPUT, live), dtype=np.float64))
        ends = (float(given.min()), float(given.max()))
        found = [solve(world.cabinet.mains_fed(stretch.mains, amps)).between(red, black) for amps in ends]
        return None if None in found else np.abs(np.asarray(found))

    return figure


def _kept(true: float | None, probes: Probes, seed: int) -> float | None:
    """Least or most as the meter keeps it: on its scale, to its resolution, without the noise of one look."""
    if true is None:
        return None
    return _shown(true, "V", probes, seed, None, SPEC).value


def _load(cabinet: Cabinet, probes: Probes, spec: MultimeterSpec) -> Element:
    red, black = cabinet.terminal(probes.red), cabinet.terminal(probes.black)
    if probes.function in ("volts dc", "volts ac"):
        return Resistor(probes.element, red.node, black.node, spec.input_ohm)
    return VoltageSource(probes.element, red.node, black.node, spec.source_v, spec.source_ohm)


def _volts(cabinet: Cabinet, probes: Probes, live: Live, seed: int, index: int, spec: MultimeterSpec) -> Shown:
    if probes.red == probes.black:
        true: float | None = 0.0
    elif not cabinet.is_joined(probes.red, probes.black, without=probes.element):
        return Shown(None, "V", said("unsteady"), ("floating",))
    elif cabinet.shared_net(probes.red, probes.black) is cabinet.mains:
        true = cabinet.mains_volts(probes.red, probes.black, live=live) if probes.function == "volts ac" else 0.0
    else:
        true = cabinet.volts(probes.red, probes.black, live) if probes.function == "volts dc" else 0.0
    if true is None:
        return Shown(None, "V", said("unsteady"), ("floating",))
    return _shown(true, "V", probes, seed, index, spec)


def _ohms(cabinet: Cabinet, probes: Probes, live: Live, seed: int, index: int, spec: MultimeterSpec) -> Shown:
    net = cabinet.shared_net(probes.red, probes.black)
    if net is None:
        return _open(probes, ())
    if net is cabinet.mains:
        own, across = _mains_split(cabinet, probes, spec)
    else:
        own = cabinet.volts(probes.red, probes.black, live, muted=(probes.element,))
        across = cabinet.volts(probes.red, probes.black, live)
    if probes.red == probes.black:
        own, across = 0.0, 0.0
    if across is None or own is None:
        return _open(probes, ())
    fed = abs(own) > spec.fed_above_v
    flags: tuple[Flag, ...] = ("live circuit",) if fed else ()
    if not 0.0 <= across < spec.source_v:
        return _open(probes, flags)
    true = spec.source_ohm * across / (spec.source_v - across) + spec.leads_ohm
    shown = _shown(true, "Ω", probes, seed, index, spec)
    if probes.function == "continuity":
        beeps = shown.value is not None and shown.value < spec.beeps_below_ohm
        text = said("{reading}, beeps", reading=shown.text) if beeps else said("silent")
        return Shown(shown.value, "Ω", text, flags)
    return Shown(shown.value, shown.unit, shown.text, (*shown.flags, *flags))


def _mains_split(cabinet: Cabinet, probes: Probes, spec: MultimeterSpec) -> tuple[float | None, float | None]:
    """Volts between the probes by the mains itself, and with the meter's source in the circuit.

    The source is direct and the net alternates, so the two only meet in the meter: the larger swamps the lesser.
    """
    with_source = cabinet.mains_direct_volts(probes.red, probes.black, probes.element)
    without = cabinet.mains_volts(probes.red, probes.black, muted=(probes.element,))
    if without is not None and with_source is not None and without > spec.fed_above_v:
        return without, without
    return without, with_source


def _open(probes: Probes, flags: tuple[Flag, ...]) -> Shown:
    text = said("silent" if probes.function == "continuity" else "open, over range")
    return Shown(None, "Ω", text, ("over range", *flags))


def _shown(true: float, unit: str, probes: Probes, seed: int, index: int | None, spec: MultimeterSpec) -> Shown:
    """The display for a true value: this meter's scale, its noise, the range it settles in."""
    beyond = "open, over range" if unit == "Ω" else "over range"
    ranges = dict(spec.ranges)[probes.function]
    display = Display(probes.meter, probes.function, unit, ranges, spec.gain_error, spec.noise_steps, beyond)
    return display.show(true, seed, index)
