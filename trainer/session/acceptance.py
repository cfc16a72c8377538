"""What a screen sees of the acceptance: each check with what is shown so far, the guide, the readings that count."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from sim.units import Us
    from sim.world.history import History
    from trainer.session.assignment import Assignment, Judge
    from trainer.session.view import Step

TOLD_AT_THE_END: Final = frozenset({"survey complete", "guards declared truly", "leaf order true"})
"""Checks that compare what was written down with the truth of the site."""

WORDS_AT_THE_END: Final = TOLD_AT_THE_END | {"dead proved before work", "activation suits the users"}
"""Checks whose words would give away what is to be found out: until the end only their state is told, in practice."""


@dataclass(frozen=True, slots=True)
class CheckView:
    """One check of the acceptance."""

    name: str
    state: str
    """`not yet`, `passed`, `stale`, `failed`."""
    what: str = ""
    """What is shown so far, or why it does not pass yet; '' where that is not told now."""
    at: Us | None = None
    """When it was last shown [µs since arrival]; None when nothing shows it."""
    how: str = ""
    """How it is shown, in general; '' where that is not told."""


@dataclass(frozen=True, slots=True)
class Judged:
    """How things stand, as a judge sees them."""

    checks: tuple[CheckView, ...] = ()
    steps: tuple[Step, ...] = ()
    readings: tuple[bool, ...] = ()
    """For each force reading in its order, whether it counts: on a rigid rest, nothing bridged, nothing changed
    since."""


def judged_now(judge: Judge, history: History, assignment: Assignment, ended: bool) -> Judged:
    """How things stand, without what must not be told yet."""
    stands = judge.stands(history, assignment)
    checks, steps = stands.checks, stands.steps
    if not ended:
        checks = tuple(replace(check, what="") if check.name in WORDS_AT_THE_END else check for check in checks)
    if assignment.mode == "assessed" and not ended:
        checks, steps = tuple(map(_untold, checks)), ()
    return Judged(checks, steps, stands.readings)


def _untold(check: CheckView) -> CheckView:
    """Somebody who is assessed must not be able to try answers until one is marked as right, and gets no guidance."""
    if check.name in TOLD_AT_THE_END:
        return CheckView(check.name, "not yet")
    return replace(check, how="", what="" if check.state == "not yet" else check.what)
