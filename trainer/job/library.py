"""Where the scenarios are: beside the source, or inside an installed package."""

from __future__ import annotations

import re
from pathlib import Path

from sim.said import said
from sim.site.complaints import listing, nearest, refuse
from trainer.job.headings import Heading, headings
from trainer.job.models import Job
from trainer.job.reader import load_job

FILE_STEM = re.compile(r"[a-z0-9][a-z0-9_]{0,60}")
"""What a job's file name may be, so that a name can't reach outside the folder."""


def scenarios_folder() -> Path:
    """The folder with `sites`, `jobs` and `drills`. Raises ScenarioError if neither place has it."""
    package = Path(__file__).resolve().parents[1]
    for folder in (package / "_installed" / "scenarios", package.parent / "scenarios"):
        if (folder / "jobs").is_dir():
            return folder
    raise refuse([said("{folder}: there is no folder with scenarios", folder=package.parent / "scenarios")])


def job_files(folder: Path | None = None) -> list[Path]:
    """Every job file, in the order of the list of jobs: by the job's `order`, then by file name.

    A file that can't be read stands at the end, so that whoever lists the jobs can say why.
    """

    return list(listed_jobs(folder))


def listed_jobs(folder: Path | None = None) -> dict[Path, Heading]:
    """Every job file with its heading, in the same order."""
    found = headings(((folder or scenarios_folder()) / "jobs").glob("*.yaml"))
    return dict(sorted(found.items(), key=lambda each: (each[1].order, each[0].name)))


def is_there(path: Path) -> bool:
    """Whether there is such a file or folder; with a name that none can have, there is not."""
    try:
        path.stat()
    except (OSError, ValueError):  # a path's own question passes on what a name too long for any file raises
        return False
    return True


def load_named_job(name: str, folder: Path | None = None) -> Job:
    """A job by its title, its file name or a path. Raises ScenarioError naming the nearest."""
    path = Path(name)
    if path.suffix == ".yaml" and is_there(path):
        return load_job(path)
    wanted = name.removesuffix(".yaml").lower().replace(" ", "_").replace("-", "_")
    named = (folder or scenarios_folder()) / "jobs" / f"{wanted}.yaml"
    if FILE_STEM.fullmatch(wanted) and named.is_file():  # the list of jobs would read every one of them
        return load_job(named)
    found = listed_jobs(folder)
    files = [path.stem for path in found]
    for path, heading in found.items():
        if heading.title.lower() == name.lower():
            return load_job(path)
    raise refuse(
        [
            said(
                "there is no job '{name}'{hint}; the jobs are: {jobs}",
                name=name,
                hint=nearest(name, files),
                jobs=listing(files),
            )
        ]
    )
