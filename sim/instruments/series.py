"""The current ranges of a meter: in series, with their burden and the fuse before them.

The meter is a piece of wire then. Laid across a supply it is a short, and its fuse is what ends that.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from sim.devices.live import Live
from sim.instruments.course import Stretch, course_of, live_now
from sim.instruments.display import Display, Range
from sim.instruments.instrument import Function, Reading, Use
from sim.instruments.shown import Shown
from sim.said import said
from sim.wiring.elements import Contact
from sim.wiring.netlist import Netlist, Undo, WiringError, in_turn
from sim.wiring.solve import solve

if TYPE_CHECKING:
    from sim.world.world import World

CAUTION: Final = "In series only: open the circuit, put the meter into the gap. Across a supply it is a short."

BLOWS_AT: Final = 2.0
"""A meter's fast fuse goes at once at this many times its rating. CP, no source."""


@dataclass(frozen=True, slots=True)
class CurrentRange:
    """One socket of the meter."""

    fuse_a: float
    burden_ohm: float
    display: tuple[Range, ...]


SOCKETS: Final = {
    "amps": CurrentRange(10.0, 0.03, (Range(10.0, 0.001), Range(20.0, 0.01))),
    "milliamps": CurrentRange(0.4, 1.8, (Range(40e-3, 1e-5, "m"), Range(400e-3, 1e-4, "m"))),
}


def _function(name: str, text: str, *, in_core: bool) -> Function:
    if in_core:
        return Function(name, "A", text, at="core", takes_s=60.0, caution=CAUTION)
    return Function(name, "A", text, against="terminal", takes_s=15.0, caution=CAUTION)


FUNCTIONS: Final = (
    _function("amps", "Current between two terminals whose link, fuse or plug is out; to 10 A.", in_core=False),
    _function("milliamps", "The same, to 400 mA.", in_core=False),
    _function(
        "amps in a core", "Current in one core, lifted from its screw and led through the meter.", in_core=True
    ),
    _function("milliamps in a core", "The same, to 400 mA.", in_core=True),
)

CORE: Final = " in a core"


class Series:
    """The current ranges of one meter, with their fuses."""

    def __init__(self, meter: str) -> None:
        self._meter = meter
        self.blown: set[str] = set()
        """Sockets whose fuse has blown."""

    def is_mine(self, use: Use) -> bool:
        """Whether a function is one of current."""
        return use.function.removesuffix(CORE) in SOCKETS

    def place(self, world: World, use: Use) -> Undo:
        """Into the circuit: between two terminals, or into a core at its nearer end."""
        net, core = _net_of(world, use)
        if net is None:
            return lambda: None
        socket = SOCKETS[use.function.removesuffix(CORE)]
        ohm: complex = complex(socket.burden_ohm) if net is world.cabinet.mains else socket.burden_ohm
        whole = use.function.removesuffix(CORE) not in self.blown
        if core:
            before = net[core]
            undo = in_turn(net.change(core, a=self._path), self._put(net, before.a, self._path, ohm, whole))
        else:
            red, black = (world.cabinet.terminal(each).node for each in (use.at, use.against))
            undo = self._put(net, red, black, ohm, whole)
        try:
            self.suffer(world, use)
        except WiringError:
            undo()
            raise
        return undo

    @property
    def _path(self) -> str:
        return f"{self._meter}, current path"

    def _put(self, net: Netlist, a: str, b: str, ohm: complex, whole: bool) -> Undo:
        net.add(Contact(self._path, a, b, whole, ohm))

        def off() -> None:
            net.remove(self._path)

        return off

    def suffer(self, world: World, use: Use) -> None:
        """The fuse goes if more flows than it bears: now, or at any time since it was put there."""
        net, _core = _net_of(world, use)
        name = use.function.removesuffix(CORE)
        if net is None or name in self.blown:
            return
        course = course_of(world)
        amps = [self._amps(course.stretch_now(), live_now(world))]
        amps += [each for each in course.extremes(use.since, self._amps) if each is not None]
        worst = max(abs(complex(each)) for each in amps)
        if worst < BLOWS_AT * SOCKETS[name].fuse_a:
            return
        self.blown.add(name)
        net.switch(self._path, False)
        where = use.at if not use.against else said("{at} to {against}", at=use.at, against=use.against)
        worst = min(worst, 1e5)
        world.tell(
            "danger",
            said(
                "the {meter} on {name} was a short circuit ({where}): {worst:.0f} A until its fuse blew",
                meter=self._meter,
                name=name,
                where=where,
                worst=worst,
            ),
            what="current range across a supply",
            detail=where,
        )
        world.tell(
            "damage",
            said("the fuse of the {meter}'s {name} socket has blown", meter=self._meter, name=name),
            what="meter fuse blown",
            detail=name,
        )

    def _amps(self, stretch: Stretch, live: Live) -> Any:
        for element in stretch.mains:
            if element.name == self._path:
                return abs(solve(stretch.mains).current(self._path))
        return stretch.look.amps(self._path, live)

    def read(self, world: World, use: Use, index: int) -> Reading:
        """What flows through the meter, least and most since it was put there; nothing through a blown fuse."""
        net, _core = _net_of(world, use)
        if net is None:
            return Reading(Shown(0.0, "A", "0.000 A"))
        name = use.function.removesuffix(CORE)
        display = Display(self._meter, name, "A", SOCKETS[name].display, gain_error=0.005)
        course = course_of(world)
        now = complex(self._amps(course.stretch_now(), live_now(world))).real
        least, most = course.extremes(use.since, self._amps)
        return Reading(
            display.show(now, world.seed, index), display.keep(least, world.seed), display.keep(most, world.seed)
        )


def _net_of(world: World, use: Use) -> tuple[Netlist | None, str]:
    """The net the meter is put into, and the core it is put into, if it is one."""
    if not use.function.endswith(CORE):
        return world.cabinet.shared_net(use.at, use.against), ""
    for net in (world.cabinet.netlist, world.cabinet.mains):
        if use.at in net:
            return net, use.at
    raise WiringError(said("there is no core '{at}'", at=use.at))


__all__ = ["FUNCTIONS", "SOCKETS", "Series"]
