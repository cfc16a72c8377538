"""The front desk: which jobs there are, starting one, going on with one that was left."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from shutil import rmtree

from platformdirs import user_data_path

from sim.errors import JournalError
from sim.said import said
from sim.site import dump_site, site_digest
from sim.world.actions import Action
from sim.world.catalogue.survey import HINT
from trainer.job import (
    JOB,
    FreeYard,
    Resolved,
    job_digest,
    listed_jobs,
    load_job,
    load_named_job,
    models,
    reference_solution,
    resolve,
    write_free_yard,
)
from trainer.job.free_yard import found_with
from trainer.job.headings import Heading
from trainer.session.assignment import Adviser, Assignment, Judge, Mode
from trainer.session.attempt import RESULT, About, best_mark, now, write_about
from trainer.session.branches import living
from trainer.session.building import build_world, recorded, without_each
from trainer.session.choices import FaultCard, SiteCard, fitting, site_in, sites
from trainer.session.journal import FILE, Header, Journal, read_journal
from trainer.session.otherwise import Otherwise
from trainer.session.play import Hands
from trainer.session.session import ALL_KINDS, Session
from trainer.session.van import Van
from trainer.session.view import View

PHYSICS = "5"
"""Raised whenever the same journal would no longer give the same run."""

FREE = "free-yard"
"""The name under which free yards are kept; no job's file can be called so."""

ENDS = frozenset({"hand over", "make safe"})
"""How a job ends; a free yard has none to end."""

VISIBLE = ("name", "setting", "opening_width_m", "opens_towards", "leaves", "walls")
"""What of a site anyone standing in the yard can see; only this goes into a journal's header."""


@dataclass(frozen=True, slots=True)
class JobCard:
    """A job as the front desk lists it."""

    name: str
    title: str
    grade: str
    minutes: float
    best: float | None = None
    """Best score so far, of 100; None before the first finished attempt."""
    unfinished: bool = False
    about: str = ""
    """What is asked; or why the job can't be opened."""
    draw: int = 0
    """What is drawn next: 0, the job as it is taught, until it was finished once."""
    family: str = ""
    """What it is about; empty for a job that doesn't say."""


