"""Faults of lock, lamp and box, and what was wired wrongly when the gate was set up."""

from __future__ import annotations

from typing import Final

from sim.faults.access_edit import Moved
from sim.faults.edit import Leak, Opened, Setting, Value
from sim.faults.entries.steps import DEAD, insulation, open_under, volts
from sim.faults.entry import Band, Fault, Reference, Trigger, WrongRepair, step

SOURCE: Final = "common practice, no source"

FRAME: Final = (
    *DEAD,
    step("unplug", guard="active leaf motor"),
    step("unplug", guard="inactive leaf motor"),
    insulation("board supply, minus", 250),
)
"""The board's common to the frame at 250 V, with the long cables off."""

BOLT: Final = Fault(
    name="drop bolt not withdrawn",
    family="mechanics",
    customer="It strains and won't open.",
    seen="The bolt stays down.",
    fact="the lock's coil is broken: it has volts and takes no current",
    edits=(Value("lock, coil", "ohm", 1e6, 1e8),),
    reference=Reference(
        open_under("amps dc", "lock, plus core", instrument="clamp meter"),
        Band(1.0, 1.45, unit="A"),
        Band(-0.1, 0.1, unit="A"),
        figure="most",
    ),
    repair=(*DEAD, step("replace", what="lock")),
    wrong=(
        WrongRepair(
            (step("set", setting="motor effort, opening", value="95"),),
            "the drive tears at a bolt that is still down",
        ),
    ),
    verification="ten openings",
    trap="it frees all of a sudden: stand clear of the leaf",
    source=SOURCE,
)

DEAD_LAMP: Final = Fault(
    name="warning lamp dead",
    family="guards",
    customer="People are surprised when it starts.",
    seen="Nothing flashes before it moves.",
    fact="the lamp's filament is broken",
    edits=(Value("warning lamp, filament", "ohm", 1e6, 1e8),),
    reference=Reference(
        open_under("amps dc", "warning lamp, plus core", instrument="clamp meter"),
        Band(0.8, 1.5, unit="A"),
        Band(-0.1, 0.1, unit="A"),
        figure="most",
        note="a 24 V 25 W lamp at what the board's supply gives",
    ),
    repair=(*DEAD, step("replace", what="warning lamp")),
    wrong=(WrongRepair((step("set", setting="warning before moving", value="0"),), "nobody is warned at all"),),
    verification="it lights two seconds before it moves, and while it does",
    trap="don't run without a warning where one is asked for",
    source=SOURCE,
    operates=False,
)

NO_PULSE: Final = Fault(
    name="lock pulse missing",
    family="settings",
    customer="The lock jams.",
    seen="The lock is dead when it should free the leaf.",
    fact="the sheet says that there is no lock",
    edits=(Setting("electric lock", "not fitted"),),
    reference=Reference(
        open_under("volts dc", "lock at the leaf, plus", "lock at the leaf, minus"),
        Band(10.8, 13.2, unit="V"),
        Band(-0.5, 0.5, unit="V"),
        figure="most",
    ),
    repair=(step("set", setting="electric lock", value="fitted"),),
    wrong=(WrongRepair((*DEAD, step("replace", what="lock")), "a new lock gets no pulse either"),),
    verification="ten openings",
    trap="a drive that pulls against its lock strains the post",
    source=SOURCE,
)

ANTS: Final = Fault(
    name="ants in the box",
    family="surroundings",
    customer="It is dead, or does what it likes.",
    seen="A nest lies on the board.",
    fact="a damp nest lies over the board's terminals and on its frame",
    edits=(
        Leak("board, nest on the frame", "board.common", "earth bar.earth", 8e4, 1e4),
        Leak("board, nest on the inputs", "open button.contact", "open button.common", 9e3, 1.5e3),
    ),
    reference=Reference(FRAME, Band(5e5, 1e12, unit="Ω"), Band(0.0, 1e5, unit="Ω")),
    repair=(*DEAD, step("clean", what="board")),
    wrong=(WrongRepair((*DEAD, step("replace", what="open button")), "the button was never pressed"),),
    verification="the box is tight, and 0.5 MΩ and more to its frame",
    trap="they sting: stand back, and have the kit at hand",
    source=SOURCE,
)

WATER: Final = Fault(
    name="water in the enclosure",
    family="surroundings",
    customer="It is dead after the rain.",
    seen="Droplets inside the lid.",
    fact="water stands on the board's terminals and runs to its frame",
    edits=(
        Leak("board, water to the frame", "board.common", "earth bar.earth", 6e4, 5e3),
        Leak("board, water on the edge input", "active edge.line", "active edge.common", 5e3, 1e3),
    ),
    reference=Reference(FRAME, Band(5e5, 1e12, unit="Ω"), Band(0.0, 1e5, unit="Ω")),
    repair=(*DEAD, step("dry", what="board")),
    wrong=(WrongRepair((*DEAD, step("replace", what="active edge")), "the edge was dry all the time"),),
    verification="a spray test, and 0.5 MΩ and more to its frame",
    trap="mains in a wet box: isolate, and prove dead before a hand goes in",
    source=SOURCE,
)

