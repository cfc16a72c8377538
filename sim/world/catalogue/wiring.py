"""Work at the terminals."""

from __future__ import annotations

from sim.world.catalogue.entry import GUARD, LEAF, PLUG, kind
from sim.world.kinds import Kind

ENTRIES: tuple[Kind, ...] = (
    kind(
        "swap motor leads",
        "wiring",
        "Exchange the two motor cores of one leaf at the board.",
        120,
        LEAF,
        caution="Isolate both sources and prove dead first.",
    ),
    kind("unplug", "wiring", "Pull the plug of a guard or another cable off the board.", 10, PLUG),
    kind("plug in", "wiring", "Push the plug of a guard or another cable back.", 10, PLUG),
    kind(
        "bridge",
        "wiring",
        "Fit a wire link across a guard's input.",
        30,
        GUARD,
        caution="A bridged guard protects nobody. Someone will be hurt by a gate you left like this.",
    ),
    kind("remove bridge", "wiring", "Take the wire link off a guard's input.", 20, GUARD),
)
