"""Steps that entries about mechanics share: open and close, rope and release, measure a leaf."""

from __future__ import annotations

from typing import Final

from sim.faults.entries.steps import DEAD
from sim.faults.entry import Step, step

LEAF: Final = "active"


def pressed(control: str) -> tuple[Step, ...]:
    """A control, pressed for half a second."""
    return (step("press", control=control), step("wait", seconds=0.5), step("release", control=control))


OPENED: Final = (
    *pressed("open button"),
    step("wait until", what="fully open", at_most_s=60.0),
    step("wait", seconds=2.0),
)
"""The gate opens by command."""

CLOSED: Final = (
    *pressed("close button"),
    step("wait until", what="fully closed", at_most_s=60.0),
    step("wait", seconds=2.0),
)
"""The gate closes by command."""

ROPED: Final = (step("rope leaf", leaf=LEAF),)
RELEASED: Final = (step("release drive", leaf=LEAF),)


def measured(instrument: str, function: str, at: str = LEAF) -> Step:
    """One reading."""
    return step("measure", instrument=instrument, function=function, **({"at": at} if at else {}))


def placed(instrument: str, function: str, at: str = LEAF) -> Step:
    """An instrument in place, to be read later."""
    return step("place instrument", instrument=instrument, function=function, **({"at": at} if at else {}))


def reading(instrument: str) -> Step:
    """Reading what is in place."""
    return step("read instrument", instrument=instrument)


def roped_work(*work: Step, how: str = "rope leaf") -> tuple[Step, ...]:
    """Both sources off, the leaf held, the work done, the leaf free again."""
    return (*DEAD, step(how, leaf=LEAF), *work, step("free leaf", leaf=LEAF))


FORCE_UP: Final = step("set", setting="motor effort, opening", value="100")
MARGIN_UP: Final = step("set", setting="obstacle margin", value="80")
GREASE_ONLY: Final = roped_work(step("grease", what="hinges of the active leaf"))
"""What is tempting."""
