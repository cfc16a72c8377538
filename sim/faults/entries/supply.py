"""Faults of mains, power supply, battery and fuses."""

from __future__ import annotations

from typing import Final

from sim.faults.edit import Leak, Opened, Value
from sim.faults.entries.steps import DEAD, ohms, open_under, volts
from sim.faults.entry import Band, Fault, Reference, Trigger, WrongRepair, step

SOURCE: Final = "common practice, no source"

NO_MAINS: Final = Fault(
    name="no mains at the box",
    family="supply and wiring",
    customer="Nothing works since this morning.",
    seen="The supply's lamp is dark; the battery may still feed the logic.",
    fact="the breaker of the final circuit is off",
    edits=(Opened("distribution breaker"),),
    reference=Reference(
        (
            step(
                "measure",
                instrument="multimeter",
                function="volts ac",
                at="isolator outlet, live",
                against="isolator outlet, neutral",
            ),
        ),
        Band(207.0, 253.0, unit="V"),
        Band(0.0, 10.0, unit="V"),
    ),
    repair=(step("reset", what="distribution breaker"),),
    wrong=(
        WrongRepair((*DEAD, step("replace", what="power supply")), "a new supply has no more mains than the old"),
    ),
    verification="open and close on mains, and the breaker holds for ten minutes",
    trap="the battery is a second source: the gate may move while the mains is off",
    source=SOURCE,
)

WET_LEAD: Final = Fault(
    name="residual-current device trips in rain",
    family="supply and wiring",
    customer="The gate dies when it rains.",
    seen="The residual-current device won't hold while it rains.",
    fact="water stands in a joint of the supply lead, between live and earth",
    edits=(Value("supply lead, live, insulation", "ohm", 9e3, 3e3),),
    reference=Reference(
        (
            *DEAD,
            step(
                "measure",
                instrument="insulation tester",
                function="500 volts",
                at="power supply inlet, live",
                against="earth bar, earth",
            ),
        ),
        Band(words=("more than",)),
        Band(0.0, 1e5, unit="Ω"),
        note="measured while it rains: dry, the joint insulates",
    ),
    repair=(*DEAD, step("splice", what="supply lead, live")),
    wrong=(WrongRepair((step("reset", what="residual-current device"),), "it trips again with the next shower"),),
    verification="1 MΩ and more at 500 V, the device trips in 300 ms at 30 mA, and holds under the hose",
    trap="never bridge or up-rate a residual-current device to keep a gate running",
    source=SOURCE,
    trigger=Trigger("rain", above=0.5, hysteresis=0.2),
    variant={"weather.rain_mm_h": 6.0},
)

BOARD_FUSE: Final = Fault(
    name="board fuse blown by a short",
    family="supply and wiring",
    customer="It stopped all of a sudden, and nothing since.",
    seen="The fuse is open and blackened.",
    fact="the lamp's cable is crushed: plus lies on minus",
    edits=(
        Leak(
            "warning lamp cable, crushed", "warning lamp plug.plus screw", "warning lamp plug.minus screw", 0.55, 0.3
        ),
    ),
    reference=Reference(
        (
            step("press", control="open button"),
            step("wait", seconds=0.5),
            step("release", control="open button"),
            step("wait until", what="the gate rests", at_most_s=60.0),
            step("wait", seconds=3.0),
            *DEAD,
            step("discharge"),
            ohms("board supply, plus", "board fuse, load side"),
        ),
        Band(0.0, 0.3, unit="Ω"),
        Band(words=("over range",)),
        note="the leads have a tenth of an ohm; the short blows the fuse when the lamp is first lit",
    ),
    repair=(*DEAD, step("re-lay cable", what="warning lamp cable"), step("replace", what="board fuse")),
    wrong=(WrongRepair((*DEAD, step("replace", what="board fuse")), "the short is still there and takes the next"),),
    verification="the current stays within the fuse's rating for ten movements",
    trap="a bigger fuse hides a fire",
    source=SOURCE,
)

