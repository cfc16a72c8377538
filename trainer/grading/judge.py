"""Grading as a session uses it: handed to it at construction, so that the session knows nothing of grading."""

from __future__ import annotations

from dataclasses import replace

from sim.world.history import History
from trainer.grading.checks.force import counting
from trainer.grading.grade import Grade, grade
from trainer.grading.guide import acceptance_checks, guide_steps
from trainer.grading.measured import measured
from trainer.grading.practise import practise_next
from trainer.grading.story import Story
from trainer.grading.way import way
from trainer.session.acceptance import CheckView
from trainer.session.assignment import Assignment
from trainer.session.view import DebriefView, Step


class Grader:
    """Answers a session's questions about where somebody stands, and grades the attempt at its end."""

    def __init__(self) -> None:
        self._read: Story | None = None
        """The history asked about last, read: its states, steps and readings are asked for one after the other."""

    def _story(self, history: History) -> Story:
        if self._read is None or self._read.history is not history:
            self._read = Story(history)
        return self._read

    def states(self, history: History, assignment: Assignment) -> tuple[CheckView, ...]:
        """Each acceptance check, how it stands now and why."""
        return acceptance_checks(self._story(history), assignment.acceptance)

    def readings(self, history: History) -> tuple[bool, ...]:
        """For each force reading in its order, whether it counts as things stand."""
        return counting(self._story(history))

    def steps(self, history: History, assignment: Assignment) -> tuple[Step, ...]:
        """The guide's steps, done or not. Only a learner is guided."""
        return guide_steps(self._story(history), assignment.steps) if assignment.grade == "learner" else ()

    def debrief(self, history: History, assignment: Assignment) -> DebriefView:
        """The graded result, for the screen and the report."""
        made, story = self.graded(history, assignment), Story(history)
        return replace(
            made.debrief(),
            measured=measured(story),
            way=way(story, assignment.solution()),
            practise=practise_next(made.findings),
        )

    def kept(self, history: History, assignment: Assignment) -> dict[str, object]:
        """The graded result with its features, in base types."""
        return self.graded(history, assignment).as_base_types()

    def graded(self, history: History, assignment: Assignment) -> Grade:
        """The graded result with its features, to be kept."""
        return grade(history, assignment.grade, assignment.acceptance, assignment.minutes, allowed=assignment.allowed)
