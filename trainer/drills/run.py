"""Running a drill: begin it for a person in a window, or play it headless with its solution; then its result."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from sim.said import said
from sim.units import MINUTE, Us, clock_text
from trainer.drills.instructor import Done, Instructor
from trainer.grading import Grade, Grader
from trainer.job import Drill, load_drill, load_solution, scenarios_folder
from trainer.session.assignment import Mode
from trainer.session.desk import Desk
from trainer.session.journal import read_journal
from trainer.session.play import Hands, ScriptFailed
from trainer.session.session import Session

GRACE = Us(2 * MINUTE)
"""How long the instructor may still have to say after a solution has been played [µs]. Common practice, no source."""

KEPT_AS = "drill-"
"""Before the name of a drill its attempts are kept under this."""

PASSED = "competent"
"""The one result that counts as passed."""


@dataclass(frozen=True, slots=True)
class DrillResult:
    """What a drill came to."""

    title: str
    job: str
    seed: int
    failure: str
    """Why the solution could not be played to its end; '' when it was, or when a person was at work."""
    log: tuple[Done, ...]
    unplayed: int
    """Steps of the drill whose moment never came."""
    grade: Grade

    @property
    def passed(self) -> bool:
        """Whether it was carried out to the end and competently."""
        return self.grade.result == PASSED and not self.failure

    def as_base_types(self) -> dict[str, object]:
        """For JSON."""
        return {
            "format": "gudgeon-drill-result/1",
            "title": self.title,
            "job": self.job,
            "seed": self.seed,
            "passed": self.passed,
            "failure": self.failure,
            "unplayed_steps": self.unplayed,
            "log": [done.as_base_types() for done in self.log],
            "grade": self.grade.as_base_types(),
        }

    def as_text(self) -> str:
        """For a console: what was done to whoever was at work, and what came of it."""
        grade = self.grade
        lines = [f"{self.title} ({self.job}, seed {self.seed}): {grade.result}, {grade.score:.0f} of 100"]
        lines += [f"  {question} {answer}" for question, answer in grade.lines]
        lines += ["", "The instructor:", *(f"  {_line(done)}" for done in self.log)]
        if self.unplayed:
            lines.append(f"  {self.unplayed} steps never came to their moment.")
        if self.failure:
            lines += ["", f"Not carried out to the end: {self.failure}"]
        lines += ["", "Findings:"]
        for finding in grade.findings:
            cost = f" (−{finding.points:.1f})" if finding.points else ""
            lines.append(f"  {finding.outcome:8} {finding.title}{cost}: {finding.what}")
            if finding.outcome == "failed":
                lines += [f"           line {e.line}, {clock_text(e.at)}: {e.text}" for e in finding.evidence[:3]]
        return "\n".join(lines)


def _line(done: Done) -> str:
    return f"{clock_text(done.at)}  {done.kind:8} {done.text}".rstrip()


def begin(
    drill: Drill, desk: Desk, mode: Mode = "practice", told: Callable[[Done], None] | None = None
) -> tuple[Session, Instructor]:
    """A session of the drill's job with its instructor beside it, for a person to work in.

    Its attempts are kept apart from those of the job. Raises ScriptFailed for a step nobody can carry out.
    """
    session = desk.begin(drill.resolved, kept_as(drill.path), mode)
    try:
        return session, Instructor(session, drill.steps, told)
    except BaseException:
        session.close()
        raise


def kept_as(file: Path) -> str:
    """The name under which attempts at the drill in a file are kept; no job's attempts are found under it."""
    return f"{KEPT_AS}{file.stem}"


def look_back(attempt: Path, desk: Desk) -> Session:
    """The session of an attempt as it ended, of a job or of a drill that is shipped, with its instructor beside it.

    Raises ScenarioError if its file can't be used, JournalError if it belongs to another one, or physics, by now.
    """
    name = read_journal(attempt).header.job
    if not name.startswith(KEPT_AS):
        return desk.reopen(attempt)
    drill = load_drill(scenarios_folder() / "drills" / f"{name.removeprefix(KEPT_AS)}.yaml")

    def beside(left: Session) -> None:
        Instructor(left, drill.steps)

    return desk.reopen(attempt, drill.resolved, beside)


def resume(drill: Drill, desk: Desk, told: Callable[[Done], None] | None = None) -> tuple[Session, Instructor]:
    """Go on with the newest unfinished attempt at a drill; its instructor remembers what he did and said.

    Raises JournalError if there is none, or if the drill or its job is another by now.
    """
    there: list[Instructor] = []
    session = desk.resume_as(
        kept_as(drill.path), drill.resolved, lambda left: there.append(Instructor(left, drill.steps, told))
    )
    (instructor,) = there
    try:
        instructor.caught_up()
    except BaseException:
        session.journal.close()
        raise
    return session, instructor


def play(drill: Drill, desk: Desk, told: Callable[[Done], None] | None = None) -> DrillResult:
    """Play a drill headless against its solution. Raises ScriptFailed if it has none: then a person is needed."""
    if drill.solution is None:
        raise ScriptFailed(
            said("{path}: this drill is for a person; without a window it needs a solution", path=drill.path)
        )
    solution = load_solution(drill.solution, drill.resolved.values)
    session, instructor = begin(drill, desk, told=told)
    failure = ""
    try:
        Hands(session).play(solution.steps)
        if not session.world.ended and not instructor.finished:
            session.run_for(GRACE, lambda: instructor.finished)
    except ScriptFailed as error:
        failure = str(error)
    return finish(drill, session, instructor, failure)


def finish(drill: Drill, session: Session, instructor: Instructor, failure: str = "") -> DrillResult:
    """Grade a drill as it stands, keep its result, close its session; what was not brought to an end is given up."""
    session.finish()
    session.debrief()
    grade = Grader().graded(session.history(), session.assignment)
    session.close()
    return DrillResult(
        title=drill.title,
        job=drill.job.title,
        seed=drill.seed,
        failure=failure,
        log=tuple(instructor.log),
        unplayed=instructor.left,
        grade=grade,
    )
