"""Faults of transmitters, receiver, aerial and the memory of transmitters."""

from __future__ import annotations

from typing import Final

from sim.faults.access_edit import FULL, RanAhead, Remembered
from sim.faults.edit import Fact
from sim.faults.entries.steps import DEAD, volts
from sim.faults.entry import Band, Fault, Reference, Step, WrongRepair, step

SOURCE: Final = "common practice, no source"


def _pressed(tag: str, distance_m: float = 5.0) -> tuple[Step, ...]:
    return (
        step("press transmitter", transmitter=tag, button=1, distance_m=distance_m),
        step("wait", seconds=0.5),
        step("release transmitter", transmitter=tag),
        step("wait", seconds=3.0),
    )


def _level(tag: str) -> Reference:
    """Level of a transmitter, with the gate asleep: it can't obey."""
    return Reference(
        (
            *DEAD,
            step("measure", instrument="radio level reader", function="level of a transmitter", at=tag),
        ),
        Band(-75.0, -50.0, unit="dBm"),
        Band(-115.0, -90.0, unit="dBm"),
        note="at five metres; the reader has a battery of its own",
    )


TRANSMITTER_FLAT: Final = Fault(
    name="transmitter flat",
    family="access and radio",
    customer="I must stand right before the gate.",
    seen="Its light is weak; other transmitters work as ever.",
    fact="the cell of this transmitter is nearly empty",
    edits=(Fact("transmitters.0.charge", 0.06, 0.03),),
    reference=Reference(
        (volts("red fob cell, plus", "red fob cell, minus"),),
        Band(2.9, 3.3, unit="V"),
        Band(1.5, 2.5, unit="V"),
    ),
    repair=(step("replace", what="red fob cell"),),
    wrong=(
        WrongRepair(_pressed("red fob", 1.0), "pressed again and again close by, it works, until the cell is dead"),
    ),
    verification="understood from thirty metres and more",
    trap="who presses again and again moves a gate that can't be seen from there",
    source=SOURCE,
    shows=_pressed("red fob", 30.0),
)

AERIAL_CUT: Final = Fault(
    name="receiver aerial cut",
    family="access and radio",
    customer="Nobody's transmitter reaches any more.",
    seen="A stub of wire where the aerial was.",
    fact="the receiver's aerial is broken off",
    edits=(Fact("access.receiver.aerial_mm", 38.0, 15.0),),
    reference=_level("red fob"),
    repair=(*DEAD, step("replace", what="radio receiver aerial")),
    wrong=(WrongRepair((step("replace", what="red fob cell"),), "a fresh cell in every hand, and no metre won"),),
    verification="understood from thirty metres and more, from wherever people drive up",
    trap="who tests range from inside the arc is struck by the gate that obeys at last",
    source=SOURCE,
    shows=_pressed("red fob", 20.0),
)

INTERFERER: Final = Fault(
    name="interferer on the channel",
    family="access and radio",
    customer="For hours now no transmitter works.",
    seen="The receiver's busy light is lit with nobody pressing.",
    fact="something close by sends all the time on the same channel",
    edits=(Fact("access.receiver.interferer_dbm", -80.0, -60.0),),
    reference=Reference(
        (step("measure", instrument="radio level reader", function="quiet level"),),
        Band(-115.0, -100.0, unit="dBm"),
        Band(-85.0, -50.0, unit="dBm"),
    ),
    repair=(step("clear away", what="radio channel"),),
    wrong=(
        WrongRepair((step("delete all transmitters"),), "everybody is locked out, and the channel is still busy"),
    ),
    verification="ten presses from thirty metres, at the hour at which it failed",
    trap="the wired stop must work without any radio",
    source=SOURCE,
    shows=_pressed("red fob", 30.0),
)