LOOSE_NEUTRAL: Final = Fault(
    name="loose neutral",
    family="supply and wiring",
    customer="It is slow, or starts all over when it should move.",
    seen="The logic restarts when a motor starts; a terminal is warm.",
    fact="the neutral's screw at the power supply is not tight",
    edits=(Value("power supply inlet, neutral, screw", "ohm", 25.0, 70.0),),
    reference=Reference(
        open_under("volts ac", "power supply inlet, live", "power supply inlet, neutral"),
        Band(227.0, 253.0, unit="V"),
        Band(0.0, 215.0, unit="V"),
        figure="least",
        note="230 V less a drop of 3 V at most; with one of 15 V and more it is loose",
    ),
    repair=(*DEAD, step("tighten", what="power supply inlet, neutral, screw")),
    wrong=(WrongRepair((*DEAD, step("replace", what="power supply")), "the new one starves at the same screw"),),
    verification="five starts with less than 3 V lost",
    trap="live work: probes of category III, one hand, no loose sleeves",
    source=SOURCE,
)

WEAK_SUPPLY: Final = Fault(
    name="power supply failing",
    family="supply and wiring",
    customer="It stops half way.",
    seen="The low voltage sags when both leaves run.",
    fact="the power supply's inner resistance has grown with age",
    edits=(Value("power supply", "ohm", 0.9, 1.35),),
    reference=Reference(
        open_under("volts dc", "board supply, plus", "board supply, minus"),
        Band(24.0, 28.0, unit="V"),
        Band(0.0, 20.0, unit="V"),
        figure="least",
    ),
    repair=(*DEAD, step("replace", what="power supply")),
    wrong=(WrongRepair((*DEAD, step("replace", what="battery")), "on mains the battery doesn't carry the motors"),),
    verification="both leaves start five times and the rail stays above 24 V",
    trap="its capacitors hold their charge after it is switched off: wait, and measure",
    source=SOURCE,
)

SULPHATED: Final = Fault(
    name="sulphated battery",
    family="supply and wiring",
    customer="It works on mains and is dead in a power cut.",
    seen="At rest its voltage is fine; under load it collapses.",
    fact="the plates are sulphated: the pair's inner resistance is many times what it was",
    edits=(Value("battery", "ohm", 0.35, 0.6),),
    reference=Reference(
        (
            *DEAD,
            step(
                "measure",
                instrument="load tester",
                function="volts under load",
                at="battery, plus",
                against="battery, minus",
            ),
        ),
        Band(23.5, 25.5, unit="V"),
        Band(0.0, 21.0, unit="V"),
    ),
    repair=(*DEAD, step("replace", what="battery")),
    wrong=(WrongRepair((*DEAD, step("replace", what="charger fuse")), "it was charged all the time"),),
    verification="mains off, five movements, and the rail stays above 23 V",
    trap="a short across a battery throws sparks and acid: insulated tools, link out before it is lifted",
    source=SOURCE,
    shows=(step("isolate"), *open_under("volts dc", "battery, plus", "battery, minus")),
)

NOT_CHARGING: Final = Fault(
    name="battery not charging",
    family="supply and wiring",
    customer="It worked after the storm, and now it is dead.",
    seen="The battery stands at its own voltage though the mains is on.",
    fact="the charger's fuse is open",
    edits=(Opened("charger fuse"),),
    reference=Reference(
        (volts("battery, plus", "battery, minus"),), Band(27.0, 27.6, unit="V"), Band(18.0, 25.8, unit="V")
    ),
    repair=(*DEAD, step("replace", what="charger fuse")),
    wrong=(WrongRepair((*DEAD, step("replace", what="battery")), "the new pair runs down as the old one did"),),
    verification="after an hour the voltage rises and the current has begun to fall",
    trap="too much voltage on a bad block makes gas",
    source=SOURCE,
)

SUPPLY: Final = (NO_MAINS, WET_LEAD, BOARD_FUSE, LOOSE_NEUTRAL, WEAK_SUPPLY, SULPHATED, NOT_CHARGING)
"""In the order of the way from the mains to the battery."""
