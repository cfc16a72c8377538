"""Instruments."""

from __future__ import annotations

from sim.units import DIRECTIONS
from sim.world.catalogue.entry import LEAF, PROBE_HELP, kind
from sim.world.kinds import Argument, Kind

INSTRUMENT = Argument("instrument", str, "which instrument of the bag")
MEASURES = (
    INSTRUMENT,
    Argument("function", str, "what it measures, in the instrument's own words"),
    Argument("at", str, "the place it is put on, or its red probe", default=""),
    Argument("against", str, "the second place, or its black probe", default=""),
)

ENTRIES: tuple[Kind, ...] = (
    kind(
        "measure",
        "instruments",
        "Put an instrument in place, let it settle, read it, take it off.",
        15,
        *MEASURES,
        varies=True,
    ),
    kind(
        "place instrument",
        "instruments",
        "Put an instrument in place and leave it there; it remembers least and most.",
        15,
        *MEASURES,
        varies=True,
    ),
    kind(
        "read instrument", "instruments", "Let an instrument in place settle and read it.", 3, INSTRUMENT, varies=True
    ),
    kind("lift instrument", "instruments", "Take an instrument off.", 3, INSTRUMENT),
    kind("repeat this reading", "instruments", "Take the last reading again, with its time.", 15, varies=True),
    kind("replace meter fuse", "instruments", "Put new fuses of the right kind into a meter.", 120, INSTRUMENT),
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
