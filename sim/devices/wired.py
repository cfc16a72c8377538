"""Both nets of a site with every part on them, come to rest: what hands edit and readings are taken from."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, TypeAlias, cast

from sim.devices.asking import LoopState
from sim.devices.fitting import Fittings
from sim.devices.optics import Light
from sim.devices.output_path import Signs
from sim.devices.part import Terminal
from sim.devices.passing import PassingState
from sim.devices.reservoir import RESERVOIR
from sim.devices.rest import Rest, keep
from sim.site import Site
from sim.wiring.elements import Element
from sim.wiring.netlist import Mark, Netlist, Plain, WiringError
from sim.wiring.solve import solve

CabinetState: TypeAlias = tuple[tuple[str, object], ...]


TRACE_LENGTH: Final = 1000
"""How many entries the trace keeps."""


PATIENCE: Final = 12
"""After so many turns a converter that starts and stops in turn stays off: a real one hiccups there, and gives
nothing."""


TIMED: Final = (RESERVOIR, "battery", "battery, surface charge", "battery, discharging")
"""Elements whose values time changes by itself: charge that is stored."""


@dataclass(frozen=True, slots=True)
class Solved:
    """One time the net was settled anew."""

    at: int
    """[µs]"""
    changed: tuple[str, ...]
    """Elements that had changed since the time before, in the order they did."""
    anew: bool
    """Whether it was solved; else this very net was remembered."""


class Wired:
    """Every conductor on a site. Parts follow what feeds them before anything is read."""

    def __init__(self, site: Site) -> None:
        self.site = site
        self.netlist = Netlist()
        """The low-voltage side."""
        self.mains = Netlist()
        """The mains side, in RMS phasors."""
        self._fitted = Fittings(site)
        self._fitted.stamp(self.netlist, self.mains)
        self.passing = self._fitted.passing
        """Warmth of fuses, charge of the battery: what time changes."""
        self.built: Mapping[str, Element] = MappingProxyType({**self.mains.elements, **self.netlist.elements})
        """Every element of both nets as it was built."""
        self.instant: Callable[[], int] = lambda: 0
        """What time it is [µs], for the trace; whoever keeps a clock sets it."""
        self.netlist.take_touched()  # building is no change
        self.mains.take_touched()
        self.trace: deque[Solved] = deque(maxlen=TRACE_LENGTH)
        """When the net was settled anew, and what had changed. No part of the state."""
        self.terminals: dict[str, Terminal] = {terminal.name: terminal for terminal in self._fitted.terminals()}
        """Every terminal by its name, in the order of the cabinet drawing."""
        self._signs: Signs = (0, 0)
        self._settled: tuple[Mark, Mark] | None = None
        self._rest = Rest(self.netlist.key)
        self._rests: dict[tuple[Mark, Mark], Rest] = {}
        self._moves: dict[tuple[Mark, Mark, tuple[object, ...]], tuple[Element, ...]] = {}

    # -- parts follow what feeds them ------------------------------------------------------------------

    def settle(self) -> bool:
        """Let supply, battery relay, converters and receivers follow the net; True if one of them moved.

        Every reading does this first. Raises WiringError if the parts never come to rest.
        """
        marks = (self.netlist.mark, self.mains.mark)
        if marks == self._settled:
            return False
        asked = (*marks, self._fitted.mood())
        moves = self._moves.get(asked)
        if moves is None:
            moves = keep(self._moves, asked, self._come_to_rest())
        else:
            self.netlist.put(moves)
        self._settled = (self.netlist.mark, self.mains.mark)
        known = self._rests.get(self._settled)
        self._rest = known or keep(self._rests, self._settled, Rest(self.netlist.key))
        touched = (*self.netlist.take_touched(), *self.mains.take_touched())
        self.trace.append(Solved(self.instant(), touched, known is None))
        return bool(moves)

    def _come_to_rest(self) -> tuple[Element, ...]:
        """Let every part follow until none moves; what they changed in the net."""
        before = self.netlist.key
        for turn in range(2 * PATIENCE):
            solved = solve(self.netlist.key)
            if not self._fitted.react(self.netlist, self.mains, solved, weary=turn >= PATIENCE):
                return tuple(new for old, new in zip(before, self.netlist.key, strict=True) if new is not old)
        raise WiringError("supply, converters and receivers never come to rest: each undoes what another does")

    @property
    def mains_on(self) -> bool:
        """Whether the isolator is closed."""
        return self._fitted.mains.is_closed(self.mains)

    def refit(self, site: Site) -> None:
        """The site stands like this from now on; conductors stay as they are."""
        self.site = site
        self._fitted.refit(self.netlist, self.mains, site)

    # -- keyframes -------------------------------------------------------------------------------------

    def wiring(self) -> tuple[Plain, Plain]:
        """Both nets at rest, as base types, without what time changes by itself: all that hands can change."""
        self.settle()
        return tuple(row for row in self.netlist.state() if row[1] not in TIMED), self.mains.state()

    def state(self) -> CabinetState:
        """Everything that decides what is read next, as base types."""
        self.settle()
        return (
            ("low voltage", self.netlist.state()),
            ("mains", self.mains.state()),
            ("seen", tuple(beam.seen for beam in self._fitted.beams.values())),
            ("signs", self._signs),
            ("passing", self.passing.state()),
            ("unheard", tuple(guard for guard, edge in self._fitted.edges.items() if not edge.heard)),
            ("loop", self._fitted.asking.state()),
        )

    def restore_state(self, state: CabinetState) -> None:
        """Become the cabinet that `state()` was taken of, on the same site."""
        kept = dict(state)
        self.netlist.restore(cast(Plain, kept["low voltage"]))
        self.mains.restore(cast(Plain, kept["mains"]))
        seen = cast(tuple[tuple[bool, Light], ...], kept["seen"])
        for beam, (blocked, light) in zip(self._fitted.beams.values(), seen, strict=True):
            beam.blocked, beam.light = blocked, light
        for guard, edge in self._fitted.edges.items():
            edge.heard = guard not in cast(tuple[str, ...], kept["unheard"])
        self._fitted.asking.restore(cast(LoopState, kept["loop"]))
        self._signs = cast(Signs, kept["signs"])
        self.passing.restore(cast(PassingState, kept["passing"]))
        self._settled = None
        self.settle()