@dataclass(slots=True)
class Desk:
    """Starts and resumes sessions; keeps each attempt in a folder of its own under `folder`."""

    judge: Judge | None = None
    folder: Path = field(default_factory=lambda: Path(user_data_path("gudgeon")) / "sessions")
    publish: Callable[[View, Path], object] | None = None
    """Writes the report of a finished attempt into its folder."""
    who: str = ""
    """Who is at work, for the learning record; empty where nobody says."""
    advises: Callable[[Resolved], Adviser] | None = None
    """Who gives hints in a job that asks for a cause; nobody where there is none."""

    def jobs(self) -> list[JobCard]:
        """Every job with what is done of it."""
        return [self._card(path, heading) for path, heading in listed_jobs().items()]

    def start(self, name: str, mode: Mode = "practice", seed: int | None = None) -> Session:
        """Begin a job. Without a seed the first pass is seed 0, every later one draws anew.

        Raises ScenarioError if the job or its site can't be read.
        """
        job = load_named_job(name)
        stem = job.path.stem
        if seed is None:
            seed = len(self._attempts(stem))
        return self.begin(resolve(job, seed), stem, mode)

    def begin(self, resolved: Resolved, stem: str, mode: Mode = "practice") -> Session:
        """Begin what is resolved already; its attempts are kept under the name `stem`. Drills come in here."""
        folder, job = self._fresh(stem), resolved.job
        journal = Journal.create(folder, _header(resolved, stem, mode))
        try:
            write_about(folder, About(stem, job.title, job.family or "", job.grade, self.who, now()))
            return self._session(resolved, stem, mode, journal)
        except BaseException:
            journal.close()
            raise

    def _session(self, resolved: Resolved, stem: str, mode: Mode, journal: Journal) -> Session:
        build = partial(build_world, resolved)
        judge, publish = (self.judge, self.publish) if resolved.job.graded else (None, None)
        assignment = _assignment(resolved, stem, mode)
        if self.advises is not None and "cause found" in resolved.job.acceptance:
            assignment = replace(assignment, adviser=self.advises(resolved))
        return Session(assignment, build, journal, judge, publish)

    def start_yard(
        self, site: str, faults: Sequence[tuple[str, float]] = (), commissioned: bool = True, seed: int = 0
    ) -> Session:
        """A free yard on the site in a file, with these faults (name, how grave from 0 to 1): nothing is graded.

        Raises ScenarioError if the site can't be used, DataError for an unknown fault, Refused for one that the gate
        can't have, CannotLearn where it can't be commissioned; nothing of it is kept then.
        """
        folder = self._fresh(FREE)
        try:
            file = write_free_yard(folder, FreeYard(Path(site), tuple(faults), commissioned, seed))
            return self._first(folder, resolve(load_job(file), seed))
        except BaseException:
            rmtree(folder, ignore_errors=True)  # it holds nothing yet but what was just written
            raise

    def _first(self, folder: Path, resolved: Resolved) -> Session:
        journal = Journal.create(folder, _header(resolved, FREE, "practice"))
        try:
            return self._session(resolved, FREE, "practice", journal)
        except BaseException:
            journal.close()
            raise

    def yard_left(self) -> str:
        """The place of the newest free yard that can be gone on with; empty if there is none."""
        attempt = self.left(FREE)
        return "" if attempt is None else str(read_journal(attempt).header.visible.get("name", ""))

    def left(self, stem: str) -> Path | None:
        """The newest attempt kept under a name that can be gone on with; None if there is none."""
        return next((attempt for attempt in reversed(self._attempts(stem)) if not _is_ended(attempt)), None)

    def resume_yard(self) -> Session:
        """Go on in the newest free yard. Raises JournalError if there is none."""
        return self.resume(FREE)

    def sites(self) -> list[SiteCard]:
        """Every site that is shipped."""
        return sites()

    def site(self, file: str) -> SiteCard:
        """The site in a file. Raises ScenarioError if it can't be used."""
        return site_in(file)

    def faults(self, site: str) -> Iterator[FaultCard]:
        """The faults that the gate of a site can have, one by one. Raises ScenarioError if its file is no good."""
        return fitting(site)

    def resume(self, name: str) -> Session:
        """Go on with the newest unfinished attempt at a job. Raises JournalError if there is none."""
        return self.reopen(self._left(name))

    def resume_as(self, name: str, resolved: Resolved, beside: Callable[[Session], None]) -> Session:
        """Go on with the newest unfinished attempt kept under a name that is no job's, at what is resolved already;
        `beside` is told of the session before it is played again. Drills come in here.

        Raises JournalError if there is none, or if it belongs to something else.
        """
        return self.reopen(self._left(name), resolved, beside)

    def _left(self, name: str) -> Path:
        attempt = self.left(name)
        if attempt is None:
            raise JournalError(said("there is no unfinished attempt at '{name}'", name=name))
        return attempt

    def reopen(
        self, attempt: Path, resolved: Resolved | None = None, beside: Callable[[Session], None] | None = None
    ) -> Session:
        """The session in a folder, replayed to where it was left; `resolved` where its header names no job.

        Raises JournalError if it belongs to another job text, site or physics: it is not replayed silently.
        """
        journal = Journal.open(attempt)
        try:
            header = journal.header
            if resolved is None:
                own = attempt / JOB  # a free yard has its job beside its journal
                resolved = resolve(load_job(own) if own.is_file() else load_named_job(header.job), header.seed)
            _same(attempt, header, _header(resolved, header.job, header.mode))
            session = self._session(resolved, header.job, header.mode, journal)
            if beside is not None:
                beside(session)
            session.replay()
        except BaseException:
            journal.close()
            raise
        return session

    def play(self, name: str, seed: int = 0, progress: Callable[[str], None] | None = None) -> Session:
        """A job's own reference solution, played headless to its end."""
        resolved = resolve(load_named_job(name), seed)
        solution = reference_solution(resolved)
        if solution is None:
            raise JournalError(said("the job '{name}' has no reference solution", name=name))
        session = self.start(name, "practice", seed)
        tell = progress or (lambda _line: None)
        Hands(session).play(solution.steps, lambda step: tell(step.place))
        return session

    def _card(self, path: Path, heading: Heading) -> JobCard:
        if not heading.usable:
            return JobCard(path.stem, path.stem, "", 0, about=heading.about)
        attempts = self._attempts(path.stem)
        return JobCard(
            path.stem,
            heading.title,
            heading.grade,
            heading.minutes,
            best_mark(attempts),
            unfinished=self.left(path.stem) is not None,
            about=heading.about,
            draw=sum((attempt / RESULT).is_file() for attempt in attempts),
            family=heading.family,
        )

    def _attempts(self, stem: str) -> list[Path]:
        return sorted(p for p in self.folder.glob(f"{stem}-[0-9]*") if (p / FILE).is_file())

    def _fresh(self, stem: str) -> Path:
        numbers = [int(p.name.rsplit("-", 1)[1]) for p in self.folder.glob(f"{stem}-[0-9]*")]
        return self.folder / f"{stem}-{max(numbers, default=0) + 1:04d}"


