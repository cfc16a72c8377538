"""A solution: the steps with which somebody who knows how carries a job out. Played, it must get full marks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import Field

from sim.site import Document, read_yaml, validate
from sim.site.complaints import refuse
from sim.site.fields import OURS, Frozen, choice, part
from trainer.job.conditions import Reading
from trainer.job.draw import Resolved
from trainer.job.models import FileName, Job, Name, SheetValue
from trainer.job.script import Step
from trainer.job.steps import read_steps


class SolutionFile(Frozen):
    """The keys of a solution file; its steps are read one by one."""

    format: Literal["gudgeon-solution/1"] = choice("gudgeon-solution/1", "format: gudgeon-solution/1", OURS)
    job: FileName = part("the job's file name", OURS)
    about: str | None = part("what it shows", OURS, default=None)
    fails: Annotated[tuple[Name, ...], Field(strict=False)] = part(
        "of a mistake: the checks and rules that catch it, by their names", OURS, most=20, default=()
    )
    steps: Annotated[tuple[Any, ...], Field(strict=False, min_length=1)] = part("what is done", OURS, most=1000)


@dataclass(frozen=True, slots=True)
class Solution:
    """A solution ready to be played."""

    path: Path
    job: str
    """The job's file name."""
    about: str
    steps: tuple[Step, ...]
    fails: tuple[str, ...] = ()
    """Of a mistake: names of the findings that catch it."""


def job_of(document: Document) -> str:
    """File name of the job that a solution is for. Raises ScenarioError where the head of the file is no good."""
    return validate(document, SolutionFile).job


def load_solution(path: str | Path, values: Mapping[str, SheetValue] | None = None) -> Solution:
    """The solution in a file, with what was drawn filled in. Raises ScenarioError with every problem."""
    return solution_in(read_yaml(path), values or {})


def solution_in(document: Document, values: Mapping[str, SheetValue]) -> Solution:
    """The solution in a document that was read already, with these values filled in."""
    header = validate(document, SolutionFile)
    reading = Reading(document, values)
    steps = read_steps(reading, document.data["steps"], drill=False)
    if reading.problems:
        raise refuse(reading.problems)
    return Solution(Path(document.path), header.job, header.about or "", steps, header.fails)


def solution_path(resolved: Resolved) -> Path | None:
    """Where the reference solution for what was drawn is, or None."""
    file = resolved.solution
    return None if file is None else resolved.job.path.parent / "solutions" / file


def reference_solution(resolved: Resolved) -> Solution | None:
    """The job's own solution for what the seed has drawn, or None when the job has none."""
    path = solution_path(resolved)
    return None if path is None else load_solution(path, resolved.values)


def usual_mistake(resolved: Resolved) -> Solution | None:
    """The obvious wrong way through the job, or None when it shows none. It is written for the first pass, seed 0."""
    return None if resolved.job.mistake is None else load_solution(mistake_path(resolved.job), resolved.values)


def mistake_path(job: Job) -> Path:
    """Where the wrong way is. Only for a job that shows one."""
    return job.path.parent / "mistakes" / str(job.mistake)
