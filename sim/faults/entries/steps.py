"""Steps that many entries share: making dead, measuring between two terminals."""

from __future__ import annotations

from typing import Final

from sim.faults.entry import Step, step

DEAD: Final = (step("isolate"), step("remove battery link"))
"""Both sources off."""


def ohms(at: str, against: str) -> Step:
    """The multimeter's ohms between two terminals."""
    return step("measure", instrument="multimeter", function="ohms", at=at, against=against)


def volts(at: str, against: str) -> Step:
    """The multimeter's direct volts between two terminals."""
    return step("measure", instrument="multimeter", function="volts dc", at=at, against=against)


def unplugged_ohms(plug: str, one: str, other: str) -> tuple[Step, ...]:
    """Ohms into the field at a plug that is withdrawn, both sources off."""
    return (*DEAD, step("unplug", guard=plug), ohms(f"{plug} plug, {one}", f"{plug} plug, {other}"))


RESTORED: Final = (step("fit battery link"), step("restore"))
"""Both sources on again."""


def insulation(at: str, test_v: int) -> Step:
    """The insulation tester from a terminal to the earth bar."""
    return step(
        "measure", instrument="insulation tester", function=f"{test_v} volts", at=at, against="earth bar, earth"
    )


def open_under(function: str, at: str, against: str = "", instrument: str = "multimeter") -> tuple[Step, ...]:
    """An instrument left in place while the gate opens, and read when it rests."""
    places = {"at": at, "against": against} if against else {"at": at}
    return (
        step("place instrument", instrument=instrument, function=function, **places),
        step("press", control="open button"),
        step("wait", seconds=0.5),
        step("release", control="open button"),
        step("wait", seconds=4.0),
        step("wait until", what="the gate rests", at_most_s=60.0),
        step("read instrument", instrument=instrument),
    )