def _assignment(resolved: Resolved, stem: str, mode: Mode) -> Assignment:
    job = resolved.job
    return Assignment(
        name=stem,
        title=job.title,
        grade=job.grade,
        minutes=job.minutes,
        brief=job.brief.strip(),
        points=_points(resolved),
        acceptance=job.acceptance,
        steps=tuple((step.text, step.check) for step in job.steps),
        questions=tuple((q.question, q.answers) for q in job.questions),
        allowed=_allowed(job),
        graded=job.graded,
        cautions=job.cautions,
        mode=mode,
        seed=resolved.seed,
        solution=partial(_expert_acts, resolved),
        otherwise=Otherwise(without_each(resolved)),
        van=Van(_only(job.tools), _only(job.parts)),
    )


def _only(names: str | tuple[str, ...]) -> frozenset[str] | None:
    """What a job names, None where it says all."""
    return None if isinstance(names, str) else frozenset(names)


def _points(resolved: Resolved) -> tuple[str, ...]:
    """What is wanted; of a free yard what it was found with, said anew: a file keeps no parts of a sentence."""
    anew = found_with((failed.fault, failed.share) for failed in resolved.arrival.faults)
    return anew if anew == resolved.job.points else resolved.job.points


def with_bookwork(allowed: frozenset[str]) -> frozenset[str]:
    """Whoever may write in the notebook may also put right what stands there; so with what was concluded,
    and whoever is to conclude may ask for a hint."""
    allowed = allowed | {"change note", "strike note"} if "note" in allowed else allowed
    return allowed | {"take back conclusion", HINT} if "conclude" in allowed else allowed


def _expert_acts(resolved: Resolved) -> tuple[Action, ...]:
    solution = reference_solution(resolved)
    return () if solution is None else tuple(s.act for s in solution.steps if isinstance(s.act, Action))


def _allowed(job: models.Job) -> frozenset[str]:
    """Kinds of action that may be used in a job."""
    kinds = ALL_KINDS if job.allowed == "all" else with_bookwork(frozenset(job.allowed))
    return kinds if job.graded else kinds - ENDS


def _header(resolved: Resolved, stem: str, mode: Mode) -> Header:
    site = dump_site(resolved.site)
    record = recorded(resolved.arrival)
    return Header(
        product=product_version(),
        physics=PHYSICS,
        seed=resolved.seed,
        mode=mode,
        job=stem,
        job_digest=job_digest(resolved.job),
        site_digest=site_digest(resolved.site),
        controller="reference" if record is None else f"played-back record of {record.controller}",
        controller_digest=product_version() if record is None else record.digest,
        visible={key: site[key] for key in VISIBLE if key in site},
    )


def _same(attempt: Path, was: Header, now: Header) -> None:
    for what in ("physics", "job_digest", "site_digest"):
        if getattr(was, what) != getattr(now, what):
            raise JournalError(
                said(
                    "{attempt}: this attempt belongs to another {what} ({was}, now {now}); "
                    "it can be read, but not gone on with",
                    attempt=attempt,
                    what=what.replace("_", " "),
                    was=getattr(was, what),
                    now=getattr(now, what),
                )
            )


def _is_ended(attempt: Path) -> bool:
    try:
        return any(line.kind == "end" for line in living(read_journal(attempt).lines))
    except JournalError:
        return True  # a damaged journal is not offered for going on; it stays where it is


def product_version() -> str:
    """The version that is installed."""
    try:
        return version("gudgeon")
    except PackageNotFoundError:
        return "0"
