"""Repairs: what a hand does to a joint, a core, a part, a hinge."""

from __future__ import annotations

from typing import Final

from sim.world.catalogue.entry import kind
from sim.world.kinds import Argument, Kind

_ISOLATED: Final = "Isolate both sources and prove dead first."

_WHAT: Final = Argument("what", str, "which one, by its name on the drawing or in words")

ENTRIES: tuple[Kind, ...] = (
    kind("tighten", "repair", "Tighten a screw or a joint to its torque.", 120, _WHAT, caution=_ISOLATED),
    kind(
        "re-terminate",
        "repair",
        "Cut a core back and set it under its own two terminals again.",
        300,
        _WHAT,
        caution=_ISOLATED,
    ),
    kind(
        "splice",
        "repair",
        "Join a core anew with a crimp in gel: it has a joint from now on.",
        900,
        _WHAT,
        caution=_ISOLATED,
    ),
    kind("re-lay cable", "repair", "Lay a cable anew, as it was planned.", 5400, _WHAT, caution=_ISOLATED),
    kind("replace", "repair", "Replace a part by a new one of its kind.", 1200, _WHAT, caution=_ISOLATED),
    kind("clean", "repair", "Clean a part or a place.", 300, _WHAT),
    kind("align", "repair", "Align a part and lock it.", 600, _WHAT),
    kind("adjust", "repair", "Set a part back to where it belongs.", 900, _WHAT),
    kind(
        "grease",
        "repair",
        "Clean a moving part and grease it.",
        600,
        _WHAT,
        caution="Hold the leaf: it moves more easily afterwards.",
    ),
    kind("free", "repair", "Free a part that is stuck.", 900, _WHAT, caution="It may let go suddenly: stand clear."),
    kind("dry", "repair", "Open a box or a profile, drain and dry it, and seal it.", 1800, _WHAT, caution=_ISOLATED),
    kind("prune", "repair", "Cut back what grows.", 900, _WHAT, caution="Never near a live drive."),
    kind(
        "clear away",
        "repair",
        "Clear away what lies or stands in the way.",
        300,
        _WHAT,
        caution="Nobody kneels in the arc with power on.",
    ),
    kind(
        "remove link",
        "repair",
        "Take out a piece of wire or a loose part that nobody planned.",
        60,
        _WHAT,
        caution=_ISOLATED,
    ),
    kind("reset", "repair", "Close again what has tripped.", 10, _WHAT, caution="Find out first why it tripped."),
    kind(
        "swap cores",
        "repair",
        "Exchange two cores at one end.",
        300,
        Argument("one", str, "a core, as the drawing names it"),
        Argument("other", str, "the core it changes places with"),
        Argument("end", str, "at which end", choices=("cabinet", "far end"), default="cabinet"),
        caution=_ISOLATED,
    ),
)
