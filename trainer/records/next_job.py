"""What to practise next: a family by its spacing, and a job of it to do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, Protocol

from sim.said import said
from trainer.job import FAMILIES
from trainer.records.learning import LearningRecord

GRADES: Final = ("learner", "working", "senior")
"""From the easiest."""


class Choice(Protocol):
    """A job to choose from."""

    @property
    def name(self) -> str:
        """Its file, without the ending."""
        ...

    @property
    def title(self) -> str:
        """What it is called."""
        ...

    @property
    def grade(self) -> str:
        """For whom it is; empty where it can't be opened."""
        ...

    @property
    def family(self) -> str:
        """What it is about."""
        ...


@dataclass(frozen=True, slots=True)
class Next:
    """What to practise next."""

    family: str
    job: str
    """Name of a job of that family."""
    title: str
    why: str
    """One sentence."""


def next_job(record: LearningRecord, jobs: Sequence[Choice]) -> Next | None:
    """What to practise next; None where there is no job that names its family.

    A family that is due goes before a new one, and what is most likely forgotten goes first. With nothing due the
    next new family comes, in the order in which families are listed; with nothing new the one that is due soonest.
    In a family the easiest job comes that was not done competently yet, else the one that was done longest ago; and
    never the same one twice running while there is another.
    """
    usable = [job for job in jobs if job.family and job.grade in GRADES]
    there = {job.family for job in usable}
    met = {each.family: each for each in record.families if each.family in there}
    due = next((each for each in record.due if each.family in met), None)
    new = next((family for family in FAMILIES if family in there and family not in met), None)
    if due is not None:
        return _of(record, usable, due.family, _why_due(record.today, due.due))
    if new is not None:
        return _of(record, usable, new, said("You have not met this family of jobs yet."))
    if not met:
        return None
    soonest = min(met.values(), key=lambda each: (each.due, each.recall, each.family))
    return _of(
        record, usable, soonest.family, said("Nothing is due today; this comes next, on {day}.", day=soonest.due)
    )


def _why_due(today: date, due: date) -> str:
    days = (today - due).days
    if days == 0:
        return said("Due today.")
    return said("Due since yesterday." if days == 1 else "Due for {days} days.", days=days)


def _of(record: LearningRecord, jobs: Sequence[Choice], family: str, why: str) -> Next:
    """The job to do in a family."""
    done = [each for each in record.attempts if each.about.family == family]
    last = {each.about.job: n for n, each in enumerate(done)}
    good = {each.about.job for each in done if each.mark.result == "competent"}
    mine = [job for job in jobs if job.family == family]
    again = [job for job in mine if done and job.name == done[-1].about.job]
    others = [job for job in mine if job not in again] or mine
    first = min(
        others,
        key=lambda job: (job.name in good, last.get(job.name, -1) if job.name in good else GRADES.index(job.grade)),
    )
    return Next(family, first.name, first.title, why)
