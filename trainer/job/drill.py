"""A drill: a job, a seed, and what the instructor does to it while a person, or a solution, is at work."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import Field

from sim.errors import ScenarioError
from sim.said import said
from sim.site import read_yaml, validate, with_changes
from sim.site.complaints import listing, nearest, refuse, shown
from sim.site.document import Document
from sim.site.fields import OURS, Frozen, choice, part, required_words
from trainer.job.conditions import Reading
from trainer.job.draw import Resolved, resolve
from trainer.job.models import CheckName, FileName, Job, Lines, Name
from trainer.job.reader import forbidden_steps, load_job
from trainer.job.script import Inject, Step
from trainer.job.solution import load_solution
from trainer.job.steps import read_steps


class DrillFile(Frozen):
    """The keys of a drill file; its steps are read one by one."""

    format: Literal["gudgeon-drill/1"] = choice("gudgeon-drill/1", "format of the file: gudgeon-drill/1", OURS)
    title: Name = required_words("the drill's title", 80, OURS)
    job: FileName = part("file in scenarios/jobs", OURS)
    seed: Annotated[int, Field(ge=0, le=2**31, description="what is drawn; 0 is the first pass")] = 0
    solution: FileName | Literal["person"] = part(
        "who is at work: person, or a file in the folder `solutions` beside the drill", OURS, default="person"
    )
    brief: str | None = part("replaces the job's brief", OURS, default=None)
    points: Lines | None = part("replaces the job's points", OURS, most=12, default=None)
    teaching: str | None = part("replaces the job's teaching point", OURS, default=None)
    minutes: Annotated[int, Field(ge=1, le=480, description="replaces the job's expected time [min]")] | None = None
    acceptance: Annotated[tuple[CheckName, ...], Field(strict=False, min_length=1)] | None = part(
        "replaces the job's acceptance", OURS, default=None
    )
    allowed: Literal["all"] | Annotated[tuple[Name, ...], Field(strict=False)] | None = part(
        "replaces the job's allowed actions", OURS, default=None
    )
    steps: Annotated[tuple[Any, ...], Field(strict=False, min_length=1)] = part(
        "what the instructor does", OURS, most=500
    )


@dataclass(frozen=True, slots=True)
class Drill:
    """A drill ready to be run."""

    path: Path
    title: str
    job: Job
    """The job, with the drill's brief, acceptance and allowed actions in place of its own."""
    seed: int
    solution: Path | None
    """The solution file that is played headless; None: a person is at work."""
    steps: tuple[Step, ...]

    @property
    def resolved(self) -> Resolved:
        """The job as the drill's seed decides it."""
        return resolve(self.job, self.seed)


def load_drill(path: str | Path) -> Drill:
    """The drill in a file. Raises ScenarioError with every problem when it, or something it names, can't be used."""
    document = read_yaml(path)
    header = validate(document, DrillFile)
    job = _for_drill(load_job(_job_path(document, header)), header)
    resolved = resolve(job, header.seed)
    reading = Reading(document, resolved.values)
    steps = read_steps(reading, document.data["steps"], drill=True)
    problems = [*reading.problems, *_injections(steps, resolved)]
    solution = None if header.solution == "person" else Path(path).parent / "solutions" / header.solution
    if solution is not None:
        problems.extend(_solution(document, solution, resolved))
    if problems:
        raise refuse(problems)
    return Drill(Path(path), header.title, job, header.seed, solution, steps)


def _job_path(document: Document, header: DrillFile) -> Path:
    folder = Path(document.path).parent
    for path in (folder.parent / "jobs" / header.job, folder / header.job):
        if path.is_file():
            return path
    there = sorted(path.name for path in (folder.parent / "jobs").glob("*.yaml"))
    hint = nearest(header.job, there) or (said("; there are: {files}", files=listing(there)) if there else "")
    raise refuse(
        [
            document.complaint(
                ("job",), said("read {read}; there is no such file in jobs{hint}", read=shown(header.job), hint=hint)
            )
        ]
    )


def _for_drill(job: Job, header: DrillFile) -> Job:
    """The job as the drill wants it. A drill with its own acceptance has no guide: its steps are another job's."""
    update: dict[str, Any] = {
        key: value
        for key in ("brief", "points", "teaching", "minutes", "acceptance", "allowed")
        if (value := getattr(header, key)) is not None
    }
    if header.acceptance is not None:
        update["steps"] = tuple(step for step in job.steps if step.check in header.acceptance)
        if not {"every guard predicted", "every guard seen"} & set(header.acceptance):
            update["questions"] = ()
    return job.model_copy(update=update)


def _injections(steps: tuple[Step, ...], resolved: Resolved) -> list[str]:
    """Every change of the site gives a site that can stand; every guard that is tampered with is there."""
    out = []
    for step in steps:
        act = step.act
        if not isinstance(act, Inject):
            continue
        if act.what in ("site", "weather"):
            within = "weather." if act.what == "weather" else ""
            changes = {f"{within}{key}": value for key, value in act.changes.items()}
            try:
                with_changes(resolved.site, changes, f"{step.place} inject:")
            except ScenarioError as error:
                out.extend(error.problems)
        elif act.what in ("unplug", "cover") and resolved.site.guards.device(act.target) is None:
            out.append(
                said(
                    "{place}: {what}: no {target} is fitted on {site}",
                    place=step.place,
                    what=act.what,
                    target=act.target,
                    site=resolved.site.name,
                )
            )
    return out


def _solution(document: Document, path: Path, resolved: Resolved) -> list[str]:
    if not path.is_file():
        return [
            document.complaint(
                ("solution",), said("read {read}; there is no such file in solutions", read=shown(path.name))
            )
        ]
    try:
        solution = load_solution(path, resolved.values)
    except ScenarioError as error:
        return error.problems
    return forbidden_steps(resolved.job, solution.steps, "drill")