LOST_SYNC: Final = Fault(
    name="transmitter lost its place in the count",
    family="access and radio",
    customer="Only mine doesn't work.",
    seen="Its light is bright, others open the gate, and the panel has its words as too far ahead.",
    fact="it was pressed far away so often that its counter ran ahead of what the receiver expects",
    edits=(RanAhead("blue fob", 60, 40_000),),
    reference=Reference(
        (*_pressed("blue fob"), step("measure", instrument="service panel", function="last radio word")),
        Band(words=("accepted",)),
        Band(words=("too far ahead",)),
        note="a step of 1 to 16 is accepted",
    ),
    repair=(
        step("delete transmitter", holder="holder of the blue fob"),
        step("enrol transmitter", holder="holder of the blue fob", function="step"),
        *_pressed("blue fob"),
    ),
    wrong=(
        WrongRepair((step("replace", what="blue fob cell"),), "the cell was good; the count is as far off as before"),
    ),
    verification="ten presses in a row from twenty metres",
    trap="a transmitter that is lost must be deleted: who finds it opens the gate",
    source=SOURCE,
    shows=_pressed("blue fob"),
)

MEMORY_FULL: Final = Fault(
    name="transmitter memory full",
    family="access and radio",
    customer="The new transmitter can't be enrolled.",
    seen="The panel says that its memory is full.",
    fact="the memory is full of transmitters of people who left long ago",
    edits=(Remembered("full"),),
    reference=Reference(
        (step("measure", instrument="service panel", function="transmitters enrolled"),),
        Band(1.0, FULL - 1.0, unit="buttons"),
        Band(float(FULL), 1e6, unit="buttons"),
    ),
    repair=(step("clear away", what="transmitter memory"),),
    wrong=(
        WrongRepair((step("delete all transmitters"),), "without a list of who carries which, all are locked out"),
    ),
    verification="the new one works, and so do those on the list",
    trap="never delete all of them without a list",
    source=SOURCE,
    shows=(step("enrol transmitter", holder="new tenant", function="step"), *_pressed("red fob")),
)

MEMORY_CLEARED: Final = Fault(
    name="transmitter memory cleared",
    family="access and radio",
    customer="Since yesterday nobody's transmitter works.",
    seen="The list of transmitters is empty.",
    fact="the memory of transmitters was deleted",
    edits=(Remembered("empty"),),
    reference=Reference(
        (step("measure", instrument="service panel", function="transmitters enrolled"),),
        Band(1.0, FULL - 1.0, unit="buttons"),
        Band(0.0, 0.0, unit="buttons"),
    ),
    repair=(step("clear away", what="transmitter memory"),),
    wrong=(WrongRepair((step("replace", what="red fob cell"),), "a fresh cell for a transmitter that nobody knows"),),
    verification="every transmitter on the list works, and none that isn't",
    trap="locked out, people push a gate that is locked to its drive",
    source=SOURCE,
    shows=_pressed("red fob"),
)

COPIED: Final = Fault(
    name="transmitter code copied",
    family="settings",
    customer="The neighbour opens my gate.",
    seen="The panel lists openings at hours at which nobody was there.",
    fact="a transmitter that sends the same word each time was enrolled, and somebody copied it",
    edits=(Fact("transmitters.1.code", "fixed"), Remembered("a code that can be copied")),
    reference=Reference(
        (
            *DEAD,
            step("measure", instrument="radio level reader", function="code of a transmitter", at="blue fob"),
        ),
        Band(words=("another word at each press",)),
        Band(words=("the same word at each press",)),
    ),
    repair=(step("clear away", what="transmitter memory"), step("replace", what="blue fob")),
    wrong=(
        WrongRepair((step("replace", what="blue fob cell"),), "the copy across the road goes on opening the gate"),
    ),
    verification="the copy is ignored, and the list has an owner for every entry",
    trap="a gate that somebody unknown opens moves on people who don't expect it",
    source=SOURCE,
    shows=_pressed("copied fob"),
)

RADIO: Final = (
    TRANSMITTER_FLAT,
    AERIAL_CUT,
    INTERFERER,
    LOST_SYNC,
    MEMORY_FULL,
    MEMORY_CLEARED,
    COPIED,
)
"""All of them."""
