"""Isolation: taking both sources away and bringing them back."""

from __future__ import annotations

from sim.world.catalogue.entry import kind
from sim.world.kinds import Kind

ENTRIES: tuple[Kind, ...] = (
    kind("isolate", "isolation", "Open the mains isolator, lock it and hang a tag.", 30),
    kind(
        "restore",
        "isolation",
        "Take the lock off and close the mains isolator.",
        20,
        caution="Nobody in the arc, nobody with hands in the cabinet: a gate that has power may move.",
    ),
    kind(
        "remove battery link",
        "isolation",
        "Pull the battery link: the battery is a second source.",
        20,
    ),
    kind("fit battery link", "isolation", "Fit the battery link.", 20),
)
