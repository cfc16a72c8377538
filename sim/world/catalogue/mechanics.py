"""Mechanics: release, push and engage a leaf."""

from __future__ import annotations

from sim.world.catalogue.entry import LEAF, kind
from sim.world.kinds import Argument, Kind

ENTRIES: tuple[Kind, ...] = (
    kind(
        "release drive",
        "mechanics",
        "Unlock the manual release: the leaf swings free.",
        20,
        LEAF,
        caution="A released leaf swings by itself on a slope or in wind. Hold it.",
    ),
    kind("engage drive", "mechanics", "Lock the manual release.", 20, LEAF),
    kind(
        "push leaf",
        "mechanics",
        "Push a leaf by hand at its tip to an angle, with the spring scale.",
        15,
        LEAF,
        Argument("to_deg", float, "angle to push it to [°], 0 shut", least=-5, most=130),
        effect="start",
    ),
)
