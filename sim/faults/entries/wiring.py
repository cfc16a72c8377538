"""Faults of cables, joints, inputs and earth."""

from __future__ import annotations

from typing import Final

from sim.faults.edit import Leak, Opened, Value
from sim.faults.entries.moves import roped_work
from sim.faults.entries.steps import DEAD, RESTORED, insulation, ohms, open_under, volts
from sim.faults.entry import Band, Fault, Reference, Trigger, WrongRepair, step

SOURCE: Final = "common practice, no source"

CORE: Final = (
    step(
        "measure",
        instrument="low-ohm tester",
        function="resistance",
        at="active leaf motor plug, plus",
        against="active leaf motor at the leaf, plus",
    ),
)
"""One core of the active motor's cable, from end to end by a long lead."""

SOUND_CORE: Final = Band(0.30, 0.37, unit="Ω")
"""25 m of 1.5 mm², stranded: half of the loop of 0.67 Ω."""

UNDERSIZED: Final = Fault(
    name="undersized motor cable",
    family="supply and wiring",
    customer="One leaf is slow and weak.",
    seen="That motor has little voltage when it works.",
    fact="the cable has a thinner core than was planned",
    edits=(
        Value("active leaf motor, plus core", "ohm", 0.4875, 0.65),
        Value("active leaf motor, minus core", "ohm", 0.4875, 0.65),
    ),
    reference=Reference((*DEAD, *CORE), SOUND_CORE, Band(0.45, 0.75, unit="Ω"), note="1.0 to 0.75 mm², stranded"),
    repair=(*DEAD, step("re-lay cable", what="active leaf motor cable")),
    wrong=(
        WrongRepair(
            (step("set", setting="motor effort, opening", value="90"),),
            "the other leaf, on a good cable, becomes dangerous",
        ),
    ),
    verification="no more than a tenth of the voltage is lost at running current",
    trap="force set high to make up for a cable hurts at the other leaf",
    source=SOURCE,
)

CORRODED: Final = Fault(
    name="corroded splice in a buried motor cable",
    family="supply and wiring",
    customer="One leaf sometimes only hums.",
    seen="The motor's voltage swings when the cable is moved.",
    fact="water got into a splice under the ground and ate its copper",
    edits=(Value("active leaf motor, plus core, splice", "ohm", 2.0, 20.0),),
    reference=Reference((*DEAD, *CORE), SOUND_CORE, Band(1.5, 50.0, unit="Ω")),
    repair=(*DEAD, step("splice", what="active leaf motor, plus core")),
    wrong=(WrongRepair(roped_work(step("replace", what="active leaf motor")), "the new one hums at the same joint"),),
    verification="the loop has 0.7 Ω at most and the leaf runs at its limit",
    trap="what broke the splice may have broken its insulation to earth as well",
    source=SOURCE,
)

OVERLOADED: Final = Fault(
    name="accessory rail overloaded",
    family="supply and wiring",
    customer="The beams drop out.",
    seen="The accessory supply stands far below 24 V.",
    fact="a heater was hung on the accessory supply",
    edits=(
        Leak(
            "heater on the accessory supply", "accessory supply plug.plus", "accessory supply plug.minus", 24.0, 14.0
        ),
    ),
    reference=Reference(
        (volts("accessory supply, plus", "accessory supply, minus"),),
        Band(21.6, 26.4, unit="V"),
        Band(0.0, 18.0, unit="V"),
    ),
    repair=(*DEAD, step("remove link", what="heater on the accessory supply")),
    wrong=(
        WrongRepair((*DEAD, step("replace", what="outer beam receiver")), "a new receiver starves on the same rail"),
    ),
    verification="21.6 V and more with everything on",
    trap="a beam that drops out and still lets the gate open hides what else is wrong with it",
    source=SOURCE,
)

CUT_CABLE: Final = Fault(
    name="insulation fault in a motor cable",
    family="supply and wiring",
    customer="Somebody dug there; since then it is odd.",
    seen="Nothing that one sees: the leak is under the ground.",
    fact="a spade cut the sheath: the plus core lies in wet soil",
    edits=(Value("active leaf motor, plus core, insulation", "ohm", 4e5, 2e4),),
    reference=Reference(
        (*DEAD, step("unplug", guard="active leaf motor"), insulation("active leaf motor plug, plus", 500)),
        Band(words=("more than",)),
        Band(0.0, 5e5, unit="Ω"),
        note="the low voltage is separated from the mains: no residual-current device sees this leak",
    ),
    repair=(*DEAD, step("re-lay cable", what="active leaf motor cable")),
    wrong=(WrongRepair(roped_work(step("replace", what="active leaf motor")), "the motor was never wet"),),
    verification="1 MΩ and more in all places of the leaf",
    trap="pull the plug before a test voltage is applied: it kills the board",
    source=SOURCE,
    operates=False,
)

