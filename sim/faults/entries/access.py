"""Faults of loops, stop circuit, key switch, intercom and timer."""

from __future__ import annotations

from typing import Final

from sim.faults.access_edit import Moved
from sim.faults.edit import Fact, Leak, Value
from sim.faults.entries.steps import DEAD, ohms, unplugged_ohms, volts
from sim.faults.entry import Band, Fault, Reference, Trigger, WrongRepair, step

SOURCE: Final = "common practice, no source"

OPEN: Final = Band(words=("over range",))

CAR_OVER_LOOP: Final = (
    step("place body", body="car", x_m=2.0, y_m=6.1),
    step("wait", seconds=5.0),
    step("wait until", what="the gate rests", at_most_s=60.0),
)
"""A car comes to rest with its front half over the bench's loop."""


LOOP_BROKEN: Final = Fault(
    name="presence loop broken",
    family="access and radio",
    customer="It doesn't see my car any more.",
    seen="The detector's fault light is on.",
    fact="the wire of the loop is cut in its slot",
    edits=(Value("presence loop, turns", "ohm", 5e7, 1e9),),
    reference=Reference(unplugged_ohms("presence loop", "start", "end"), Band(0.5, 5.0, unit="Ω"), OPEN),
    repair=(*DEAD, step("replace", what="presence loop")),
    wrong=(
        WrongRepair((*DEAD, step("replace", what="loop detector")), "a new detector faults on the same broken wire"),
    ),
    verification="its inductance is what it was, and ten cars are seen",
    trap="a loop sees metal and never people: it protects nobody, whole or broken",
    source=SOURCE,
    shows=CAR_OVER_LOOP,
)

LOOP_EARTHED: Final = Fault(
    name="presence loop earthed",
    family="access and radio",
    customer="In the rain it opens with nobody there.",
    seen="The detector drifts, and presence comes and goes.",
    fact="the insulation of the loop's wire is cut and lets water to the copper",
    edits=(Value("presence loop, insulation", "ohm", 8e5, 5e4),),
    reference=Reference(
        (
            *DEAD,
            step("unplug", guard="presence loop"),
            step(
                "measure",
                instrument="insulation tester",
                function="500 volts",
                at="presence loop plug, start",
                against="earth bar, earth",
            ),
        ),
        Band(1e7, 1e12, unit="Ω"),
        Band(0.0, 1e6, unit="Ω"),
    ),
    repair=(*DEAD, step("replace", what="presence loop")),
    wrong=(
        WrongRepair((step("reset loop detector"),), "tuned to the water of this minute, it drifts off with the next"),
    ),
    verification="10 MΩ and more with the slot wet",
    trap="the insulation tester's volts kill a detector that is still connected",
    source=SOURCE,
    trigger=Trigger("rain", above=0.5, hysteresis=0.2),
    variant={"weather.rain_mm_h": 6.0},
    shows=(step("wait", seconds=120.0),),
)

LOOPS_INTERFERE: Final = Fault(
    name="two loops interfere",
    family="access and radio",
    customer="It sees cars that aren't there.",
    seen="Both detectors flicker, and stop when one is switched off.",
    fact="another loop's detector close by runs at the same frequency",
    edits=(Fact("access.loop.neighbour_khz", 48.9, 48.4),),
    reference=Reference(
        (step("measure", instrument="loop tester", function="apart from the neighbour"),),
        Band(10.0, 100.0, unit="kHz"),
        Band(0.0, 1.0, unit="kHz"),
    ),
    repair=(step("adjust", what="loop frequency"),),
    wrong=(WrongRepair((step("reset loop detector"),), "tuned anew, two fields at one frequency still beat"),),
    verification="half an hour without a false call",
    trap="a timer that holds the gate open hides it",
    source=SOURCE,
    shows=(step("wait", seconds=60.0),),
)

LOOP_HOLDS: Final = Fault(
    name="presence loop holds presence",
    family="access and radio",
    customer="The gate stays open.",
    seen="The detector says that somebody is there, and nobody is.",
    fact="metal has come near the loop since its detector was tuned",
    edits=(Fact("access.loop.stray_metal", 0.003, 0.0056),),
    reference=Reference(
        (step("measure", instrument="loop tester", function="change since tuned"),),
        Band(-0.05, 0.05, unit="%"),
        Band(-1.0, -0.2, unit="%"),
    ),
    repair=(step("clear away", what="metal near the loop"),),
    wrong=(
        WrongRepair(
            (step("unplug", guard="loop detector"),), "without its contact the gate closes on the next car's bonnet"
        ),
    ),
    verification="an hour with nobody there and the output stays off",
    trap="auto-close may start the moment the detector is reset: stand clear",
    source=SOURCE,
    shows=(step("wait", seconds=30.0),),
)

