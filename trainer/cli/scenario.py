"""Reading scenario files as the program would, to say what is wrong with them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from sim.errors import DataError, ScenarioError
from trainer.cli.printed import progress, stop

if TYPE_CHECKING:
    from trainer.job import Job


def check(paths: Sequence[Path], deep: bool = False) -> int:
    """Print for each file under `paths` whether it is good, or everything that is wrong; how many are not.

    `deep`: look into each job as well, with word of progress on standard error.
    """
    from trainer.job.library import is_there

    files: dict[Path, None] = {}
    for path in paths:
        if not is_there(path):
            stop(f"there is no file or folder '{path}'")
        found = sorted(path.rglob("*.yaml")) if path.is_dir() else [path]
        if not found:
            stop(f"there is no file ending in .yaml under '{path}'")
        files.update(dict.fromkeys(found))
    bad = 0
    jobs: dict[Path, Job] = {}
    for file in files:
        try:
            print(f"{file}: a good {_read(file, jobs)}")
        except ScenarioError as error:
            bad += 1
            print(error)
    return bad + (_deep(list(jobs.values())) if deep else 0)


def _deep(jobs: list[Job]) -> int:
    """Look into jobs that can be read; how many are no good."""
    from sim.kernel import compiler
    from trainer import kept
    from trainer.cli.deep import look_into_all

    compiler.load()
    bad = 0
    with progress(len(jobs)) as (far, done):
        for number, (job, looked) in enumerate(zip(jobs, look_into_all(jobs, kept.folder(), far), strict=True)):
            done(number + 1)
            verdict = "no good" if looked.wrong else "can be done"
            print(f"{job.path}: {verdict}{' (as before)' if looked.again else ''}")
            for line in (*looked.wrong, *looked.heed):
                print(line)
            for line in looked.told:
                print(f"  {line}")
            bad += bool(looked.wrong)
    return bad


def _read(file: Path, jobs: dict[Path, Job]) -> str:
    """Read a file by what its key `format` says; the kind of file it is. `jobs`: those that were read, by their whole
    paths; one more comes into it, and a solution asks it for its job."""
    from sim.site import read_yaml
    from trainer.grading import read_competences
    from trainer.job import load_drill, load_job

    def read_job(file: Path) -> object:
        jobs[file.resolve()] = job = load_job(file)
        return job

    readers: dict[str, Callable[[Path], object]] = {
        "site": _read_site,
        "job": read_job,
        "solution": lambda file: _read_solution(file, jobs),
        "drill": load_drill,
        "competences": read_competences,
    }
    said = read_yaml(file).data.get("format", "")
    kind = str(said).removeprefix("gudgeon-").split("/")[0]
    if kind not in readers:
        allowed = ", ".join(f"gudgeon-{name}/1" for name in readers)
        raise ScenarioError([f"{file} format: read {said!r}; allowed: {allowed}"])
    readers[kind](file)
    return kind


def _read_site(file: Path) -> object:
    """A site whose drives can be stepped as well, as finely as they need it."""
    from sim.mechanics.constants import constants_of
    from sim.site import load_site

    site = load_site(file)
    try:
        constants_of(site)
    except DataError as error:
        raise ScenarioError([f"{file} {error}"]) from error
    return site


def _read_solution(file: Path, jobs: Mapping[Path, Job]) -> object:
    """A solution with what its job draws on the first pass; jobs stand beside the folder `solutions`."""
    from sim.site import read_yaml
    from trainer.job import load_named_job, load_solution, resolve
    from trainer.job.solution import job_of

    above = file.resolve().parent.parent
    job = job_of(read_yaml(file))
    beside = (above / job, above.parent / "jobs" / job)
    found = next((path for path in beside if path.is_file()), Path(job))
    return load_solution(file, resolve(jobs.get(found) or load_named_job(str(found)), 0).values)
