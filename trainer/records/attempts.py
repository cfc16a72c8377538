"""Graded attempts, read from the folder that they are kept in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Protocol

from sim.errors import DataError
from trainer.grading import Ruling, overruled, read_rulings, ruled_features
from trainer.grading.score import Features
from trainer.records.kept import Kept, Mark, read_kept
from trainer.session.attempt import FILE as ABOUT
from trainer.session.attempt import RESULT, About, moment, read_about


class Card(Protocol):
    """What is asked of a job where an attempt itself does not say at what it was."""

    @property
    def title(self) -> str:
        """What the job is called."""
        ...

    @property
    def family(self) -> str:
        """What it is about."""
        ...

    @property
    def grade(self) -> str:
        """For whom it is."""
        ...


@dataclass(frozen=True, slots=True)
class Attempt:
    """One graded attempt."""

    folder: Path
    about: About
    when: datetime
    """When it was graded first."""
    kept: Kept
    rulings: tuple[Ruling, ...] = ()
    """What an instructor overruled or added."""

    @property
    def features(self) -> Features:
        """What counts of it, in base types: as an instructor saw it, where one overruled something."""
        return ruled_features(self.kept.features, self.rulings)

    @property
    def overruled(self) -> Mark | None:
        """The mark after an instructor's rulings; None where there are none, or where they can't be reckoned since
        the result is of another model of grading."""
        if not self.rulings or self.kept.today is None:
            return None
        return Mark.of(overruled(self.kept.features, self.rulings), self.features)

    @property
    def mark(self) -> Mark:
        """What counts: the overruled mark where there is one, else the computed."""
        return self.overruled or self.kept.computed


def graded_attempts(folder: Path, jobs: Mapping[str, Card]) -> tuple[list[Attempt], list[str]]:
    """(every graded attempt kept in a folder, oldest first; a sentence for each one that can't be read).

    `jobs` by name tell the family of an attempt that was kept before attempts said so themselves.
    """
    found: list[Attempt] = []
    troubles: list[str] = []
    for result in sorted(folder.glob(f"*/{RESULT}")):
        try:
            found.append(_attempt(result.parent, jobs))
        except DataError as error:
            troubles.append(str(error))
    found.sort(key=lambda each: (each.when, each.folder.name))
    return found, troubles


def _attempt(folder: Path, jobs: Mapping[str, Card]) -> Attempt:
    kept, about, rulings = read_kept(folder), read_about(folder), read_rulings(folder)
    file_date = datetime.fromtimestamp((folder / RESULT).stat().st_mtime, UTC).replace(microsecond=0)
    if about is None:
        name = folder.name.rsplit("-", 1)[0]
        card = jobs.get(name)
        known = (card.title, card.family, card.grade) if card else (name, "", kept.features["job_grade"])
        return Attempt(folder, About(name, *known), file_date, kept, rulings)
    when = about.ended or about.began
    return Attempt(folder, about, moment(when, folder / ABOUT) if when else file_date, kept, rulings)
