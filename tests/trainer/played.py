"""Whole attempts at a job, graded: for tests that ask what a way of doing it is worth."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from trainer.cli.deep import LEAVING
from trainer.grading import Grade
from trainer.grading.judge import Grader
from trainer.job import Resolved, Solution
from trainer.session.desk import Desk
from trainer.session.play import Hands
from trainer.session.session import Session


def attempt(resolved: Resolved, folder: Path, acts: Callable[[Session], None], leaves: bool = True) -> Grade:
    """The grade of somebody who acts like that; `leaves`: who hands over if that didn't end it."""
    session = Desk(Grader(), folder).begin(resolved, resolved.job.path.stem)
    try:
        acts(session)
        if leaves and not session.world.ended:
            session.release_all()
            session.do("hand over", LEAVING)
        session.finish()
        return Grader().graded(session.history(), session.assignment)
    finally:
        session.close()


def played(resolved: Resolved, solution: Solution | None, folder: Path) -> Grade:
    """The grade of somebody who does what is written there, or nothing. A right way has to end the job itself."""
    steps = () if solution is None else solution.steps
    return attempt(
        resolved, folder, lambda session: Hands(session).play(steps), solution is None or bool(solution.fails)
    )


def missed(grade: Grade) -> dict[str, str]:
    """What was lost: findings by name, and what they say."""
    return {finding.name: finding.what for finding in grade.findings if finding.outcome in ("failed", "marginal")}
