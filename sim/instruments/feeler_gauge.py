"""The feeler gauge: how wide narrow gaps are. Wedges for wide gaps, blades for narrow ones."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from sim.instruments.instrument import Function, Group, Use
from sim.instruments.scaled import Row, Scale, Scaled, leaf_at, needs
from sim.mechanics import by_hand, hanging
from sim.said import said

if TYPE_CHECKING:
    from sim.world.world import World

SHUT_DEG: Final = 1.5
"""As far as this from shut a leaf still counts as shut [°]. CP, no source."""


def _meeting(world: World, use: Use) -> float:
    needs(not world.notices.moving(), "the gate moves under power; no hands between its edges")
    gap = hanging.meeting_gap(world.site, world.weather)
    leaves = range(len(world.site.leaves.fitted))
    shut = all(abs(math.degrees(world.plant.angle(leaf))) <= SHUT_DEG for leaf in leaves)
    needs(
        shut or gap <= 0.0,
        said(
            "both leaves must be shut to see what is left between them"
            if len(leaves) > 1
            else "the leaf must be shut to see what is left to its post"
        ),
    )
    return max(0.0, gap) * 1000.0


def _below(world: World, use: Use) -> float:
    needs(not world.notices.moving(), "the gate moves under power; no hands under its leaves")
    leaf = leaf_at(use)
    return by_hand.clearance(world.plant, leaf, world.plant.angle(leaf)) * 1000.0


class FeelerGauge(Scaled):
    """The feeler gauge of a bag, blades and wedges."""

    name = "feeler gauge"
    group: Group = "mechanical"
    help = "How wide a gap is."
    rows = (
        Row(
            Function("meeting gap", "mm", "Between the closing edges of both shut leaves, at the narrowest.", at=""),
            _meeting,
            Scale(0.1, 0.1, 0.0, 100.0),
        ),
        Row(
            Function("gap under the leaf", "mm", "Under a leaf where it stands, at the narrowest.", at="leaf"),
            _below,
            Scale(1.0, 0.5, 0.0, 150.0),
        ),
    )
