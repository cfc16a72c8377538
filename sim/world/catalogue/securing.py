"""Securing: prop or rope a leaf while somebody works on it."""

from __future__ import annotations

from sim.world.catalogue.entry import LEAF, kind
from sim.world.kinds import Kind

ENTRIES: tuple[Kind, ...] = (
    kind(
        "prop leaf",
        "mechanics",
        "Wedge a prop under a leaf's tip, so that it neither swings nor drops.",
        120,
        LEAF,
        caution="Before a hinge or a bracket is loosened, something else must carry the leaf.",
    ),
    kind("rope leaf", "mechanics", "Tie a leaf to something firm, so that it can't swing.", 90, LEAF),
    kind("come back on a calm day", "mechanics", "Leave it, and go on when the wind is down.", 3600),
    kind("free leaf", "mechanics", "Take prop or rope away from a leaf.", 60, LEAF),
)
