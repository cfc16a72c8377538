"""The clamp: jaws round one conductor, whose current it shows without touching or loading anything.

For direct current its core keeps a little magnetism: the zero drifts each time it is put on. What it shows is a mean
over its settling time; least and most are of what the plant recorded, ten milliseconds at a time.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np

from sim.devices.live import Live
from sim.devices.supply import OUTPUT
from sim.draws import normal
from sim.instruments.course import Figure, Stretch, course_of, live_now
from sim.instruments.display import Display, Range
from sim.instruments.instrument import Function, Group, Reading, Use, nothing
from sim.wiring.netlist import Undo
from sim.wiring.solve import solve

if TYPE_CHECKING:
    from sim.world.world import World

DRIFT_A: Final = 0.02
"""Deviation of the zero from one clamping to the next [A]. CP, no source."""

_RANGES: Final = (Range(40.0, 0.01), Range(400.0, 0.1))
DIRECT: Final = Display("clamp meter", "amps dc", "A", _RANGES, gain_error=0.008, noise_steps=0.6)
ALTERNATING: Final = Display("clamp meter", "amps ac", "A", _RANGES, gain_error=0.008, noise_steps=0.4)


class ClampMeter:
    """The clamp of a bag."""

    name = "clamp meter"
    group: Group = "electrical"
    help = "Current in one conductor, without opening it; remembers least and most."
    category = 3
    functions: tuple[Function, ...] = (
        Function(
            "amps dc",
            "A",
            "Direct current in one core, from the cabinet's end to the far end; its zero drifts a little.",
            at="core",
            takes_s=12.0,
        ),
        Function("amps ac", "A", "Alternating current in one core.", at="core", takes_s=12.0),
    )

    def place(self, world: World, use: Use) -> Undo:
        """Close the jaws: changes nothing."""
        return nothing

    def read(self, world: World, use: Use, index: int) -> Reading:
        """What flows now, and the least and most since the jaws were closed."""
        display = DIRECT if use.function == "amps dc" else ALTERNATING
        figure = current_in(world, use.at, alternating=use.function == "amps ac")
        drift = DRIFT_A * normal(world.seed, self.name, f"zero at {use.since}") if display is DIRECT else 0.0
        course = course_of(world)
        now = np.max(figure(course.stretch_now(), live_now(world)))
        least, most = course.extremes(use.since, figure)
        return Reading(
            display.show(float(now) + drift, world.seed, index),
            None if least is None else display.keep(least + drift, world.seed),
            None if most is None else display.keep(most + drift, world.seed),
        )


def current_in(world: World, core: str, *, alternating: bool) -> Figure:
    """The current in a conductor [A]: direct in one net, effective in the other; a clamp of one kind is blind to the
    other. What the power supply takes follows what it gives."""

    def figure(stretch: Stretch, live: Live) -> Any:
        on_mains = any(element.name == core for element in stretch.mains)
        if on_mains is not alternating:
            return 0.0
        if not alternating:
            return stretch.look.amps(core, live)
        # the more the power supply gives, the more it takes: the extremes lie at its own
        given = np.atleast_1d(np.asarray(stretch.look.amps(OUTPUT, live), dtype=np.float64))
        ends = (float(given.min()), float(given.max()))
        return np.array([abs(solve(world.cabinet.mains_fed(stretch.mains, a)).current(core)) for a in ends])

    return figure
