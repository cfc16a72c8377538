"""Isolation: taking both sources away and bringing them back."""

from __future__ import annotations

from sim.world.catalogue.entry import kind
from sim.world.kinds import Argument, Kind

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
    kind(
        "discharge",
        "isolation",
        "Empty the power supply's capacitor through a resistor: it stays charged when both sources are gone.",
        20,
        caution="A capacitor holds what it had: a resistor with handles, never a screwdriver.",
    ),
    kind(
        "read status and log",
        "isolation",
        "Read what the controller's panel says and its log, and write it down: without power it tells nothing.",
        30,
    ),
    kind(
        "prove dead",
        "isolation",
        "Prove the tester, test every pair of terminals named, prove the tester again; write it down.",
        60,
        Argument(
            "where",
            str,
            "which side",
            choices=("both sides", "mains side", "low voltage"),
            default="both sides",
        ),
        varies=True,
        caution="Until it is proved dead it is live: covers open, hands out.",
    ),
    kind(
        "post second person",
        "isolation",
        "Have somebody stand at the stop button, to press it on danger or on your word.",
        30,
    ),
    kind("send second person away", "isolation", "Nobody stands at the stop button any longer.", 10),
    kind("call stop", "isolation", "Call out: the second person presses the stop button.", 2, effect="start"),
)
