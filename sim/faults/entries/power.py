"""Faults between the board's supply and the motors: relays, power stage, and cores under the wrong screws."""

from __future__ import annotations

from typing import Final

from sim.faults.edit import Exchanged, Fact, Leak, Value
from sim.faults.entries.driving import CLOSE, OPEN, OPENED, SOURCE, meter, read, wait
from sim.faults.entries.moves import roped_work
from sim.faults.entries.steps import DEAD
from sim.faults.entry import Band, Fault, Reference, WrongRepair, step

AT_BOARD: Final = ("active leaf motor, plus", "active leaf motor, minus")

AT_ACTIVE: Final = ("active leaf motor at the leaf, plus", "active leaf motor at the leaf, minus")

AT_INACTIVE: Final = ("inactive leaf motor at the leaf, plus", "inactive leaf motor at the leaf, minus")


POLARITY: Final = Fault(
    name="motor polarity reversed after repair",
    family="supply and wiring",
    customer="Since your colleague was here one leaf pushes shut when the other opens.",
    seen="A leaf presses into its closed stop on an opening command, and the controller gives up.",
    fact="both cores of the active leaf's motor sit under each other's screw at the board",
    edits=(Exchanged("active leaf motor, plus core", "active leaf motor, minus core"),),
    reference=Reference(
        (
            meter(*AT_ACTIVE),
            step("jog press", leaf="active", direction="open"),
            wait(1.0),
            step("jog release", leaf="active"),
            read("multimeter"),
        ),
        Band(least=-3.0, unit="V"),
        Band(most=-5.0, unit="V"),
        figure="least",
        note="jogged slowly a sound one shows some 11 V; the exchanged one dips to 6 V the other way before the "
        "controller gives up; nothing at all is neither",
    ),
    repair=(
        *DEAD,
        step("re-terminate", what="active leaf motor, plus core"),
        step("re-terminate", what="active leaf motor, minus core"),
    ),
    wrong=(
        WrongRepair(
            (step("set", setting="opens first", value="inactive"),),
            "the order of the leaves is another now, and the motor still turns the wrong way",
        ),
    ),
    verification="both leaves open together and meet their stops gently",
    trap="first moves at the lowest effort, one hand at the stop button and nobody in the arc",
    source=SOURCE,
)

WELDED: Final = Fault(
    name="control relay welded closed",
    family="motor and drive",
    customer="One leaf goes on by itself, and the stop button doesn't stop it.",
    seen="The motor runs with no command, up to its stop and against it.",
    fact="both contacts of the active leaf's opening relay are welded by a short circuit's current",
    edits=(
        Leak("active opening relay, welded feed", "board.active output", "active leaf motor.plus", 0.05, 0.005),
        Leak("active opening relay, welded return", "active leaf motor.minus", "board.common", 0.05, 0.005),
    ),
    reference=Reference(
        (step("press", control="stop button"), meter(*AT_BOARD), read("multimeter")),
        Band(-0.5, 0.5, unit="V"),
        Band(least=15.0, unit="V"),
    ),
    repair=(*DEAD, step("replace", what="active opening relay")),
    wrong=(
        WrongRepair(
            (step("set", setting="motor effort, opening", value="30"),),
            "the controller no longer has a hand on that motor: nothing that it is told reaches it",
        ),
    ),
    verification="stopped in motion ten times, it coasts 50 mm at most",
    trap="isolate at once: the stop button does not help, and the battery is a second source",
    source=SOURCE,
)

BURNT: Final = Fault(
    name="relay contact burnt open",
    family="motor and drive",
    customer="It opens, but it won't close.",
    seen="The relay clicks on a closing command, and no volts reach the motor.",
    fact="the feed contact of the active leaf's closing relay is burnt",
    edits=(Value("active closing relay, feed contact", "ohm", 300.0, 1e6),),
    reference=Reference(
        (*OPENED, meter(*AT_BOARD), *CLOSE, wait(8.0), read("multimeter")),
        Band(most=-15.0, unit="V"),
        Band(least=-5.0, unit="V"),
        figure="least",
    ),
    repair=(*DEAD, step("replace", what="active closing relay")),
    wrong=(
        WrongRepair(
            roped_work(step("replace", what="active leaf motor")),
            "the motor was sound: it opened the leaf, and no volts reach the new one either",
        ),
    ),
    verification="ten reversals, and no more than 0.2 V over the contact",
    trap="a gate that half works stands open at night or shuts in somebody's face by hand: out of service",
    source=SOURCE,
)

