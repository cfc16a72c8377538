"""A job looked into: can it be found with what is allowed, does its solution get through, is that safe, and is the
wrong way caught by what it says.

What was found is kept by content: of the job, its site, the ways through it and the program.

Every outcome of every draw is looked at once, in as few plays as that takes.
"""

from __future__ import annotations

import contextlib
import functools
import hashlib
import json
import tempfile
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict, dataclass, field
from multiprocessing import get_context
from pathlib import Path
from typing import TYPE_CHECKING, Final

import trainer
from sim.errors import GudgeonError
from sim.kernel import compiler
from sim.site import read_yaml, site_digest
from trainer import kept

if TYPE_CHECKING:
    from sim.site.document import Document
    from trainer.diagnosis.site_table import SiteTable
    from trainer.diagnosis.solvable import Worth
    from trainer.grading import Grade
    from trainer.job import Job, Resolved, Solution

MOST_KEPT: Final = 400
"""Results kept of jobs."""

NEVER_FALSE: Final = ("safety",)
"""Parts of a grade in which a solution may lose nothing."""

LEAVING: Final = {"shown": "release, stop, lamp, freeing a person, monthly checks"}
"""What whoever leaves without an end says he has shown."""

Far = Callable[[str], None]
"""Told in a word what is done now."""


@dataclass
class Looked:
    """What came of looking into one job: plain data, so that it can be kept."""

    wrong: list[str] = field(default_factory=list)
    """Whole sentences with file and line; any of them and the job is no good."""
    heed: list[str] = field(default_factory=list)
    """Whole sentences with file and line that the author should know."""
    told: list[str] = field(default_factory=list)
    """What finding each hidden cause takes."""
    again: bool = False
    """Whether this is what was kept from before."""


def look_into_all(jobs: Sequence[Job], folder: Path, far: Far) -> Iterator[Looked]:
    """Look into jobs, on all cores, in their order. Whatever is done is kept, so that who stops goes on from there.

    Tables come first, each made by all cores, since one serves many jobs. Raises as `look_into`.
    """
    if len(jobs) == 1:
        yield look_into(jobs[0], folder, far)
        return
    known = [_known(_place(job, folder), far) for job in jobs]
    left = [job for job, each in zip(jobs, known, strict=True) if each is None]
    _tables_first(left, folder, far)
    far("")
    # without work no process is started
    with ProcessPoolExecutor(mp_context=get_context("spawn"), initializer=compiler.load) as crew:
        found = crew.map(_look_into_quietly, [job.path for job in left], [folder] * len(left))
        try:
            for each in known:
                yield each or next(found)
        finally:
            crew.shutdown(cancel_futures=True)


def _look_into_quietly(file: Path, folder: Path) -> Looked:
    """What one process of many does: which of them would be heard?"""
    from trainer.job import load_job

    return look_into(load_job(file), folder, lambda _words: None)


def _tables_first(jobs: Sequence[Job], folder: Path, far: Far) -> None:
    """The tables of the sites of all jobs that hide anything."""
    from trainer.diagnosis.keeping import Tables

    tables = Tables(folder / "tables", far)
    hiding = [job for job in jobs if any(each.arrival.faults for each in _draws(job))]
    sites = {site_digest(job.base_site): job.base_site for job in hiding}
    for number, site in enumerate(sites.values(), start=1):
        with contextlib.suppress(GudgeonError):  # its jobs are looked into one by one, and say so with file and line
            about = f"{site.name}, site {number} of {len(sites)}: faults and readings"
            tables.get(site, lambda done, of, about=about: far(f"{about}, part {done + 1} of {of}"))  # type: ignore[misc]


def look_into(job: Job, folder: Path, far: Far) -> Looked:
    """Look into a job; what is known of the same content isn't worked out again.

    Raises ScenarioError where what it names can't be read any more. `folder`: where results and tables are kept.
    """
    from trainer.diagnosis.solvable import allowed_in, on_average

    place = _place(job, folder)
    known = _known(place, far)
    if known is not None:
        return known
    looked = Looked()
    document = read_yaml(job.path)
    table: SiteTable | None = None
    for number, resolved in enumerate(_draws(job)):
        label = f"outcome {number + 1}"
        table = _weighed(looked, document, resolved, label, folder, far) or table
        _played(looked, document, resolved, label, far)
        if not number:
            _caught(looked, document, resolved, far)
    if table is not None:
        steps, minutes = on_average(table, allowed_in(job))
        looked.told.append(
            f"all that can fail there, as often as it does: on average {steps:.1f} measurements, {minutes:.1f} min"
        )
    _keep(place, looked)
    return looked


