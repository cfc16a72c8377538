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