STAGE: Final = Fault(
    name="power stage failed short",
    family="motor and drive",
    customer="It slams at the end of its way.",
    seen="The motor runs at full speed through the slow zone, and its current is not regulated.",
    fact="the transistor of the active leaf's power stage no longer blocks",
    edits=(Value("active power stage, channel", "ohm", 0.5, 0.01),),
    reference=Reference(
        (meter(*AT_BOARD), *OPEN, wait(15.0), read("multimeter")),
        Band(5.0, 16.0, unit="V"),
        Band(least=20.0, unit="V"),
    ),
    repair=(*DEAD, step("replace", what="active power stage")),
    wrong=(
        WrongRepair(
            (step("set", setting="slow zone before stop", value="30"),),
            "a longer slow zone is asked of a stage that can't go slow, and the force limit is lost with it",
        ),
    ),
    verification="tip speed at the stop as the rules ask, and the force test done again",
    trap="the force limit is lost as well: block the gate's use until it is mended",
    source=SOURCE,
)

SWAPPED: Final = Fault(
    name="drive outputs of the two leaves swapped",
    family="settings",
    customer="The delay works on the wrong leaf.",
    seen="The other leaf moves first, and the controller finds that its own stands still.",
    fact="the cores of both motors sit at each other's output on the board",
    edits=(
        Exchanged("active leaf motor, plus core", "inactive leaf motor, plus core"),
        Exchanged("active leaf motor, minus core", "inactive leaf motor, minus core"),
    ),
    reference=Reference(
        (
            meter(*AT_INACTIVE),
            step("jog press", leaf="active", direction="open"),
            wait(1.0),
            step("jog release", leaf="active"),
            read("multimeter"),
        ),
        Band(-0.5, 0.5, unit="V"),
        Band(least=4.0, unit="V"),
        figure="most",
    ),
    repair=(
        *DEAD,
        *(
            step("re-terminate", what=f"{leaf} leaf motor, {pin} core")
            for leaf in ("active", "inactive")
            for pin in ("plus", "minus")
        ),
    ),
    wrong=(
        WrongRepair(
            (step("set", setting="opens first", value="inactive"),),
            "the leaves start in the right order, and each is watched by the other's counter and current",
        ),
    ),
    verification="the order is right with each leaf jogged by itself",
    trap="one leaf may close onto the other: keep out of the meeting gap",
    source=SOURCE,
)

OVERHEATS: Final = Fault(
    name="board overheats",
    family="motor and drive",
    customer="On hot days it stops.",
    seen="The box is hot to the hand, and its vents are covered.",
    fact="the vents of the control box are covered while the sun stands on it",
    edits=(Fact("enclosure.vent_w_k", 1.1, 0.9),),
    reference=Reference(
        (wait(3600.0), step("measure", instrument="thermometer", function="board")),
        Band(most=50.0, unit="°C"),
        Band(least=70.0, unit="°C"),
    ),
    repair=(step("clean", what="vents of the control box"),),
    wrong=(
        WrongRepair(
            (*DEAD, step("replace", what="active power stage")),
            "the new stage protects itself on the next hot day as the old one did",
        ),
    ),
    verification="two hours of running in the sun",
    trap="hot parts burn, and so does the sun: plan the visit",
    source=SOURCE,
    variant={"weather.sunshine": 1.0},
    shows=(wait(7200.0), *OPEN, wait(30.0)),
)

POWER: Final[tuple[Fault, ...]] = (POLARITY, WELDED, BURNT, STAGE, OVERHEATS, SWAPPED)
