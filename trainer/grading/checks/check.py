"""What a check is: a name, its place in the grade, its words, and a judge that looks at a story."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from trainer.grading.finding import Evidence, Part, Verdict
from trainer.grading.story import Story

Judge = Callable[[Story], Verdict]


@dataclass(frozen=True, slots=True)
class Check:
    """An entry of the catalogue. A judge may be asked at any moment and never changes anything."""

    name: str
    """As an acceptance list names it."""
    part: Part
    title: str
    why: str
    """Why it matters, with the caution where there is one."""
    instead: str
    judge: Judge
    needs: tuple[str, ...] = ()
    """Checks without which this one can't be judged; while one of them isn't passed, `not yet` means `skipped`."""


def passed(what: str, *evidence: Evidence) -> Verdict:
    """It holds."""
    return Verdict("passed", what, evidence)


def marginal(what: str, *evidence: Evidence) -> Verdict:
    """It holds, but too near the limit to rely on."""
    return Verdict("marginal", what, evidence)


def not_yet(what: str, *evidence: Evidence) -> Verdict:
    """Nothing shows it so far."""
    return Verdict("not yet", what, evidence)


def stale(what: str, *evidence: Evidence) -> Verdict:
    """It held, and something done since took the proof away."""
    return Verdict("stale", what, evidence)


def failed(what: str, *evidence: Evidence) -> Verdict:
    """It was seen not to hold."""
    return Verdict("failed", what, evidence)


def not_applicable(what: str) -> Verdict:
    """There was nothing to judge; that is not zero."""
    return Verdict("not applicable", what)
