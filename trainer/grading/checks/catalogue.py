"""Every check there is, by name: the acceptance checks, and the milestones a guide may wait for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

from sim.said import said
from trainer.grading.checks import (
    activation,
    auto_close,
    beam,
    dead,
    directions,
    force,
    freed,
    guards,
    handover,
    learning,
    milestones,
    order,
    prediction,
    repair,
    slow_zone,
    stop_circuit,
    survey,
    swing,
    transmitter,
)
from trainer.grading.checks.check import Check, not_yet
from trainer.grading.finding import Verdict
from trainer.grading.story import Story


def catalogue(*groups: Iterable[Check]) -> Mapping[str, Check]:
    """Checks by name. Raises ValueError when a name stands twice or a check needs one that isn't there."""
    found: dict[str, Check] = {}
    for check in (check for group in groups for check in group):
        if check.name in found:
            raise ValueError(f"there are two checks named '{check.name}'")
        found[check.name] = check
    for check in found.values():
        for need in check.needs:
            if need not in found:
                raise ValueError(f"'{check.name}' needs '{need}', which is no check")
    return MappingProxyType(found)


ACCEPTANCE: Final = catalogue(
    survey.CHECKS,
    swing.CHECKS,
    stop_circuit.CHECKS,
    directions.CHECKS,
    dead.CHECKS,
    guards.CHECKS,
    activation.CHECKS,
    learning.CHECKS,
    order.CHECKS,
    slow_zone.CHECKS,
    auto_close.CHECKS,
    beam.CHECKS,
    transmitter.CHECKS,
    force.CHECKS,
    repair.CHECKS,
    freed.CHECKS,
    handover.CHECKS,
    prediction.CHECKS,
)
"""What a job may ask for."""

MILESTONES: Final = catalogue(milestones.CHECKS)
"""What a guide's step may wait for beside the acceptance checks."""


def its_own_fault(error: Exception) -> str:
    """What is said of a check, or of a rule's eye, that crashed."""
    return said("the check itself failed: {kind}: {error}", kind=type(error).__name__, error=str(error))


def judged(check: Check, story: Story) -> tuple[Verdict, bool]:
    """(verdict, whether the check itself crashed). A crash is the product's failure, so it is told, not charged."""
    try:
        return check.judge(story), False
    except Exception as error:
        return not_yet(its_own_fault(error)), True
