"""The next measurement of somebody who reckons: most expected information for a minute, one step ahead.

One step ahead is not the best there is, and near it: a test compares with exhaustive search. Which causes remain
alike whatever is measured follows too.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from trainer.diagnosis.table import Probabilities


@dataclass(frozen=True, slots=True)
class Course:
    """How the finding of a cause goes when each next measurement is the best one."""

    causes: tuple[int, ...]
    """Those that fit what was read so far."""
    measurement: int | None = None
    """What is measured next; None where what is left can't be told apart."""
    readings: dict[int, Course] = field(default_factory=dict)
    """What follows upon each class read."""

    def steps(self) -> dict[int, tuple[int, ...]]:
        """Of each cause the measurements that lead to it."""
        if self.measurement is None:
            return dict.fromkeys(self.causes, ())
        return {
            cause: (self.measurement, *onward)
            for each in self.readings.values()
            for cause, onward in each.steps().items()
        }

    def alike(self) -> list[tuple[int, ...]]:
        """Causes that no measurement tells apart, in groups of two and more."""
        if self.measurement is None:
            return [self.causes] if len(self.causes) > 1 else []
        return [group for each in self.readings.values() for group in each.alike()]


def course(
    reads: NDArray[np.int64], minutes: Probabilities, prior: Probabilities, causes: Sequence[int] | None = None
) -> Course:
    """The whole course over causes that always read the same class; shape of `reads` (causes, measurements).

    Every step splits what is left, so it is no deeper than there are causes.
    """
    left = np.arange(len(reads)) if causes is None else np.asarray(causes)
    chosen = _splits_best(reads[left], minutes, prior[left]) if len(left) > 1 else None
    if chosen is None:
        return Course(tuple(int(cause) for cause in left))
    read = reads[left, chosen]
    onward = {int(value): course(reads, minutes, prior, left[read == value]) for value in np.unique(read)}
    return Course(tuple(int(cause) for cause in left), chosen, onward)


def way(reads: NDArray[np.int64], minutes: Probabilities, prior: Probabilities, cause: int) -> tuple[int, ...]:
    """The measurements that lead to one cause: its branch of `course`, and no other is looked into. Pairs of causes
    are thousands, and the whole course over them takes minutes."""
    left, made = np.arange(len(reads)), []
    while len(left) > 1 and (chosen := _splits_best(reads[left], minutes, prior[left])) is not None:
        made.append(chosen)
        left = left[reads[left, chosen] == reads[cause, chosen]]
    return tuple(made)


def _splits_best(reads: NDArray[np.int64], minutes: Probabilities, weight: Probabilities) -> int | None:
    """The column that tells most for a minute, None if none tells anything."""
    shares = np.zeros((reads.shape[1], int(reads.max(initial=0)) + 1))
    np.add.at(shares, (np.arange(reads.shape[1])[None, :], reads), (weight / weight.sum())[:, None])
    worth = -np.sum(shares * np.log2(shares, out=np.zeros_like(shares), where=shares > 0.0), axis=1)
    splits = (reads != reads[0]).any(axis=0)
    if not splits.any():
        return None
    return int(np.argmax(np.where(splits, worth / minutes, -1.0)))


def expected(course: Course, minutes: Probabilities, prior: Probabilities) -> tuple[float, float]:
    """Steps and minutes that the course takes on average over the causes, as likely as `prior` says."""
    told = course.steps()
    total = sum(prior[cause] for cause in told)
    steps = sum(prior[cause] * len(made) for cause, made in told.items()) / total
    spent = sum(prior[cause] * float(minutes[list(made)].sum()) for cause, made in told.items()) / total
    return float(steps), float(spent)
