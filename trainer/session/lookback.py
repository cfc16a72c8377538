"""What a debrief lists beside its findings: what was measured, and the expert's way beside what was done."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, Literal

from sim.said import joined, said
from sim.units import Us

Standing = Literal["shown", "not shown", "not asked"]
"""How a competence stands."""

Kind = Literal["both", "left out", "at another time", "besides"]


@dataclass(frozen=True, slots=True)
class MeasuredView:
    """One measurement and what it showed."""

    line: int
    """Journal line of the act it came from; 0 when none."""
    at: Us
    what: str
    """Instrument, and where it was."""
    shown: str
    """What it showed, with its unit."""


@dataclass(frozen=True, slots=True)
class WayRow:
    """One act of the expert's way, of what was done, or of both."""

    kind: Kind
    """`left out`: the expert did it and it was never done; `at another time`: both did it, not in this order;
    `besides`: done, and not part of the expert's way."""
    expert: str
    """The expert's act in words, '' where there is none."""
    done: str
    """What was done in words, '' where there is nothing."""
    line: int = 0
    """Journal line of what was done."""
    at: Us | None = None
    """When it was done."""


@dataclass(frozen=True, slots=True)
class LeftView:
    """A past that was left: somebody went on from an earlier moment."""

    since: Us
    """The moment that was gone on from."""
    until: Us
    """How far the attempt had come by then."""
    acts: int
    """How many acts were left behind."""


@dataclass(frozen=True, slots=True)
class CompetenceView:
    """A competence of a college's list."""

    name: str
    about: str
    """What somebody who has it can do."""
    state: Standing
    why: str
    """What shows it, or shows that it isn't there yet, in one sentence."""

    def standing(self, state: Standing, why: str) -> CompetenceView:
        """The same competence as it stands."""
        return replace(self, state=state, why=why)


OUTCOME_WORDS: Final = {
    "failed": said("failed"),
    "marginal": said("marginal"),
    "skipped": said("not judged"),
    "passed": said("passed"),
}


@dataclass(frozen=True, slots=True)
class RulingView:
    """One thing that an instructor overruled or added."""

    title: str
    was: str
    """Outcome as it was computed; empty for what was added, or has points alone."""
    now: str
    """Outcome as the instructor saw it."""
    points: float | None
    """Points it costs now, of 100; None: what the model gives."""
    by: str
    reason: str
    when: str
    """ISO 8601 with zone."""
    grave: bool = False

    @property
    def told(self) -> str:
        """What the instructor made of it, in a sentence."""
        points = "" if self.points is None else said("{points:.1f} points lost", points=self.points)
        parts = (said("grave") if self.grave else "", OUTCOME_WORDS[self.now], points)
        told = joined(filter(None, parts), " · ")
        if not self.was:
            return said("added: {told}", told=told)
        return said("computed: {was}; overruled: {told}", was=OUTCOME_WORDS[self.was], told=told)


@dataclass(frozen=True, slots=True)
class OverruledView:
    """The mark after an instructor's rulings; it stands beside the computed one."""

    score: float
    result: str
    rulings: tuple[RulingView, ...]
