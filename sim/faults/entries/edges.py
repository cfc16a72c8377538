"""Faults of safety edges: lines that break, get wet or torn, are wired wrongly, silenced, or lose their cell."""

from __future__ import annotations

from typing import Final

from sim.faults.edit import Fact, Leak, Opened, Value
from sim.faults.entries.steps import DEAD, ohms, unplugged_ohms, volts
from sim.faults.entry import Band, Fault, Reference, Step, Trigger, WrongRepair, step

SOURCE: Final = "common practice, no source"

SOUND: Final = Band(7_400.0, 9_000.0, unit="Ω")
OPEN: Final = Band(words=("over range",))

LINE: Final = unplugged_ohms("active edge", "line", "common")

PRESSED: Final = (step("press edge", guard="active edge", height_mm=700.0), step("wait", seconds=2.0))


def _let_go() -> tuple[Step, ...]:
    return (step("release edge", guard="active edge"), step("wait", seconds=2.0))


BROKEN_LINE: Final = Fault(
    name="edge line broken",
    family="guards",
    customer="The gate won't close any more.",
    seen="The panel says that the edge's line is open.",
    fact="a core of the edge's cable is broken where it bends beside the moving leaf",
    edits=(Value("active edge, line core", "ohm", 5e7, 1e9),),
    reference=Reference(LINE, SOUND, OPEN),
    repair=(*DEAD, step("splice", what="active edge, line core")),
    wrong=(
        WrongRepair((step("bridge", guard="active edge"),), "a loose resistor at the board: nobody feels the edge"),
    ),
    verification="8.2 kΩ while the leaf is walked from end to end, and the edge pressed at both ends of its line",
    trap="a loose resistor at the board reads like a sound edge and hides that there is none",
    source=SOURCE,
)

WET: Final = Fault(
    name="edge wet",
    family="guards",
    customer="It fails whenever it has rained.",
    seen="The edge reads low, and never twice the same.",
    fact="water stands in the profile between its two strips",
    edits=(Fact("guards.active_edge.water", 0.15, 0.8),),
    reference=Reference(
        LINE,
        SOUND,
        Band(900.0, 5_000.0, unit="Ω"),
        note="1 to 5 kΩ; the deepest water of the model lies a little lower for moments",
    ),
    repair=(*DEAD, step("dry", what="active edge")),
    wrong=(
        WrongRepair((step("bridge", guard="active edge"),), "in parallel with a wet edge it only reads lower still"),
    ),
    verification="8.2 kΩ after the profile was sprayed with water",
    trap="a wet edge may look pressed, or hide a press",
    source=SOURCE,
    trigger=Trigger("rain", above=0.5, hysteresis=0.2),
    variant={"weather.rain_mm_h": 6.0},
)

TORN: Final = Fault(
    name="edge torn, a part is dead",
    family="guards",
    customer="It hit the bin and didn't care.",
    seen="The profile is cut, and reads like a sound one.",
    fact="a part of the profile has lost its strip and doesn't react",
    edits=(Fact("guards.active_edge.dead_from_m", 0.6, 0.3), Fact("guards.active_edge.dead_to_m", 0.8, 0.85)),
    reference=Reference(
        (*DEAD, step("unplug", guard="active edge"), *PRESSED, LINE[-1]),
        Band(0.0, 1_000.0, unit="Ω"),
        SOUND,
    ),
    repair=(*DEAD, step("replace", what="active edge")),
    wrong=(
        WrongRepair(
            (step("press edge", guard="active edge", height_mm=900.0), step("wait", seconds=2.0), *_let_go()),
            "pressed in the middle only, it passes: the torn part is never touched",
        ),
    ),
    verification="pressed every tenth of a metre it reads below 1 kΩ, and the force is measured again",
    trap="who tests the middle alone misses it",
    source=SOURCE,
    shows=(*PRESSED, *_let_go()),
)

PARALLEL: Final = Fault(
    name="two edges in parallel",
    family="guards",
    customer="Since the second profile was fitted it faults, or it never does.",
    seen="The line reads half of what it should.",
    fact="the second profile has an end resistor of its own beside the first",
    edits=(
        Leak(
            "active edge, second end resistor",
            "active edge at the leaf.line",
            "active edge at the leaf.return",
            8200.0,
            8200.0,
        ),
    ),
    reference=Reference(LINE, SOUND, Band(3_900.0, 4_300.0, unit="Ω")),
    repair=(*DEAD, step("remove link", what="active edge, second end resistor")),
    wrong=(
        WrongRepair(
            (step("unplug", guard="active edge"), step("bridge", guard="active edge")),
            "with a loose resistor at the board it reads 8.2 kΩ, and both profiles are gone",
        ),
    ),
    verification="either profile unplugged at its joint: the line reads open",
    trap="in parallel, a break of one profile is not noticed",
    source=SOURCE,
)

DUMMY: Final = Fault(
    name="dummy resistor left at the board",
    family="guards",
    customer="No trouble at all since the last visit.",
    seen="The edge always reads sound, pressed or not.",
    fact="a loose resistor sits at the board in the place of the edge's core, which hangs free",
    edits=(
        Leak("active edge plug, dummy resistor", "active edge.line", "active edge.common", 8200.0, 8200.0),
        Opened("active edge plug, line, screw"),
    ),
    reference=Reference(
        (*DEAD, step("unplug", guard="active edge"), ohms("active edge, line", "active edge, common")),
        Band(12_000.0, 25_000.0, unit="Ω"),
        Band(4_500.0, 7_000.0, unit="Ω"),
        note="the board's own pull-up and rail lie beside the input, about 14 kΩ: a bare input is not quite open, "
        "and the resistor reads 5 kΩ instead of 8.2",
    ),
    repair=(
        *DEAD,
        step("remove link", what="active edge plug, dummy resistor"),
        step("tighten", what="active edge plug, line, screw"),
    ),
    wrong=(
        WrongRepair(
            (*DEAD, step("tighten", what="active edge plug, line, screw")),
            "with edge and resistor in parallel the line reads pressed, and somebody takes the edge off again",
        ),
    ),
    verification="with the plug pulled the panel says that the line is open; plugged in, a press stops the gate",
    trap="the same as a bridge: the edge protects nobody, and the panel is content",
    source=SOURCE,
    shows=(*PRESSED, *_let_go()),
)

RADIO_CELL: Final = Fault(
    name="radio edge cell flat",
    family="guards",
    customer="Now and then it says that the edge is gone.",
    seen="The edge's receiver loses its heartbeat.",
    fact="the cell of the transmitter in the leaf is nearly empty",
    edits=(Fact("guards.inactive_edge.radio.charge", 0.08, 0.03),),
    reference=Reference(
        (volts("inactive edge transmitter cell, plus", "inactive edge transmitter cell, minus"),),
        Band(3.0, 3.6, unit="V"),
        Band(1.5, 2.6, unit="V"),
    ),
    repair=(step("replace", what="inactive edge transmitter cell"),),
    wrong=(
        WrongRepair(
            (step("bridge", guard="inactive edge"),), "a loose resistor takes the place of an edge that is silent"
        ),
    ),
    verification="ten presses are all understood, with 10 dB or more in hand",
    trap="a link without a heartbeat goes silent and nobody notices",
    source=SOURCE,
    variant={"guards.inactive_edge.radio": {"charge": 1.0}},
)

EDGES: Final = (BROKEN_LINE, WET, TORN, PARALLEL, DUMMY, RADIO_CELL)
"""All of them."""
