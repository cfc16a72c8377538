"""When a family of jobs is due again: spaced repetition by FSRS, the free spaced repetition scheduler (version 6).

The scheduler is the one of its authors (`fsrs`, MIT), with the parameters that it brings, whole days instead of
minutes, and nothing random. Those parameters were fitted to memorised facts, not to work on a gate: they order
what to practise, and predict nobody's skill.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Final

from fsrs import Card, Rating, Scheduler

from trainer.records.kept import Mark

EASY_FROM: Final = 95.0
"""A competent result from here on was easy, where no guide led the way. Common practice, no source."""

AGAIN_BELOW: Final = 50.0
"""Below this an attempt proves nothing of the family. Common practice, no source."""

GUIDED: Final = "learner"
"""Jobs of this grade lead step by step, so that a result shows less."""

LONGEST_DAYS: Final = 365
"""Nothing that can kill goes unpractised for longer [d]. Common practice, no source."""

SCHEDULER: Final = Scheduler(
    learning_steps=(), relearning_steps=(), enable_fuzzing=False, maximum_interval=LONGEST_DAYS
)


@dataclass(frozen=True, slots=True)
class Review:
    """One attempt at a family, as the scheduler sees it."""

    when: datetime
    rating: Rating


@dataclass(frozen=True, slots=True)
class Spacing:
    """When a family is due, and how much of it is still there."""

    due: date
    recall: float
    """Chance by the scheduler's curve that it would go well today, 0 to 1."""


def rated(mark: Mark, grade: str) -> Rating:
    """What a result says of a family.

    | result | rating |
    |---|---|
    | a grave unsafe act, or below 50 | again |
    | from 50, not competent | hard |
    | competent; from 95 too, where a guide led (grade learner) | good |
    | competent and from 95, in a job without a guide | easy |
    """
    if mark.grave or mark.score < AGAIN_BELOW:
        return Rating.Again
    if mark.result != "competent":
        return Rating.Hard
    return Rating.Easy if mark.score >= EASY_FROM and grade != GUIDED else Rating.Good


def spaced(reviews: Iterable[Review], now: datetime) -> Spacing | None:
    """When a family is due after these attempts, in whatever order they come; None after none."""
    card = Card(card_id=0, due=now)
    for review in sorted(reviews, key=lambda each: (each.when, each.rating)):
        card, _log = SCHEDULER.review_card(card, review.rating, review.when.astimezone(UTC))
    if card.last_review is None:
        return None
    return Spacing(card.due.date(), SCHEDULER.get_card_retrievability(card, now.astimezone(UTC)))
