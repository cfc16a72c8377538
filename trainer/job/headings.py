"""What a list of jobs shows of each: read once a file, and kept until the file changes.

Reading and checking a whole library takes seconds, and a front desk wants it at once. What is kept holds nothing that
the first lines of a job don't say; whoever opens a job reads and checks the file itself.
"""

from __future__ import annotations

import json
import logging
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, Final

from sim.errors import ScenarioError
from trainer import kept

log = logging.getLogger(__name__)

FORM: Final = "gudgeon-headings/1"
"""What is kept, and how: raised when either changes."""

LARGEST_BYTES: Final = 4_000_000
"""A kept file larger than this is not read [bytes]."""

LAST: Final = 1000
"""Place in the list of a job that can't be read: behind all others."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A job as a list shows it."""

    title: str
    order: int
    grade: str = ""
    family: str = ""
    minutes: int = 0
    about: str = ""
    """The brief; or why the file can't be used."""
    usable: bool = True


def headings(paths: Iterable[Path]) -> dict[Path, Heading]:
    """Of each job file its heading. A file that can't be used has one that says why."""
    before = _kept()
    found: dict[Path, Heading] = {}
    entries: dict[str, list[Any]] = {}
    anew = False
    for path in paths:
        where, mark = str(path.resolve()), _mark(path)
        entry = before.get(where)
        if mark is not None and entry is not None and entry[:2] == mark:
            heading = Heading(**entry[2])
        else:
            heading, anew = _read(path), True
        found[path] = heading
        if mark is not None:
            entries[where] = [*mark, asdict(heading)]
    if anew:
        _keep({**before, **entries})
    return found


def _read(path: Path) -> Heading:
    """From the file itself: its own keys are checked, and what they name elsewhere is not."""
    from sim.site import read_yaml, validate
    from trainer.job.models import Job

    try:
        job = validate(read_yaml(path), Job)
    except ScenarioError as error:
        return Heading(path.stem, LAST, about=str(error), usable=False)
    return Heading(job.title, job.order, job.grade, job.family or "", job.minutes, job.brief.strip())


def _mark(path: Path) -> list[int] | None:
    """What tells that a file has changed: its size [bytes] and when it was written [ns]; None if it isn't there."""
    try:
        status = path.stat()
    except OSError:
        return None
    return [status.st_size, status.st_mtime_ns]


def _place() -> Path:
    return kept.folder() / "jobs.json"


def _kept() -> dict[str, list[Any]]:
    """What was kept: file, [size, written, heading]. What is missing or damaged is nothing, and is read anew."""
    place = _place()
    try:
        if place.stat().st_size > LARGEST_BYTES:
            return {}
        data = json.loads(place.read_text(encoding="utf-8"))
        if data["form"] != FORM:
            return {}
        files: dict[str, list[Any]] = {
            str(name): [int(e[0]), int(e[1]), dict(e[2])] for name, e in data["files"].items()
        }
        for entry in files.values():
            Heading(**entry[2])
    except FileNotFoundError:
        return {}
    except (OSError, ValueError, KeyError, TypeError, IndexError, AttributeError) as error:
        log.warning("%s can't be used (%s); the jobs are read anew", place, error)
        return {}
    return files


def _keep(files: dict[str, list[Any]]) -> None:
    """For the next time; what can't be written is read again then. Files that are gone are forgotten."""
    place = _place()
    still = {name: entry for name, entry in files.items() if Path(name).is_file()}
    try:
        kept.put(place, json.dumps({"form": FORM, "files": still}).encode())
    except OSError as error:
        log.warning("%s can't be written (%s)", place, error)
