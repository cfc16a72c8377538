"""What counts how much: data, one set per grade of job. Changing a number here changes no code.

The shape follows a published precedent (a weighted sum, with gates for grave acts); the numbers are a starting point
to be fitted to instructors' rankings. Common practice, no source, where nothing else is said.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from trainer.grading.finding import Part

GRADE_MODEL: Final = "gudgeon-grade/4"
"""Version of features, weights and formulas together; stored with every result."""

GRADED_ANEW: Final = frozenset({"gudgeon-grade/1", "gudgeon-grade/2", "gudgeon-grade/3", GRADE_MODEL})
"""Models whose features this one can grade: the second added the count of good parts replaced, which the first lacks
since its jobs had nothing to replace; the third added the most that several unsafe acts leave, and the fourth looks
where it was tested for dead and how soon somebody was let out: no features."""


@dataclass(frozen=True, slots=True)
class Weights:
    """One set of weights."""

    parts: Mapping[Part, float]
    """Share of each part; parts a job doesn't have give their share to the others in proportion."""
    checks: Mapping[str, float] = field(
        default_factory=lambda: MappingProxyType(
            {
                "guards proved": 2.0,
                "survey complete": 2.0,
                "handed over": 2.0,
                "fault put right": 3.0,
                "cause found": 2.0,
            }
        )
    )
    """Weight of a check within its part, 1 if not named."""
    severity: Mapping[str, float] = field(
        default_factory=lambda: MappingProxyType({"minor": 1.0, "serious": 3.0, "grave": 10.0})
    )
    """Severity of one breach."""
    softness: float = 5.0
    """The safety part falls by e for each this much severity. Practice 1.3."""
    most_repeats: int = 3
    """A rule broken more often than this counts no more."""
    marginal: float = 0.75
    """Share of a check's points that a marginal pass earns."""
    time_share: float = 0.7
    """Of the economy part, the rest is for acts that told something."""
    most_redundant: int = 10
    """With this many idle acts nothing is left of that rest."""
    needless: float = 0.7
    """The economy part falls by e to this for each good part that was replaced. Practice 1.3."""
    hints: tuple[float, ...] = (2.0, 4.0, 8.0, 20.0)
    """Points that each hint costs, of 100, the first first; every further one costs as much as the last. They are
    taken from the diagnosis part, as far as it goes. Practice 1.3."""
    grave_cap: float = 39.0
    """The most a result can be after a grave act. Practice 1.3."""
    unsafe_cap: float = 45.0
    """The most a result can be where less than `unsafe_share` of the safety part is left: two serious acts, say.
    Simulated trainees who worked live and proved nothing came out above those who only guessed, before it was there;
    no instructor would have it so. Common practice, no source."""
    unsafe_share: float = 0.5
    unfinished_cap: float = 49.0
    """The most an unfinished job can be. Practice 1.3."""
    wrong_cause_cap: float = 49.0
    """The most a result can be where the cause was not named. Practice 1.3."""
    guessed_cap: float = 59.0
    """The most a result can be where a cause was named, or a part replaced, with nothing looked at before.
    Practice 1.3."""
    unaccepted_cap: float = 84.0
    """The most a job can be that failed one of its acceptance checks: below `competent`."""
    competent: float = 85.0
    developing: float = 70.0
    safe_share: float = 0.8
    systematic_share: float = 0.6
    proved_share: float = 0.8
    """Bands. Practice 1.3."""


def _set(
    outcome: float, safety: float, diagnosis: float, economy: float, verification: float, record: float
) -> Weights:
    shares: dict[Part, float] = {
        "outcome": outcome,
        "safety": safety,
        "diagnosis": diagnosis,
        "economy": economy,
        "verification": verification,
        "record": record,
    }
    return Weights(parts=MappingProxyType(shares))


WEIGHTS: Final[Mapping[str, Weights]] = MappingProxyType(
    {
        "learner": _set(30, 30, 10, 5, 15, 10),
        "working": _set(28, 25, 17, 8, 14, 8),
        "senior": _set(25, 25, 20, 10, 12, 8),
    }
)
"""By the job's grade."""
