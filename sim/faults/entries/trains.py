"""Faults of what is between motor and leaf: gear, release, nut, bracket, oil."""

from __future__ import annotations

from typing import Final

from sim.faults.edit import Fact
from sim.faults.entries.driving import CLAMP, HYDRAULIC, IN_MOTOR_LEAD, OPEN, SOURCE, read, wait
from sim.faults.entries.moves import roped_work
from sim.faults.entries.steps import DEAD
from sim.faults.entry import Band, Fault, Reference, WrongRepair, step
from sim.faults.found import Released

RUNNING: Final = Reference(
    (IN_MOTOR_LEAD, *OPEN, wait(1.0), read(CLAMP)), Band(1.6, 3.0, unit="A"), Band(most=1.1, unit="A")
)
"""Current while the leaf should be moving: little where the motor turns for nothing."""

MORE_EFFORT: Final = step("set", setting="motor effort, opening", value="100")

KEY: Final = Fault(
    name="gear key sheared",
    family="motor and drive",
    customer="The motor runs, and the leaf stays where it is.",
    seen="The mark on the shaft turns, the output doesn't.",
    fact="the key of the active leaf's gear is sheared",
    edits=(Fact("drives.active.key", "sheared"),),
    reference=RUNNING,
    repair=roped_work(step("replace", what="active gear")),
    wrong=(WrongRepair((MORE_EFFORT,), "nothing holds the leaf, however hard the motor is told to push"),),
    verification="torque at the output, and the current of a sound leaf",
    trap="the leaf is free: wind can move it",
    source=SOURCE,
)

RELEASE: Final = Fault(
    name="manual release left open",
    family="motor and drive",
    customer="The motor hums, and the gate doesn't move.",
    seen="The lever stands in its free position, and the leaf moves by hand.",
    fact="somebody left the active leaf's manual release open",
    edits=(Released("active"),),
    reference=RUNNING,
    repair=(*DEAD, step("engage drive", leaf="active")),
    wrong=(
        WrongRepair(
            roped_work(step("replace", what="active gear")),
            "a sound gear is changed, and the lever still stands open",
        ),
    ),
    verification="locked, and 150 N by hand do not move the leaf",
    trap="a released leaf can swing into somebody",
    source=SOURCE,
)

NUT: Final = Fault(
    name="ram nut worn",
    family="motor and drive",
    customer="It rattles, and bangs at the end.",
    seen="The leaf moves by hand with the drive engaged.",
    fact="the nut of the active leaf's ram is worn and has play",
    edits=(Fact("drives.active.play_m", 0.0035, 0.006),),
    reference=Reference(
        (
            *DEAD,
            step("measure", instrument="dial gauge", function="play at the tip", at="active"),
        ),
        Band(most=10.0, unit="mm"),
        Band(least=40.0, unit="mm"),
    ),
    repair=roped_work(step("replace", what="active ram")),
    wrong=(WrongRepair((MORE_EFFORT,), "it bangs harder, and the nut strips sooner"),),
    verification="10 mm of play at most, and the force test done again",
    trap="the nut can strip: then the leaf runs free",
    source=SOURCE,
)

GEOMETRY: Final = Fault(
    name="ram geometry wrong",
    family="motor and drive",
    customer="It opens slowly at the end and strains.",
    seen="The current rises near the open end.",
    fact="the rear bracket of the active leaf's ram sits too near the hinge line",
    edits=(Fact("drives.active.post_inside_m", 0.10, 0.05),),
    reference=Reference(
        (
            *DEAD,
            step("measure", instrument="tape", function="rear bracket, inside", at="active"),
        ),
        Band(145.0, 155.0, unit="mm"),
        Band(most=105.0, unit="mm"),
    ),
    repair=roped_work(step("adjust", what="active rear bracket")),
    wrong=(WrongRepair((MORE_EFFORT,), "bolts and post carry what the short lever asks of them"),),
    verification="the current is flat within 30 % over the travel",
    trap="a bolt may shear: rope the leaf",
    source=SOURCE,
)

OIL: Final = Fault(
    name="hydraulic oil low or full of air",
    family="motor and drive",
    customer="It goes in jerks and is weak.",
    seen="Foam in the glass, the level is low.",
    fact="the oil of the active leaf's hydraulic ram is low and holds air",
    edits=(Fact("drives.active.air_share", 0.08, 0.1),),
    reference=Reference(
        (
            step("place instrument", instrument="stopwatch", function="movement", at="active"),
            step("jog press", leaf="active", direction="open"),
            wait(58.0),
            step("jog release", leaf="active"),
            wait(3.0),
            read("stopwatch"),
        ),
        Band(40.0, 47.0, unit="s"),
        Band(least=49.0, unit="s"),
        note="jogged at slow speed, from shut to open: some 45 s when sound, and a tenth more with air in the oil; a "
        "controller that counts its pump stops before the leaf is there",
    ),
    repair=(*DEAD, step("replace", what="active ram's oil")),
    wrong=(WrongRepair((MORE_EFFORT,), "the pump only whips the oil harder"),),
    verification="five cycles without a jerk",
    trap="oil on paving is slippery, and hot oil burns",
    source=SOURCE,
    variant=HYDRAULIC,
)

TRAINS: Final[tuple[Fault, ...]] = (KEY, RELEASE, NUT, GEOMETRY, OIL)
