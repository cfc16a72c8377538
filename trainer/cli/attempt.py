"""Attempts: a window to work in, or a solution played without one and graded."""

from __future__ import annotations

import os
from dataclasses import asdict, replace
from pathlib import Path
from typing import TYPE_CHECKING, Literal, NoReturn, cast

from sim.errors import GudgeonError
from trainer import CAUTION
from trainer.cli import printed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trainer.drills import Instructor
    from trainer.job import Competence, Drill, Resolved
    from trainer.reports.written import Written
    from trainer.session.assignment import Adviser
    from trainer.session.desk import Desk
    from trainer.session.session import Session
    from trainer.session.view import View
    from trainer.window.app import App
    from trainer.window.doors import Desk as WindowDesk
    from trainer.window.doors import DrillShelf, JobCard, SiteCard, WorkSession

MAIN_JOB = "first_run"
"""What is carried out headless when there is no display."""

PASSED = "competent"
"""The one result that counts as passed."""


class NoDisplay(GudgeonError):
    """Raised when no window can be opened; the message says why."""


def desk(folder: Path | None = None, who: str = "", competences: Path | None = None, hints: bool = False) -> Desk:
    """The front desk with grading at hand, and a college's list; attempts of `who` in `folder`, or where the person's
    own are kept. Whoever looks into a folder has `hints` only if wanted. Raises ScenarioError if the list can't be
    used."""
    from trainer.grading.judge import Grader
    from trainer.session.desk import Desk

    judge = Grader(_listed(competences))
    if folder is not None:
        return Desk(judge=judge, folder=folder, who=who, advises=_adviser if hints else None)
    return Desk(judge=judge, publish=_publish, who=who, advises=_adviser)


def _adviser(resolved: Resolved) -> Adviser:
    """Who gives hints; what is needed for it comes in when somebody asks."""
    from trainer.diagnosis.advising import Advice

    return Advice(resolved)


def _listed(competences: Path | None) -> Sequence[Competence]:
    if competences is None:
        return ()
    from trainer.grading import read_competences

    return read_competences(competences).competences


def _publish(view: View, folder: Path) -> None:
    """The report of a finished attempt, beside its journal; the drawing library comes in only here."""
    report(view, folder, folder)


def report(view: View, folder: Path, out: Path) -> Written:
    """Write page, print and pictures of the attempt in `folder`, with its day and whose it is. Raises OSError."""
    from datetime import datetime

    from trainer.reports import write_reports
    from trainer.session.attempt import read_about

    about = read_about(folder)
    if about is None:
        return write_reports(view, out)
    day = datetime.fromisoformat(about.ended or about.began).astimezone()
    return write_reports(view, out, when=f"{day:%d %B %Y}".lstrip("0"), who=about.who)


def open_window(
    job: str | None,
    mode: Literal["practice", "assessed"],
    seed: int | None,
    out: Path,
    who: str = "",
    competences: Path | None = None,
) -> None:
    """The window, on the list of jobs or straight in a job; without a display the job is played instead."""
    try:
        app, front = _opened(who, competences)
    except NoDisplay as why:
        print(f"{why}, so the job is carried out without a window.", flush=True)
        play(job or MAIN_JOB, None, seed or 0, out, False, competences)
    if job is not None:
        app.session = front.start(job, mode, seed)
        app.show_work()
    app.run()


def open_debrief(folder: Path, competences: Path | None) -> NoReturn:
    """The window on the debrief of an attempt that has ended, until it is closed. Raises NoDisplay."""
    from trainer.drills import look_back

    app, front = _opened(competences=competences)
    app.open(cast("WorkSession", look_back(folder, front)))
    app.run()
    raise SystemExit(0)


def _opened(who: str = "", competences: Path | None = None) -> tuple[App, Desk]:
    """A window that has been drawn once, and then its front desk: reading every job takes longer than a frame.

    Raises NoDisplay, saying why, where no window can be opened.
    """
    if not any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER")):
        raise NoDisplay("There is no display here")
    from trainer.window.app import App
    from trainer.window.preferences import Keeper, own_path
    from trainer.window.sound.speaker import Speaker

    keeper = Keeper(own_path())
    try:
        first = cast("WindowDesk", _NotYet())
        app = App(first, warm_up=_load_compiler, fast=True, keeper=keeper, speaker=Speaker())
    except RuntimeError as error:  # what the window's library raises when the display doesn't answer
        raise NoDisplay(f"The display does not answer ({error})") from error
    app.frame(0.0)
    front = desk(who=who, competences=competences)
    from trainer.drills.shelf import Shelf
    from trainer.records import Coach

    app.desk = cast("WindowDesk", front)
    app.shelf = cast("DrillShelf", Shelf(front))
    app.coach = Coach(front.folder, who)
    app.show_desk()
    return app, front


