"""Every error the project raises on purpose.

    GudgeonError
    ├── DataError            a file, an action or a setting that can't be used as it stands
    │   ├── ScenarioError    a site, job or drill file: says file, line, key, what was read, what is allowed
    │   ├── JournalError     a session's journal can't be read, or was written by another product version
    │   └── ActionError      an action the catalogue doesn't know, or arguments it can't take
    ├── Refused              the world is in no state for this action; it says why and what would allow it
    ├── CannotLearn          a gate that should be found with its travel learned can't learn it
    ├── EndlessInstant       simulated time stopped advancing; names the culprits
    ├── ControllerError      a foreign controller broke its contract, crashed or didn't answer
    └── LookPhaseError       something tried to change the world while recorders and instruments look

A message names the value that was read, the place, and what is allowed or the nearest right answer.
Whoever shows one to a person prints `str(error)` and nothing else: no traceback.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable

from sim.said import joined, said


class GudgeonError(Exception):
    """Base of all errors raised on purpose."""


class DataError(GudgeonError):
    """Something read from outside can't be used as it stands."""


class ScenarioError(DataError):
    """Raised when a site, job or drill file can't be used.

    `problems` are whole sentences, each with file, line, key, what was read and what is allowed.
    """

    def __init__(self, problems: list[str]) -> None:
        super().__init__(joined(problems, "\n"))
        self.problems = problems


class JournalError(DataError):
    """Raised when a session's journal can't be read or doesn't belong to this product version."""


class ActionError(DataError):
    """Raised when an action is not in the catalogue, or its arguments don't fit."""


class Refused(GudgeonError):
    """Raised when an action makes no sense in the present state of the world; the message says why."""


class CannotLearn(GudgeonError):
    """Raised when a gate can't be found with its travel learned. `said` is what its controller said of that."""

    def __init__(self, place: str, why: str) -> None:
        super().__init__(
            said(
                "{place}: the gate should be found with its travel learned, but it can't learn: {why}",
                place=place,
                why=why,
            )
        )
        self.said = why


class EndlessInstant(GudgeonError):
    """Raised when one instant never ends; the message names what kept it alive."""


class ControllerError(GudgeonError):
    """Raised when a controller breaks its contract, crashes, or does not answer in time."""


class LookPhaseError(GudgeonError):
    """Raised when something writes during the part of an instant that is for looking only."""


def nearest_right(name: str, names: Iterable[str], *, otherwise: str = "", alike: float = 0.4) -> str:
    """`; did you mean 'x'?` for the name most like one that isn't there, or `otherwise` when none is near.

    `alike`: how much it must look alike, as `difflib` counts it [share].
    """
    near = difflib.get_close_matches(name, list(names), n=1, cutoff=alike)
    return said("; did you mean '{name}'?", name=near[0]) if near else otherwise
