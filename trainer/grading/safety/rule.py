"""What a safety rule is: a name, how bad a breach is, its words, and an eye that finds breaches in a story."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from trainer.grading.finding import Evidence
from trainer.grading.story import Story

Severity = Literal["minor", "serious", "grave"]
"""How bad: `grave` may cost a life and caps the result; `serious` takes a barrier away; `minor` is bad habit."""


@dataclass(frozen=True, slots=True)
class Breach:
    """One time a rule was broken."""

    what: str
    evidence: tuple[Evidence, ...]


@dataclass(frozen=True, slots=True)
class Rule:
    """An entry of the catalogue."""

    name: str
    severity: Severity
    title: str
    why: str
    instead: str
    look: Callable[[Story], list[Breach]]
    at_leaving: bool = False
    """Looks at how the gate was left, so it says nothing about an abandoned branch."""
    remedy: str = ""
    """The act that would have prevented it; where a job doesn't offer that act, the rule is not applied."""


def breach(what: str, *evidence: Evidence) -> Breach:
    """A breach with its evidence."""
    return Breach(what, evidence)
