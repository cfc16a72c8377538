"""What nobody promises: every fault of the catalogue, and which properties of the gate it breaks.

A property of the gate is promised under the faults it names. Under the others it is looked at all the same, with a
few plays that are the same for every fault, and what breaks is told as *not protected against*: never as a pass, and
never as a counterexample. What doesn't break in these few plays is not thereby protected against either.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from sim.bench.proof.case import Case, Step
from sim.bench.proof.entry import Property
from sim.bench.proof.play import Stage, play
from sim.faults.catalogue import FAULTS
from sim.world.world import World


def _press(control: str, wait: str, seconds: float) -> tuple[Step, ...]:
    return (
        Step("press", (("control", control),), "", 0.1),
        Step("release", (("control", control),), wait, seconds),
    )


_OPEN: Final = _press("open button", "fully open", 1.0)

PLAYS: Final[tuple[Case, ...]] = (
    # somebody comes into the outer beam while it closes, and goes again
    Case(
        (
            *_OPEN,
            *_press("close button", "it closes", 3.0),
            Step("cover beam", (("guard", "outer beam"),), "", 1.0),
            Step("uncover beam", (("guard", "outer beam"),), "fully open", 1.0),
        ),
    ),
    # the closing leaves meet somebody; the stop button is struck while they back off
    Case(
        (
            *_OPEN,
            *_press("close button", "it closes", 0.5),
            Step("place body", (("body", "test body"), ("x_m", 2.0), ("y_m", 0.4)), "", 9.0),
            Step("press", (("control", "stop button"),), "", 6.0),
        ),
    ),
    # opened, closed to the end, and opened again
    Case((*_OPEN, *_press("close button", "fully closed", 2.0), *_OPEN)),
)
"""What is played for every fault; ours."""


@dataclass(frozen=True, slots=True)
class NotProtected:
    """A fault, and what it breaks."""

    fault: str
    property: str
    said: str


@dataclass(frozen=True, slots=True)
class Beyond:
    """All of it."""

    faults: int
    """How many could be brought to this gate."""
    not_protected: tuple[NotProtected, ...]
    unfitting: tuple[str, ...]
    """Faults of parts that this gate hasn't got."""


def look_beyond(stage: Stage, properties: Sequence[Property], told: Callable[[str], None] | None = None) -> Beyond:
    """Bring every fault of the catalogue, play, and look. `told` hears each fault's name."""
    gate = [each for each in properties if each.stated_on == "gate"]
    broken: list[NotProtected] = []
    unfitting: list[str] = []
    for name in FAULTS:
        if told is not None:
            told(name)
        seen = _under(stage, gate, name)
        if seen is None:
            unfitting.append(name)
            continue
        broken += [NotProtected(name, which, said) for which, said in seen.items()]
    return Beyond(len(FAULTS) - len(unfitting), tuple(broken), tuple(unfitting))


def _under(stage: Stage, gate: Sequence[Property], name: str) -> dict[str, str] | None:
    """Property: how it was broken under a fault it isn't promised under; None where the fault doesn't fit."""
    seen: dict[str, str] = {}
    beyond = [each for each in gate if name not in each.under]
    for case in PLAYS:
        found = Case(case.steps, case.sheet, ((name, 1.0),), case.tail_s)

        def work(world: World, found: Case = found) -> dict[str, str] | None:
            record = play(world, found)
            if not record.faults:
                return None
            breaches = {each.name: each.look(record) for each in beyond}
            return {which: breach.said for which, breach in breaches.items() if breach is not None}

        this = stage.in_branch(work, 60.0)
        if this is None:
            return None
        seen = {**this, **seen}
    return seen