STOP_OPEN: Final = Fault(
    name="stop circuit open",
    family="access and radio",
    customer="It is dead to everything I press.",
    seen="The panel says that the stop circuit is open.",
    fact="a core of the stop circuit is broken",
    edits=(Value("stop circuit, return core", "ohm", 5e7, 1e9),),
    reference=Reference(unplugged_ohms("stop circuit", "contact", "common"), Band(0.0, 1.0, unit="Ω"), OPEN),
    repair=(*DEAD, step("splice", what="stop circuit, return core")),
    wrong=(WrongRepair((step("bridge", guard="stop circuit"),), "with a link across it nobody can stop the gate"),),
    verification="pressed it stops, let go nothing starts by itself",
    trap="a link across the stop input takes the last stop away",
    source=SOURCE,
)

KEY_STUCK: Final = Fault(
    name="key switch stuck",
    family="access and radio",
    customer="The gate opens by itself.",
    seen="An opening input is active with nobody there.",
    fact="damp has corroded the key switch's contacts together",
    edits=(
        Leak(
            "key switch, stuck contacts",
            "key switch at the post.contact",
            "key switch at the post.return",
            0.25,
            0.05,
        ),
    ),
    reference=Reference(unplugged_ohms("key switch", "contact", "common"), OPEN, Band(0.0, 1.0, unit="Ω")),
    repair=(*DEAD, step("replace", what="key switch")),
    wrong=(
        WrongRepair((step("unplug", guard="key switch"),), "whoever has the key is locked out, also in an emergency"),
    ),
    verification="open at rest, and ten operations that each work",
    trap="an opening that nobody asked for, onto a road",
    source=SOURCE,
    shows=(step("wait", seconds=20.0),),
)

INTERCOM_SHORT: Final = Fault(
    name="intercom line shorted",
    family="access and radio",
    customer="It stays open all day.",
    seen="The opening input is active, and nobody in the house presses.",
    fact="the intercom's cable is pinched and its two cores touch",
    edits=(
        Leak("intercom cable, pinched", "intercom in the house.contact", "intercom in the house.return", 5.0, 0.5),
    ),
    reference=Reference(unplugged_ohms("intercom", "contact", "common"), OPEN, Band(0.0, 10.0, unit="Ω")),
    repair=(*DEAD, step("re-lay cable", what="intercom cable")),
    wrong=(
        WrongRepair(
            (step("set", setting="auto-close", value="on"),),
            "an input that is held keeps it open whatever is set",
        ),
    ),
    verification="open at rest, and the house can open the gate",
    trap="auto-close may start the moment the line is mended: stand clear",
    source=SOURCE,
    shows=(step("wait", seconds=20.0),),
)

TIMER_HOLDS: Final = Fault(
    name="timer keeps the gate open",
    family="access and radio",
    customer="It stands open when nobody is expected.",
    seen="The timer's output is on outside its hours.",
    fact="the clock's programme ends much too late",
    edits=(Fact("access.timer.opens_at_h", 18.0, 23.5),),
    reference=Reference(
        (volts("timer contact, contact", "timer contact, common"),),
        Band(22.0, 26.0, unit="V"),
        Band(-0.5, 1.0, unit="V"),
        note="measured at the bench's hour, ten in the morning, outside the window of 7 to 9",
    ),
    repair=(step("adjust", what="timer programme"),),
    wrong=(
        WrongRepair((step("unplug", guard="timer contact"),), "no delivery in the morning: somebody wedges the gate"),
    ),
    verification="it opens in the window and at no other hour",
    trap="a gate that opens alone in a public place, with nobody in sight of it",
    source=SOURCE,
    shows=(step("wait", seconds=20.0),),
)

WRONG_SIDE: Final = Fault(
    name="stop contact on the wrong side",
    family="commissioning",
    customer="It was never right since it was put in.",
    seen="Dead until somebody leans on the stop button.",
    fact="the stop circuit's core sits under the button's other contact, open when healthy",
    edits=(Moved("stop button, contact, screw", "a", "stop button.spare contact"),),
    reference=Reference(
        (
            *DEAD,
            step("unplug", guard="stop circuit"),
            step("press", control="stop button"),
            ohms("stop circuit plug, contact", "stop circuit plug, common"),
        ),
        OPEN,
        Band(0.0, 1.0, unit="Ω"),
    ),
    repair=(*DEAD, step("tighten", what="stop button, contact, screw")),
    wrong=(WrongRepair((step("bridge", guard="stop circuit"),), "with a link across it nobody can stop the gate"),),
    verification="closed at rest, open when pressed, and a broken core reads like a press",
    trap="on this side a broken core reads healthy: the stop is gone and nobody knows",
    source=SOURCE,
)

ACCESS: Final = (
    LOOP_BROKEN,
    LOOP_EARTHED,
    LOOPS_INTERFERE,
    LOOP_HOLDS,
    STOP_OPEN,
    KEY_STUCK,
    INTERCOM_SHORT,
    TIMER_HOLDS,
    WRONG_SIDE,
)
"""All of them."""
