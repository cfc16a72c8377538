"""The learning record of one trainee: per family of jobs the attempts, their trend, and when it is due again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from itertools import combinations
from statistics import median
from typing import Final, Literal

from trainer.job import FAMILIES
from trainer.records.attempts import Attempt
from trainer.records.spacing import Review, rated, spaced

Trend = Literal["too few", "rising", "steady", "falling"]

TREND_OVER: Final = 6
"""So many of the latest attempts make a trend. Common practice, no source."""
TREND_LEAST: Final = 3
"""With fewer there is none."""
STEADY_WITHIN: Final = 2.0
"""A trend of at most so many points an attempt is none. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class FamilyRecord:
    """How a family of jobs goes."""

    family: str
    """Empty for jobs that name none."""
    attempts: tuple[Attempt, ...]
    """Oldest first; at least one."""
    trend: Trend
    due: date
    recall: float
    """Chance, by the scheduler's curve, that it would go well today, 0 to 1."""

    @property
    def last(self) -> float:
        """Score of the latest attempt, of 100."""
        return self.attempts[-1].mark.score

    @property
    def best(self) -> float:
        """The best score, of 100."""
        return max(each.mark.score for each in self.attempts)


@dataclass(frozen=True, slots=True)
class LearningRecord:
    """One trainee's record."""

    who: str
    today: date
    families: tuple[FamilyRecord, ...]
    """Those with attempts, in the order in which families are listed."""

    @property
    def attempts(self) -> tuple[Attempt, ...]:
        """All attempts, oldest first."""
        every = (each for family in self.families for each in family.attempts)
        return tuple(sorted(every, key=lambda each: (each.when, each.folder.name)))

    @property
    def due(self) -> tuple[FamilyRecord, ...]:
        """What is due today or was before, what is most likely forgotten first."""
        late = [each for each in self.families if each.due <= self.today]
        return tuple(sorted(late, key=lambda each: (each.recall, each.due, each.family)))


def trainees(attempts: Iterable[Attempt]) -> tuple[str, ...]:
    """Everybody who made one of the attempts, by name; '' for those of whom nobody said who it was."""
    return tuple(sorted({each.about.who for each in attempts}))


def learning_record(attempts: Iterable[Attempt], who: str, now: datetime) -> LearningRecord:
    """The record of one trainee at a moment."""
    mine = [each for each in attempts if each.about.who == who]
    order = {family: n for n, family in enumerate(FAMILIES)}
    names = sorted({each.about.family for each in mine}, key=lambda family: (order.get(family, len(order)), family))
    families = (_family(family, [each for each in mine if each.about.family == family], now) for family in names)
    return LearningRecord(who, now.date(), tuple(families))


def _family(family: str, attempts: Sequence[Attempt], now: datetime) -> FamilyRecord:
    ordered = tuple(sorted(attempts, key=lambda each: (each.when, each.folder.name)))
    spacing = spaced((Review(each.when, rated(each.mark, each.about.grade)) for each in ordered), now)
    assert spacing is not None, "a family stands in the record because of an attempt"
    scores = [each.mark.score for each in ordered]
    return FamilyRecord(family, ordered, trend_of(scores), spacing.due, spacing.recall)


def slope_of(scores: Sequence[float]) -> float:
    """Points an attempt: the median of the slopes between any two (Theil and Sen), which one bad day doesn't turn."""
    pairs = combinations(enumerate(scores), 2)
    return median((later - earlier) / (n - m) for (m, earlier), (n, later) in pairs)


def trend_of(scores: Sequence[float]) -> Trend:
    """Where the latest scores go."""
    latest = scores[-TREND_OVER:]
    if len(latest) < TREND_LEAST:
        return "too few"
    slope = slope_of(latest)
    if abs(slope) <= STEADY_WITHIN:
        return "steady"
    return "rising" if slope > 0.0 else "falling"