NO_GLAND: Final = Fault(
    name="no gland and no drip loop",
    family="commissioning",
    customer="It fails in the rain, and is well the day after.",
    seen="A cable comes in from above without a gland.",
    fact="rain runs along a cable into the box",
    edits=(
        Leak("board, rain along a cable, on the frame", "board.common", "earth bar.earth", 9e4, 2e4),
        Leak("board, rain along a cable, on an input", "step button.contact", "step button.common", 8e3, 1e3),
    ),
    reference=Reference(FRAME, Band(5e5, 1e12, unit="Ω"), Band(0.0, 1e5, unit="Ω")),
    repair=(*DEAD, step("adjust", what="cable glands")),
    wrong=(WrongRepair((*DEAD, step("dry", what="board")), "the next rain comes in by the same way"),),
    verification="a gland facing down, a drip loop below it, and a hose test",
    trap="the rating of a box is void while a gland is missing",
    source=SOURCE,
    trigger=Trigger("rain", above=0.5, hysteresis=0.2),
    variant={"weather.rain_mm_h": 6.0},
)

LAMP_ON_SWITCHED: Final = Fault(
    name="warning lamp on the switched supply",
    family="commissioning",
    customer="The beams never worked since it was built.",
    seen="The lamp hangs on the terminals that feed the emitters.",
    fact="the lamp's plus core sits on the emitters' supply",
    edits=(Moved("warning lamp, plus core", "a", "emitter supply plug.plus"),),
    reference=Reference(
        (volts("warning lamp at the post, plus", "warning lamp at the post, minus"),),
        Band(-0.1, 0.1, unit="V"),
        Band(0.3, 28.0, unit="V"),
        note="at rest, with everything quiet; a cold filament holds the rail down",
    ),
    repair=(*DEAD, step("re-terminate", what="warning lamp, plus core")),
    wrong=(
        WrongRepair((*DEAD, step("replace", what="outer beam emitter")), "a new emitter starves beside the lamp"),
    ),
    verification="the lamp is dark at rest and lit before movement, and the guard test passes",
    trap="a rail that is held down makes every guard test worthless",
    source=SOURCE,
)

EMITTER_ON_PERMANENT: Final = Fault(
    name="emitter on the permanent supply",
    family="commissioning",
    customer="It says the beam's test fails.",
    seen="The board finds a beam that stays clear while its emitter should be dark.",
    fact="the emitter's plus core sits on the accessory supply, which is never switched",
    edits=(Moved("outer beam, emitter plus core", "a", "accessory supply plug.plus"),),
    reference=Reference(
        open_under("volts dc", "outer beam emitter, supply plus", "outer beam emitter, supply minus"),
        Band(-0.5, 5.0, unit="V"),
        Band(18.0, 28.0, unit="V"),
        figure="least",
        note="the least while the board tests its guards",
    ),
    repair=(*DEAD, step("re-terminate", what="outer beam, emitter plus core")),
    wrong=(WrongRepair((step("set", setting="guard test", value="off"),), "a dead receiver is never found again"),),
    verification="the test before movement passes, fails with the receiver's contact linked; then the link comes out",
    trap="a test that is switched off leaves people without a guard that anybody checks",
    source=SOURCE,
)

NO_LINK: Final = Fault(
    name="battery link never closed",
    family="commissioning",
    customer="In a power cut it is dead, and it never was otherwise.",
    seen="The link lies in its bag.",
    fact="the battery's link is open",
    edits=(Opened("battery link"),),
    reference=Reference(
        (step("isolate"), volts("board supply, plus", "board supply, minus")),
        Band(24.0, 25.6, unit="V"),
        Band(-0.5, 1.0, unit="V"),
    ),
    repair=(step("fit battery link"),),
    wrong=(
        WrongRepair((step("isolate"), step("replace", what="battery")), "a new pair without its link is as useless"),
    ),
    verification="mains off, and it opens and closes",
    trap="once linked the gate can move without mains",
    source=SOURCE,
)

CABINET: Final = (
    BOLT, DEAD_LAMP, NO_PULSE, ANTS, WATER, NO_GLAND, LAMP_ON_SWITCHED, EMITTER_ON_PERMANENT, NO_LINK,
)  # fmt: skip
"""In and on the box."""
