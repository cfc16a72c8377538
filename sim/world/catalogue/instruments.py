"""Instruments."""

from __future__ import annotations

from sim.units import DIRECTIONS
from sim.world.catalogue.entry import LEAF, PROBE_HELP, kind
from sim.world.kinds import Argument, Kind

ENTRIES: tuple[Kind, ...] = (
    kind("prove tester", "instruments", "Try the two-pole tester on a known source.", 10),
    kind(
        "test dead",
        "instruments",
        "Two-pole tester between two terminals.",
        10,
        Argument("red", str, PROBE_HELP),
        Argument("black", str, PROBE_HELP),
    ),
    kind(
        "place probes",
        "instruments",
        "Put the multimeter's probes on two terminals.",
        15,
        Argument(
            "function",
            str,
            "what it measures",
            choices=("volts dc", "volts ac", "ohms", "continuity"),
        ),
        Argument("red", str, PROBE_HELP),
        Argument("black", str, PROBE_HELP),
    ),
    kind("read meter", "instruments", "Wait until the meter has settled and read it.", 3),
    kind("lift probes", "instruments", "Take the probes off.", 3),
    kind(
        "place force gauge",
        "instruments",
        "Set the force gauge before a leaf's edge, on the side it closes or opens to.",
        90,
        LEAF,
        Argument("direction", str, "movement to be measured", choices=DIRECTIONS, default="closing"),
        Argument(
            "gap_mm",
            float,
            "opening left at contact: to the other edge, or to its own open place [mm]",
            least=30,
            most=700,
        ),
        Argument("height_mm", float, "height above ground [mm]", least=50, most=2500),
        Argument("rest", str, "what carries it", choices=("rigid rest", "by hand")),
    ),
    kind("read force gauge", "instruments", "Store the last force-time curve as a reading.", 10),
    kind("remove force gauge", "instruments", "Take the gauge away.", 30),
)