def _draws(job: Job) -> Iterator[Resolved]:
    """The job as often as it takes to have each outcome of each draw once; the first pass comes first."""
    from trainer.job.draw import resolved_with

    for number in range(max((len(draw.one_of) for draw in job.draw), default=1)):
        yield resolved_with(job, 0, tuple(d.one_of[(d.first + number) % len(d.one_of)] for d in job.draw))


# -- can it be found -----------------------------------------------------------------------------------------


def _weighed(
    looked: Looked, document: Document, resolved: Resolved, label: str, folder: Path, far: Far
) -> SiteTable | None:
    """Whether what is hidden can be found with what is allowed; the table that tells it."""
    hidden = [(each.fault, each.share) for each in resolved.arrival.faults]
    if not hidden:
        looked.told.append(f"{label}: nothing failed, so nothing is to be found")
        return None
    from trainer.diagnosis.keeping import Tables
    from trainer.diagnosis.solvable import allowed_in, worth

    def told(done: int, of: int) -> None:
        far(f"{resolved.site.name}: faults and readings, part {done + 1} of {of}")

    tables = Tables(folder / "tables", far)
    for site in (resolved.job.base_site, resolved.site):
        try:
            table = tables.get(site, told)
        except GudgeonError as error:
            looked.wrong.append(f"{document.where(('site',))}: {label}: no table can be made of this gate: {error}")
            return None
        if all(name in table.causes for name, _ in hidden):
            for each in worth(table, hidden, allowed_in(resolved.job)):
                _say(looked, document, each, label)
            return table
    missing = next(name for name, _ in hidden if name not in table.causes)
    where = document.where(("arrival", "faults"))
    looked.wrong.append(f"{where}: {label}: '{missing}' can't be on this gate once it is commissioned; another fault")
    return None


def _say(looked: Looked, document: Document, found: Worth, label: str) -> None:
    where = document.where(("tools",) if "tools" in document.data else ("allowed",))
    names = ", ".join(found.alike)
    if not found.solvable:
        looked.wrong.append(
            f"{where}: {label}: with what is allowed '{found.cause}' can't be told from: {names}; allow what its own "
            "measurement needs (`gudgeon faults` names it), or another fault"
        )
    elif found.alike:
        looked.heed.append(
            f"{where}: {label}: only its own measurement (`gudgeon faults` names it) tells '{found.cause}' from: "
            f"{names}"
        )
    looked.told.append(
        f"{label}: '{found.cause}': {found.steps} measurements, {found.minutes:.1f} min for somebody who takes the "
        "best next each time"
    )


# -- does its solution get through ---------------------------------------------------------------------------


def _played(looked: Looked, document: Document, resolved: Resolved, label: str, far: Far) -> None:
    """Play the reference solution and grade it."""
    from trainer.job import reference_solution

    where = document.where(("solution",))
    solution = reference_solution(resolved)
    if solution is None:
        if resolved.job.acceptance:
            looked.wrong.append(
                f"{where}: {label}: there is no solution, so nobody has seen that this can be done; write one into "
                "the folder `solutions` and name it"
            )
        return
    far(f"{resolved.job.title}: the solution, {label}")
    grade = _graded(looked, document, resolved, solution, f"{label}: the solution")
    for each in grade.findings if grade is not None else ():
        if each.outcome in ("failed", "marginal"):
            unsafe = each.part in NEVER_FALSE or each.grave
            what = "the solution does what is unsafe" if unsafe else "the solution doesn't get through"
            looked.wrong.append(f"{where}: {label}: {what}: {each.title}: {each.what}")


