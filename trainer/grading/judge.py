"""Grading as a session uses it: handed to it at construction, so that the session knows nothing of grading."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from sim.world.history import History
from trainer.grading.checks.force import counting
from trainer.grading.competences import standings
from trainer.grading.grade import Grade, grade
from trainer.grading.guide import acceptance_checks, guide_steps
from trainer.grading.measured import measured
from trainer.grading.overruling import overruled_view, ruled_features
from trainer.grading.practise import practise_next
from trainer.grading.rulings import read_rulings
from trainer.grading.story import Story
from trainer.grading.way import way
from trainer.job import Competence
from trainer.session.acceptance import Judged
from trainer.session.assignment import Assignment
from trainer.session.view import DebriefView


class Grader:
    """Answers a session's questions about where somebody stands, and grades the attempt at its end."""

    def __init__(self, competences: Sequence[Competence] = ()) -> None:
        """`competences` of a college's list are told at the end as well."""
        self._competences = competences
        self._last: tuple[History, Assignment, Grade] | None = None

    def stands(self, history: History, assignment: Assignment) -> Judged:
        """Each acceptance check, how it stands now and why; the guide's steps, done or not, for a learner; which
        force readings count. The history is read once for all of them, and not kept."""
        story = Story(history)
        return Judged(
            acceptance_checks(story, assignment.acceptance),
            guide_steps(story, assignment.steps) if assignment.grade == "learner" else (),
            counting(story),
        )

    def debrief(self, history: History, assignment: Assignment, folder: Path) -> DebriefView:
        """The graded result, for the screen and the report, with what an instructor overruled in the folder where it
        is kept."""
        made, story = self.graded(history, assignment), Story(history)
        rulings = read_rulings(folder)
        return replace(
            made.debrief(),
            measured=measured(story),
            way=way(story, assignment.solution()),
            practise=practise_next(made.findings),
            competences=standings(ruled_features(made.features, rulings), self._competences),
            overruled=overruled_view(made.features, rulings),
        )

    def kept(self, history: History, assignment: Assignment) -> dict[str, object]:
        """The graded result with its features, in base types."""
        return self.graded(history, assignment).as_base_types()

    def graded(self, history: History, assignment: Assignment) -> Grade:
        """The graded result with its features, to be kept. The last one is remembered: what is kept and what is told
        is one grade, worked out once."""
        if self._last is not None and self._last[0] is history and self._last[1] is assignment:
            return self._last[2]
        made = grade(
            history,
            assignment.grade,
            assignment.acceptance,
            assignment.minutes,
            allowed=assignment.allowed,
            without=assignment.otherwise(history),
            expert=assignment.solution(),
        )
        self._last = (history, assignment, made)
        return made
