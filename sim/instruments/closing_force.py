"""The force gauge as an instrument of the bag: set before an edge, read after the leaf has closed on it.

Placing it puts its spring in the leaf's way; what is read is the peak of the curve it wrote. Readings that are kept
and judged are taken by the acts of the force record (`force_stand.py`).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from sim.errors import Refused
from sim.instruments.force_gauge import as_kept
from sim.instruments.instrument import Function, Group, Reading, Use
from sim.instruments.shown import Shown
from sim.said import said
from sim.units import LEAVES
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

HEIGHT_SHARE: Final = 0.5
"""Set half way up the leaf."""

GAPS_MM: Final = (50, 300, 500)
"""Openings at which a closing edge is measured [mm] (facts 1.4)."""


class ForceGauge:
    """The force gauge of a bag."""

    name = "force gauge"
    group: Group = "mechanical"
    help = "How hard a closing edge hits and presses, on a spring of 500 N/mm."
    functions = tuple(
        Function(
            said("closing force, gap {gap} mm", gap=gap),
            "N",
            said("Before a leaf's closing edge, half way up, on a rigid rest, {gap} mm before it is shut.", gap=gap),
            at="leaf",
            takes_s=60.0,
            settles_s=2.0,
            caution="Stand beside the arc. No beam is bridged to get a reading.",
        )
        for gap in GAPS_MM
    )

    def place(self, world: World, use: Use) -> Undo:
        """Set it up; taken off, nothing stands there."""
        gap = float(use.function.rsplit(" ", 2)[1])
        model = world.site.leaves.pair[LEAVES.index(use.at)]  # type: ignore[arg-type]
        height = round((model.ground_clearance_m + HEIGHT_SHARE * model.height_m) * 1000.0)
        world.bag.place_gauge(LEAVES.index(use.at), gap, float(height), "rigid")  # type: ignore[arg-type]

        def undo() -> None:
            world.bag.remove_gauge()

        return undo

    def read(self, world: World, use: Use, index: int) -> Reading:
        """The peak of what it wrote. Raises Refused while nothing has touched it."""
        curve = world.plant.gauge_curve()
        if len(curve.time_s) < 2:
            raise Refused("nothing has touched the force gauge yet; let the leaf close on it")
        force = as_kept(curve.force_n, seed=world.seed, where=f"{use.function} at {use.at}", index=index)
        peak = float(np.max(force))
        return Reading(Shown(round(peak), "N", f"{peak:.0f} N"))
