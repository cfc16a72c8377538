"""The leakage clamp: jaws wide enough for live and neutral together, fine enough for what doesn't come back.

Round both conductors the working current cancels; what is left goes home through earth.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np

from sim.devices.live import Live
from sim.instruments.clamp_meter import current_in
from sim.instruments.course import Figure, Stretch, course_of, live_now
from sim.instruments.display import Display, Range
from sim.instruments.instrument import Function, Group, Reading, Use, nothing
from sim.wiring.netlist import Undo
from sim.wiring.solve import solve

if TYPE_CHECKING:
    from sim.world.world import World

PAIRS: Final = {
    "supply lead": ("supply lead, live", "supply lead, neutral"),
    "behind the residual-current device": (
        "residual-current device, live pole",
        "residual-current device, neutral pole",
    ),
}
"""Where both conductors can be put through the jaws."""

RANGES: Final = (Range(4e-3, 1e-6, "m"), Range(40e-3, 1e-5, "m"), Range(400e-3, 1e-4, "m"), Range(40.0, 0.01))


class LeakageClamp:
    """The leakage clamp of a bag."""

    name = "leakage clamp"
    group: Group = "electrical"
    help = "Current that doesn't come back: round live and neutral together, or round a protective conductor."
    category = 3
    functions: tuple[Function, ...] = (
        Function(
            "live and neutral together",
            "A",
            "What goes out and doesn't come back; a sound gate leaks far below a milliampere.",
            at="spot",
            spots=tuple(PAIRS),
            takes_s=12.0,
        ),
        Function(
            "protective conductor", "A", "Alternating current in one conductor, finely.", at="core", takes_s=12.0
        ),
    )

    def place(self, world: World, use: Use) -> Undo:
        """Close the jaws: changes nothing."""
        return nothing

    def read(self, world: World, use: Use, index: int) -> Reading:
        """What flows now, and the least and most since the jaws were closed."""
        display = Display(self.name, use.function, "A", RANGES, gain_error=0.01)
        figure = _difference(PAIRS[use.at]) if use.at in PAIRS else current_in(world, use.at, alternating=True)
        course = course_of(world)
        least, most = course.extremes(use.since, figure)
        now = float(np.max(figure(course.stretch_now(), live_now(world))))
        return Reading(
            display.show(now, world.seed, index), display.keep(least, world.seed), display.keep(most, world.seed)
        )


def _difference(pair: tuple[str, str]) -> Figure:
    def figure(stretch: Stretch, live: Live) -> Any:
        solved = solve(stretch.mains)
        # both are counted away from the supplier in the net, so that what comes back counts against what goes out
        return abs(sum(solved.current(name) for name in pair))

    return figure
