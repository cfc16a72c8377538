"""The loop tester: a loop by itself with its plug withdrawn, and what its detector makes of it while it runs."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final, TypeAlias

from sim.devices.detector import LOOP, MOST_LOOP_OHM, LoopDetector
from sim.devices.loop import feeder_h, frequency_hz
from sim.errors import Refused
from sim.instruments.instrument import Function, Group, Reading, Use, nothing
from sim.instruments.scaled import Row, Scale, shown
from sim.instruments.shown import Shown
from sim.said import said
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

_INDUCTANCE: Final = Scale(0.1, 0.15, 0.0, 2000.0)
_FREQUENCY: Final = Scale(0.1, 0.03, 0.0, 300.0)
_CHANGE: Final = Scale(0.01, 0.004, -20.0, 20.0)
"""A hand-held tester of loops. CP, no source."""

NO_SWING: Final = said("nothing swings")


def _inductance_uh(world: World, detector: LoopDetector) -> float | str:
    """Of loop and feeder together: the tester swings them by itself."""
    if LOOP not in world.cabinet.unplugged:
        return said("unsteady: the detector swings it as well")
    ohm = world.cabinet.loop_ohm()
    if ohm is None or ohm > MOST_LOOP_OHM:
        return NO_SWING
    return (detector.henry + feeder_h(detector.loop)) * 1e6


def _frequency_khz(world: World, detector: LoopDetector) -> float | str:
    return frequency_hz(detector.loop, detector.missing) / 1000.0 if world.cabinet.loop_runs() else NO_SWING


def _apart_khz(world: World, detector: LoopDetector) -> float | str:
    neighbour, own = detector.loop.neighbour_khz, _frequency_khz(world, detector)
    if neighbour is None:
        return said("no other detector is to be heard")
    return own if isinstance(own, str) else abs(own - neighbour)


def _change_percent(world: World, detector: LoopDetector) -> float | str:
    return detector.shift * 100.0 if world.cabinet.loop_runs() else NO_SWING


Figure: TypeAlias = "Callable[[World, LoopDetector], float | str]"

ROWS: Final[tuple[tuple[Function, Figure, Scale], ...]] = (
    (
        Function("inductance", "µH", "Of loop and feeder, with the loop's plug withdrawn.", at=""),
        _inductance_uh,
        _INDUCTANCE,
    ),
    (Function("frequency", "kHz", "What the detector's oscillator runs at.", at=""), _frequency_khz, _FREQUENCY),
    (
        Function("apart from the neighbour", "kHz", "Between this detector and another one close by.", at=""),
        _apart_khz,
        _FREQUENCY,
    ),
    (
        Function("change since tuned", "%", "Of the inductance: below nothing when metal is near.", at=""),
        _change_percent,
        _CHANGE,
    ),
)


class LoopTester:
    """The loop tester of a bag."""

    name = "loop tester"
    group: Group = "guards and radio"
    help = "Inductance, frequency and change of a presence loop. For its resistance take the multimeter."
    functions: tuple[Function, ...] = tuple(function for function, _figure, _scale in ROWS)

    def place(self, world: World, use: Use) -> Undo:
        """Hold it to the plug, or to the detector. Raises Refused where there is no loop."""
        _detector(world)
        return nothing

    def read(self, world: World, use: Use, index: int) -> Reading:
        """What it shows; a pure look."""
        function, figure, scale = next(row for row in ROWS if row[0].name == use.function)
        found = figure(world, _detector(world))
        if isinstance(found, str):
            return Reading(Shown(None, function.unit, found))
        return Reading(
            shown(Row(function, lambda _world, _use: 0.0, scale), found, self.name, use, world.seed, index)
        )


def _detector(world: World) -> LoopDetector:
    found = world.cabinet.loop
    if found is None:
        raise Refused("no presence loop is fitted on this site")
    return found
