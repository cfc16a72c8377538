"""Makes a counterexample that nobody drew shorter: leaves out what it does without, waits no longer than it must."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Final

from sim.bench.proof.case import Case

SECONDS: Final = (0.0, 0.1, 1.0, 3.0)
"""What a wait is cut down to, if that will do [s]."""


def shorter(case: Case, breaks: Callable[[Case], bool], most: int = 80) -> tuple[Case, int]:
    """The shortest case found that still breaks the same, and how many were tried, `most` at most."""
    tried = 0
    changed = True
    while changed:
        changed = False
        for candidate in _smaller(case):
            if tried >= most:
                return case, tried
            tried += 1
            if breaks(candidate):
                case, changed = candidate, True
                break
    return case, tried


def _smaller(case: Case) -> Iterator[Case]:
    """Cases that are simpler by one thing each, the greatest savings first."""
    steps = case.steps
    for half in (steps[: len(steps) // 2], steps[len(steps) // 2 :]) if len(steps) > 3 else ():
        yield replace(case, steps=half)
    for index in reversed(range(len(steps))):
        yield replace(case, steps=steps[:index] + steps[index + 1 :])
    for index in range(len(case.sheet)):
        yield replace(case, sheet=case.sheet[:index] + case.sheet[index + 1 :])
    for index in range(len(case.faults)):
        yield replace(case, faults=case.faults[:index] + case.faults[index + 1 :])
    for index, step in enumerate(steps):
        for seconds in SECONDS:
            if seconds < step.seconds:
                yield replace(case, steps=(*steps[:index], replace(step, seconds=seconds), *steps[index + 1 :]))
        if step.wait:
            yield replace(case, steps=(*steps[:index], replace(step, wait=""), *steps[index + 1 :]))
