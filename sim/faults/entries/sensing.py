"""Faults of what tells the board where a leaf is: encoders, their cables, limit switches."""

from __future__ import annotations

from typing import Final

from sim.faults.edit import Exchanged, Fact, Value
from sim.faults.entries.driving import CLOSE, LIMITS, OPEN, OPENED, SOURCE, TWO_LINES, counter, meter, read, wait
from sim.faults.entries.steps import DEAD
from sim.faults.entry import Band, Fault, Reference, Step, WrongRepair, step

LEARN: Final = step("learn travel")

JOGGED: Final[tuple[Step, ...]] = (
    counter("count"),
    step("jog press", leaf="active", direction="open"),
    wait(1.5),
    step("jog release", leaf="active"),
    read("pulse counter"),
)
"""What the active leaf's counter counts while its motor alone is jogged open."""

ENCODER: Final = Fault(
    name="encoder fails",
    family="motor and drive",
    customer="It starts, stops after a second and says something of an obstacle.",
    seen="The motor turns, and nothing is counted.",
    fact="the output of the active leaf's encoder no longer pulls its line down",
    edits=(Value("active encoder, signal transistor", "ohm", 2e4, 1e7),),
    reference=Reference(
        (meter("active encoder, signal", "active encoder, minus"), *OPEN, wait(0.3), read("multimeter")),
        Band(1.5, 3.5, unit="V"),
        Band(least=4.2, unit="V"),
        note="a slow meter shows the mean of a line that goes up and down: about half of its 5 V",
    ),
    repair=(*DEAD, step("replace", what="active encoder")),
    wrong=(
        WrongRepair(
            (step("set", setting="obstacle margin", value="100"),),
            "whatever it is told to overlook, a drive that isn't counted is stopped all the same",
        ),
    ),
    verification="the count is the same within 2 % on five runs",
    trap="without the encoder slow zone and limits may be wrong",
    source=SOURCE,
)

SCREEN: Final = Fault(
    name="encoder cable without its screen",
    family="motor and drive",
    customer="Sometimes it stops short.",
    seen="The count at the stop drifts from run to run.",
    fact="the screen of the active leaf's encoder cable has come off its joint",
    edits=(Value("active encoder, screen joint", "ohm", 150.0, 1e6),),
    reference=Reference(
        (
            counter("spread at the open end"),
            *(each for _ in range(4) for each in (*OPENED, *CLOSE, wait(50.0))),
            *OPENED,
            read("pulse counter"),
        ),
        Band(most=8.0),
        Band(least=20.0),
    ),
    repair=(*DEAD, step("tighten", what="active encoder, screen joint")),
    wrong=(WrongRepair((LEARN,), "the new travel is as wrong as the old one by tomorrow"),),
    verification="five runs within two pulses",
    trap="the learned load has shifted as well: do the force test again",
    source=SOURCE,
)

NOISE: Final = Fault(
    name="induced noise from a shared conduit",
    family="supply and wiring",
    customer="It stops or opens for no reason.",
    seen="Counts are wrong whenever the lamp or a relay switches.",
    fact="the encoders' cables lie in one conduit with 230 V and motor cables",
    edits=(Fact("cables.encoders_beside_mains", True),),
    reference=Reference(
        (
            step("place instrument", instrument="oscilloscope", function="highest spike", at="active encoder's line"),
            *OPEN,
            wait(5.0),
            read("oscilloscope"),
        ),
        Band(most=0.5, unit="V"),
        Band(least=1.0, unit="V"),
    ),
    repair=(*DEAD, step("re-lay cable", what="encoder cables")),
    wrong=(WrongRepair((LEARN,), "what was learned is no better than the counts it was learned with"),),
    verification="fifty cycles without an error, loads switching",
    trap="the insulation of the low-voltage cable may be too thin beside 230 V: replace it, don't only move it",
    source=SOURCE,
)

LIMIT: Final = Fault(
    name="limit switch out of place",
    family="motor and drive",
    customer="One leaf stops before it is open.",
    seen="It stops early, always at the same place.",
    fact="the bracket of the active leaf's open limit switch has moved",
    edits=(Fact("drives.active.sensing.limit_open_deg", 86.0, 82.0),),
    reference=Reference(
        (
            step("jog press", leaf="active", direction="open"),
            wait(60.0),
            step("jog release", leaf="active"),
            wait(1.0),
            *DEAD,
            step("release drive", leaf="active"),
            step("push leaf", leaf="active", to_deg=88.0),
            wait(10.0),
            step(
                "measure",
                instrument="multimeter",
                function="continuity",
                at="active open limit switch, contact",
                against="active open limit switch, return",
            ),
        ),
        Band(0.0, 2.0, unit="Ω"),
        Band(words=("silent",)),
        note="two degrees before the stop, some 70 mm at the tip",
    ),
    repair=(*DEAD, step("adjust", what="active limit switches")),
    wrong=(WrongRepair((LEARN,), "the travel ends where the switch cuts, and the leaf stands in the way"),),
    verification="it stops within 10 mm of its stop",
    trap="without its limit the drive runs into the post",
    source=SOURCE,
    variant=LIMITS,
)

CROSSED: Final = Fault(
    name="encoder cables of the two leaves crossed",
    family="commissioning",
    customer="It has never worked since it was fitted.",
    seen="One leaf moves, the other's counter counts.",
    fact="the signal cores of both encoders end under each other's terminal",
    edits=(Exchanged("active encoder, signal core", "inactive encoder, signal core"),),
    reference=Reference(JOGGED, Band(least=20.0), Band(-3.0, 3.0)),
    repair=(
        *DEAD,
        step("re-terminate", what="active encoder, signal core"),
        step("re-terminate", what="inactive encoder, signal core"),
    ),
    wrong=(
        WrongRepair(
            (step("set", setting="opens first", value="inactive"),),
            "the leaves start the other way round, and each is still counted by the other",
        ),
    ),
    verification="each leaf jogged by itself moves its own counter",
    trap="a leaf that isn't counted is not slowed before its stop",
    source=SOURCE,
)

DIRECTION: Final = Fault(
    name="encoder direction wrong after a motor lead swap",
    family="commissioning",
    customer="Since the motor's leads were changed it stops at once.",
    seen="The count goes down while the leaf opens.",
    fact="both lines of the active leaf's encoder end under each other's terminal",
    edits=(Exchanged("active encoder, signal core", "active encoder, second signal core"),),
    reference=Reference(JOGGED, Band(least=20.0), Band(most=-20.0)),
    repair=(
        *DEAD,
        step("re-terminate", what="active encoder, signal core"),
        step("re-terminate", what="active encoder, second signal core"),
    ),
    wrong=(
        WrongRepair(
            (step("swap motor leads", leaf="active"),),
            "the count goes up now, and the leaf closes when it is told to open",
        ),
    ),
    verification="jogged open the count goes up, and the leaf opens",
    trap="jog at the lowest effort with a hand at the stop button",
    source=SOURCE,
    variant=TWO_LINES,
)

SENSING: Final[tuple[Fault, ...]] = (ENCODER, SCREEN, NOISE, LIMIT, CROSSED, DIRECTION)
