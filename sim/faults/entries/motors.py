"""Faults of motors: brushes, winding, shorted turns, cut-out, run capacitor."""

from __future__ import annotations

from typing import Final

from sim.faults.edit import Fact
from sim.faults.entries.driving import CLAMP, IN_MOTOR_LEAD, MAINS, OPEN, SOURCE, read, wait
from sim.faults.entries.moves import GREASE_ONLY, roped_work
from sim.faults.entries.steps import DEAD, RESTORED, ohms
from sim.faults.entry import Band, Fault, Reference, Step, WrongRepair, step
from sim.faults.found import Hot

AT_MOTOR: Final[tuple[Step, ...]] = (
    *DEAD,
    step("unplug", guard="active leaf motor"),
    ohms("active leaf motor at the leaf, plus", "active leaf motor at the leaf, minus"),
)
"""Ohms at the motor's own leads, the block at the board pulled."""

SOUND: Final = Band(0.9, 2.0, unit="Ω")

NEW_MOTOR: Final = roped_work(step("replace", what="active leaf motor"))
"""The leaf is held while nothing drives it."""


BRUSHES: Final = Fault(
    name="worn brushes",
    family="motor and drive",
    customer="One leaf stops, and goes again when I push it.",
    seen="The motor comes and goes, and there is black dust at the commutator.",
    fact="the brushes of the active leaf's motor are worn and touch badly",
    edits=(Fact("drives.active.motor.brush_ohm", 12.0, 80.0, in_ratios=True),),
    reference=Reference(AT_MOTOR, SOUND, Band(least=3.0, unit="Ω")),
    repair=NEW_MOTOR,
    wrong=(
        WrongRepair(
            (step("set", setting="motor effort, opening", value="100"),),
            "more effort is asked of a motor that gets no current, and the other leaf hits harder",
        ),
    ),
    verification="ten cycles with 2 to 3 A",
    trap="a leaf that is disengaged on a slope swings away by itself: hold it",
    source=SOURCE,
)

OPEN_WINDING: Final = Fault(
    name="motor winding open",
    family="motor and drive",
    customer="One leaf is dead, the other works.",
    seen="No current at all when it should start.",
    fact="the winding of the active leaf's motor is burnt through",
    edits=(Fact("drives.active.motor.winding_open", True),),
    reference=Reference(AT_MOTOR, SOUND, Band(words=("over range",))),
    repair=NEW_MOTOR,
    wrong=(
        WrongRepair(
            (*DEAD, step("replace", what="active opening relay")),
            "the relay was sound: volts stand at the motor, and no current flows in it",
        ),
    ),
    verification="it runs with 2 to 3 A",
    trap="secure the leaf before the drive is taken off",
    source=SOURCE,
)

SHORTED: Final = Fault(
    name="motor turns shorted",
    family="motor and drive",
    customer="The motor gets hot, is weak, and stops.",
    seen="Much current with nothing to move.",
    fact="part of the turns of the active leaf's motor are shorted",
    edits=(Fact("drives.active.motor.shorted_share", 0.36, 0.6),),
    reference=Reference(
        (
            *DEAD,
            step("release drive", leaf="active"),
            *RESTORED,
            wait(3.0),
            IN_MOTOR_LEAD,
            *OPEN,
            wait(0.1),
            read(CLAMP),
        ),
        Band(most=1.0, unit="A"),
        Band(least=3.0, unit="A"),
    ),
    repair=NEW_MOTOR,
    wrong=(
        WrongRepair(
            (step("set", setting="motor effort, opening", value="100"),),
            "a hotter motor, and soon a burnt winding",
        ),
    ),
    verification="1 A at most running free, and 3 A at most with the leaf",
    trap="a hot case burns: let it cool",
    source=SOURCE,
)

CUT_OUT: Final = Fault(
    name="motor cut-out open from heat",
    family="motor and drive",
    customer="After many openings it stops; later it goes again.",
    seen="Dead while the case is hot, alive a quarter of an hour later.",
    fact="the active leaf's motor has run so often that its cut-out is open",
    edits=(Hot("active", 135.0, 160.0),),
    reference=Reference(
        AT_MOTOR,
        SOUND,
        Band(words=("over range",)),
        note="read at once; the same reading is sound again when the motor has cooled below 90 °C",
    ),
    repair=(wait(3600.0),),
    wrong=(
        WrongRepair(
            NEW_MOTOR,
            "the new motor opens its cut-out as soon as it is used as often: it is the duty that is too much",
        ),
    ),
    verification="used no more often than it is made for, or a larger drive fitted; then a cycle test at that duty",
    trap="the cut-out is never bridged: it keeps the winding from burning",
    source=SOURCE,
)

CAPACITOR: Final = Fault(
    name="run capacitor weak",
    family="motor and drive",
    customer="It hums, and goes when I push it.",
    seen="It hums and doesn't start, or starts late.",
    fact="the run capacitor of the active leaf's mains motor has lost its capacitance",
    edits=(Fact("drives.active.motor.fitted_uf", 9.5, 3.0),),
    reference=Reference(
        (
            *DEAD,
            step("unplug", guard="active run capacitor"),
            step(
                "measure",
                instrument="capacitance meter",
                function="capacitance",
                at="active run capacitor, first",
                against="active run capacitor, second",
            ),
        ),
        Band(11.5e-6, 13.5e-6, unit="F"),
        Band(0.0, 10e-6, unit="F"),
        note="beside its windings it has emptied in milliseconds; on a real one a resistor goes across it first, "
        "and a tester shows that it is empty",
    ),
    repair=(*DEAD, step("replace", what="active run capacitor")),
    wrong=(
        WrongRepair(
            GREASE_ONLY,
            "an easier leaf starts once more; the capacitor goes on ageing",
        ),
    ),
    verification="ten starts under load",
    trap="a capacitor holds its charge: discharge it through a resistor before touching it",
    source=SOURCE,
    variant=MAINS,
)

MOTORS: Final[tuple[Fault, ...]] = (BRUSHES, OPEN_WINDING, SHORTED, CUT_OUT, CAPACITOR)
