"""How the competences of a college's list stand after all that a trainee has done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trainer.grading import standings
from trainer.job import Competence
from trainer.records.learning import LearningRecord
from trainer.session.lookback import CompetenceView


@dataclass(frozen=True, slots=True)
class SoFar:
    """One competence over several attempts."""

    view: CompetenceView
    """As it stood the last time that anything was asked of it: what was shown once is not kept for ever."""
    shown: int
    """In how many attempts it was shown."""
    asked: int
    """In how many anything was asked of it."""


def shown_so_far(record: LearningRecord, competences: Sequence[Competence]) -> tuple[SoFar, ...]:
    """Each competence as it stands for a trainee; not asked where no attempt has asked for it yet."""
    found = []
    every = [each.features for each in record.attempts]
    for competence in competences:
        views = [standings(features, (competence,))[0] for features in every]
        asked = [view for view in views if view.state != "not asked"]
        never = CompetenceView(competence.name, competence.about, "not asked", "")
        shown = sum(view.state == "shown" for view in asked)
        found.append(SoFar(asked[-1] if asked else never, shown, len(asked)))
    return tuple(found)