class _NotYet:
    """The front desk of a window that is only just open: nothing to choose from yet, so that nothing is begun."""

    def jobs(self) -> Sequence[JobCard]:
        """One line that says so."""
        from trainer.window.doors import JobCard

        return (JobCard("", "One moment", "", 0, about="The jobs are being read."),)

    def sites(self) -> Sequence[SiteCard]:
        """None yet."""
        return ()

    def yard_left(self) -> str:
        """None yet."""
        return ""


def drill(file: Path, solution: Path | None, person: bool, out: Path, as_json: bool, who: str = "") -> NoReturn:
    """Run a drill, print its graded result, end with an exit code: 0 only if it was passed.

    A person works in the window when she is asked for (`person`), or when the drill names no solution.
    """
    from trainer.drills import finish as graded
    from trainer.drills import play as played
    from trainer.job import load_drill

    script = load_drill(file)
    if solution is not None:
        script = replace(script, solution=solution)
    if person or script.solution is None:
        try:
            result = graded(script, *_at_work(script, who))
        except NoDisplay as why:
            printed.stop(f"{why}, and '{script.title}' is for a person; name a --solution instead")
    else:
        _load_compiler()
        result = played(script, desk(out / "session", who))
    if as_json:
        printed.as_json(result.as_base_types())
    else:
        print(result.as_text())
        print(CAUTION)
    raise SystemExit(0 if result.passed else 1)


def _at_work(script: Drill, who: str) -> tuple[Session, Instructor]:
    """A person in the window until she closes it, with the instructor beside her."""
    from trainer.drills import begin
    from trainer.drills.person import PersonAtWork
    from trainer.language import _

    app, front = _opened(who)
    session, instructor = begin(script, front)
    app.session = PersonAtWork(session, instructor, lambda words: app.root.toast(_(words)))
    app.show_work()
    app.run()
    return session, instructor


def _load_compiler() -> None:
    from sim.kernel import compiler

    compiler.load()


def play(
    job: str, solution: Path | None, seed: int, out: Path, as_json: bool, competences: Path | None = None
) -> NoReturn:
    """Play a solution (None: the job's own), print the graded result, write the reports, end with an exit code."""
    from trainer.job import load_named_job, load_solution, reference_solution, resolve
    from trainer.session.play import Hands, ScriptFailed

    resolved = resolve(load_named_job(job), seed)
    script = load_solution(solution, resolved.values) if solution else reference_solution(resolved)
    if script is None:
        printed.stop(f"the job '{resolved.job.title}' has no solution of its own; name one with --solution")
    front = desk(out / "session", competences=competences)
    _load_compiler()
    printed.note(f"Playing '{resolved.job.title}', seed {seed}, from {script.path.name}.")
    session = front.begin(resolved, resolved.job.path.stem)
    failure = ""
    try:
        Hands(session).play(script.steps)
    except ScriptFailed as error:
        failure = str(error)
    finish(session, failure, out, as_json)


def finish(session: Session, failure: str, out: Path, as_json: bool) -> NoReturn:
    """Print the result of a session that was played, write its reports, and end: 0 only if it was passed."""
    from trainer.reports import write_reports

    session.finish()
    view = session.observe()
    session.close()
    written = write_reports(view, out)
    result = view.debrief
    assert result is not None, "a session that has ended, with a judge, is graded"
    if as_json:
        files = [str(path) for path in (written.debrief, written.record, *written.pictures) if path]
        printed.as_json({"job": view.job, "seed": view.seed, "stopped": failure, **asdict(result), "files": files})
    else:
        printed.debrief(view.job, view.seed, result)
        if failure:
            print(f"The script stopped: {failure}")
        print(f"The debrief, the record and {len(written.pictures)} pictures are in {out}.")
        print(CAUTION)
    raise SystemExit(0 if result.result == PASSED and not failure else 1)
