"""What grading says: findings with their evidence, and the words for their outcomes.

A finding says what happened (with the journal lines that show it), why it matters, and what to do instead.
It is data: the screen, the console and a report only print it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, Literal, NamedTuple

from sim.units import Us
from trainer.session.view import FindingView

Part = Literal["outcome", "safety", "diagnosis", "economy", "verification", "record"]

PARTS: Final[tuple[Part, ...]] = ("outcome", "safety", "diagnosis", "economy", "verification", "record")
"""The parts of a grade, in the order a debrief shows them."""

Outcome = Literal["passed", "failed", "marginal", "skipped"]
"""`marginal`: passed, but too near the limit to rely on; `skipped`: not judged, and it says why."""

State = Literal["not yet", "passed", "marginal", "stale", "failed", "not applicable"]
"""How a check stands at any moment. `stale`: it was passed, and something done since took its proof away."""


class Evidence(NamedTuple):
    """What shows it: journal line (0 when none), when [µs], and the line in words."""

    line: int
    at: Us
    text: str


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer of one check at one moment."""

    state: State
    what: str
    evidence: tuple[Evidence, ...] = ()


@dataclass(frozen=True, slots=True)
class Finding:
    """One line of the debrief."""

    part: Part
    outcome: Outcome
    name: str
    """Stable name, in words: the check's or the rule's."""
    title: str
    what: str
    why: str
    """Why it matters, with the caution."""
    instead: str
    points: float
    """Points lost, of 100, before any cap; 0 when nothing was lost."""
    grave: bool = False
    evidence: tuple[Evidence, ...] = ()

    def costing(self, points: float) -> Finding:
        """The same finding with its effect on the score."""
        return replace(self, points=max(0.0, round(points, 2)))

    def view(self) -> FindingView:
        """As a screen draws it."""
        return FindingView(
            part=self.part,
            outcome=self.outcome,
            title=self.title,
            what=self.what,
            why=self.why,
            instead=self.instead,
            points=self.points,
            grave=self.grave,
            evidence=tuple((e.line, e.at, e.text) for e in self.evidence),
        )

    def as_base_types(self) -> dict[str, object]:
        """For JSON."""
        return {
            "part": self.part,
            "outcome": self.outcome,
            "name": self.name,
            "title": self.title,
            "what": self.what,
            "why": self.why,
            "instead": self.instead,
            "points": self.points,
            "grave": self.grave,
            "evidence": [{"line": e.line, "at_us": int(e.at), "text": e.text} for e in self.evidence],
        }