def _caught(looked: Looked, document: Document, resolved: Resolved, far: Far) -> None:
    """Play the wrong way and see that what it says catches it does; `resolved`: the first pass."""
    from trainer.job import usual_mistake

    mistake = usual_mistake(resolved)
    if mistake is None:
        return
    where = f"{document.where(('mistake',))}: the wrong way"
    far(f"{resolved.job.title}: the wrong way")
    grade = _graded(looked, document, resolved, mistake, "the wrong way")
    if grade is None:
        return
    found = {each.name for each in grade.findings if each.outcome in ("failed", "marginal")}
    missing = sorted(set(mistake.fails) - found)
    if missing:
        named = ", ".join(f"'{name}'" for name in missing)
        caught = ", ".join(f"'{name}'" for name in sorted(found)) or "nothing"
        looked.wrong.append(f"{where} is not caught by {named}; it is by {caught}: mend `fails`, or the wrong way")
    if grade.result == "competent":
        looked.wrong.append(f"{where} gets through all the same; another mistake, or more `acceptance`")


def _graded(looked: Looked, document: Document, resolved: Resolved, way: Solution, label: str) -> Grade | None:
    """The grade of a way through a job; whoever goes a wrong one leaves at its end. None where it can't be gone: that
    is then told."""
    from trainer.grading.judge import Grader
    from trainer.session.desk import Desk
    from trainer.session.play import Hands

    with tempfile.TemporaryDirectory(prefix="gudgeon-") as own:
        try:
            session = Desk(Grader(), Path(own)).begin(resolved, resolved.job.path.stem)
        except GudgeonError as error:
            where = document.where(("arrival",))
            looked.wrong.append(f"{where}: {label.partition(':')[0]}: the gate can't be found like this: {error}")
            return None
        try:
            Hands(session).play(way.steps)
            if way.fails and not session.world.ended:
                session.release_all()
                session.do("hand over", LEAVING)
            session.finish()
            return Grader().graded(session.history(), session.assignment)
        except GudgeonError as error:
            where = document.where(("mistake" if way.fails else "solution",))
            looked.wrong.append(f"{where}: {label} stops: {error}")
            return None
        finally:
            session.close()


# -- kept ------------------------------------------------------------------------------------------------------


def _place(job: Job, folder: Path) -> Path:
    """Where the result of a job is kept."""
    return folder / "checks" / f"{_content(job)}.json"


def _content(job: Job) -> str:
    """Fingerprint of all that a result hangs on: the job, its site, the ways through it, and the program."""
    from trainer.job import job_digest
    from trainer.job.solution import mistake_path

    text = hashlib.blake2b(f"{job_digest(job)}\0{_program()}\0{job.path}".encode(), digest_size=16)
    text.update(job.path.read_bytes())
    names = {job.solution, *(choice.solution for draw in job.draw for choice in draw.one_of)}
    files = [job.path.parent / "solutions" / name for name in sorted(name for name in names if name)]
    for file in (*files, *([mistake_path(job)] if job.mistake is not None else [])):
        text.update(file.name.encode() + b"\0" + file.read_bytes())
    return text.hexdigest()


@functools.cache
def _program() -> str:
    """Fingerprint of the program's source, but for what only draws, prints or translates."""
    from trainer.diagnosis.keeping import source_digest

    text = hashlib.blake2b(source_digest().encode(), digest_size=16)
    root = Path(trainer.__file__).parent
    for room in ("cli/deep.py", "diagnosis", "grading", "job", "session"):
        for path in sorted((root / room).rglob("*.py")) if (root / room).is_dir() else [root / room]:
            text.update(path.relative_to(root).as_posix().encode() + b"\0" + path.read_bytes())
    return text.hexdigest()


def _known(file: Path, far: Far) -> Looked | None:
    """What was kept; nothing where there is none or it is damaged, which is told, and then it is looked into anew."""
    try:
        data = json.loads(file.read_text(encoding="utf-8"))
        kept.touch(file)
        return Looked(list(data["wrong"]), list(data["heed"]), list(data["told"]), True)
    except OSError:
        return None
    except (ValueError, KeyError, TypeError) as error:
        far(f"{file}: what was kept is damaged ({error}); it is worked out anew")
        return None


def _keep(file: Path, looked: Looked) -> None:
    """Write a result whole or not at all; a folder that can't be written means that it is worked out each time."""
    try:
        kept.put(file, json.dumps(asdict(looked), ensure_ascii=False).encode(), MOST_KEPT)
    except OSError as error:
        looked.heed.append(f"{file}: can't be kept ({error.strerror}); it is worked out each time")