SURGE: Final = Fault(
    name="surge damage on an input",
    family="supply and wiring",
    customer="After the thunderstorm it won't move.",
    seen="One input reads closed whatever hangs on it.",
    fact="an input of the board is shorted inside",
    edits=(Value("step button, input", "ohm", 400.0, 40.0),),
    reference=Reference(
        (*DEAD, step("unplug", guard="step button"), *RESTORED, volts("step button, contact", "step button, common")),
        Band(21.0, 26.4, unit="V"),
        Band(0.0, 5.0, unit="V"),
        note="with its plug out the input stands at the rail's voltage",
    ),
    repair=(*DEAD, step("replace", what="board")),
    wrong=(WrongRepair((*DEAD, step("replace", what="step button")), "the button was never closed"),),
    verification="every input switched ten times, and its state follows",
    trap="outputs that work prove no guard input",
    source=SOURCE,
)

NO_EARTH: Final = Fault(
    name="protective earth missing on a post",
    family="supply and wiring",
    customer="The gate tingles when I touch it.",
    seen="Nothing can be seen.",
    fact="the protective conductor was left off after works",
    edits=(Opened("active post, earth, screw"),),
    reference=Reference(
        (
            *DEAD,
            step(
                "measure",
                instrument="earth tester",
                function="earth continuity",
                at="active post, earth",
                against="earth bar, earth",
            ),
        ),
        Band(0.0, 0.5, unit="Ω"),
        Band(10.0, 2000.0, unit="Ω"),
        note="what is left is the way through the soil",
    ),
    repair=(*DEAD, step("tighten", what="active post, earth, screw")),
    wrong=(WrongRepair((*DEAD, step("replace", what="power supply")), "no other part makes a post safe"),),
    verification="0.5 Ω at most, and the residual-current device trips",
    trap="don't touch post and earth at once; isolate first",
    source=SOURCE,
    operates=False,
)

LOOSE_TERMINAL: Final = Fault(
    name="loose supply terminal in the board",
    family="supply and wiring",
    customer="It works if I knock on the box.",
    seen="The board browns out with the vibration of a start.",
    fact="a screw of the board's supply is half tight",
    edits=(Value("board supply, plus, screw", "ohm", 0.06, 0.4),),
    reference=Reference(
        open_under("volts dc", "power supply, plus", "board supply, plus"),
        Band(0.0, 0.05, unit="V"),
        Band(0.3, 20.0, unit="V"),
        figure="most",
        note="most while the gate opens: the start shakes the screw",
    ),
    repair=(*DEAD, step("tighten", what="board supply, plus, screw")),
    wrong=(
        WrongRepair((*DEAD, step("replace", what="power supply")), "the supply was sound up to its own terminals"),
    ),
    verification="less than 50 mV at 8 A, and nothing warm in the thermal view",
    trap="a screw left half tight burns weeks later",
    source=SOURCE,
    trigger=Trigger("movement", above=0.5),
)

RODENT: Final = Fault(
    name="rodent damage to a motor cable",
    family="surroundings",
    customer="It stopped now and then, and now it is dead.",
    seen="Tooth marks on the cable.",
    fact="a core is gnawed through and its bare end lies on earth",
    edits=(
        Value("inactive leaf motor, minus core", "ohm", 5e7, 1e9),
        Value("inactive leaf motor, minus core, insulation", "ohm", 9e4, 1e4),
    ),
    reference=Reference(
        (
            *DEAD,
            step("unplug", guard="inactive leaf motor"),
            ohms("inactive leaf motor plug, plus", "inactive leaf motor plug, minus"),
        ),
        Band(1.5, 3.5, unit="Ω"),
        Band(words=("over range",)),
        note="loop and winding together, from the withdrawn plug",
    ),
    repair=(*DEAD, step("re-lay cable", what="inactive leaf motor cable")),
    wrong=(
        WrongRepair(
            (*DEAD, step("rope leaf", leaf="inactive"), step("replace", what="inactive leaf motor")),
            "the motor was never broken",
        ),
    ),
    verification="the loop has its ohms and both cores 1 MΩ to earth",
    trap="bare conductors may be live: isolate first",
    source=SOURCE,
)

WIRING: Final = (
    UNDERSIZED, CORRODED, OVERLOADED, CUT_CABLE, SURGE, NO_EARTH, LOOSE_TERMINAL, RODENT,
)  # fmt: skip
"""Along the cables."""
