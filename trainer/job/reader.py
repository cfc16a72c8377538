"""A job from its file, checked against its site, its draws, its solution and the catalogue of actions."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from pathlib import Path

from sim.errors import ScenarioError
from sim.faults.catalogue import FAULTS
from sim.instruments.shelf import SHELF
from sim.said import said
from sim.site import Document, Site, load_site, read_yaml, site_digest, validate
from sim.site.complaints import listing, nearest, refuse, shown
from sim.site.document import Key
from sim.world.actions import CATALOGUE, Action
from sim.world.prompt import act_problem
from trainer.job.draw import Resolved, every_outcome, resolved_with
from trainer.job.models import CHECK_NAMES, Arrival, Job
from trainer.job.put_out import disorder
from trainer.job.script import Step
from trainer.job.sheet import sheet_problem
from trainer.job.solution import mistake_path, solution_in, solution_path

ORDER = "leaf order true"
"""The check that asks for two leaves."""

MOST_OUTCOMES = 256
"""More combinations of drawn outcomes than this can't be checked one by one."""


def load_job(path: str | Path) -> Job:
    """The job in a file. Raises ScenarioError with every problem when it, or something it names, can't be used."""
    document = read_yaml(path)
    job = validate(document, Job)
    job._path = Path(path)
    job._site = load_site(_site_path(document, job))
    problems = [*_lists(document, job), *_against_site(document, job.arrival, job.base_site, ("arrival",))]
    if not problems:
        problems = _outcomes(document, job)
    if problems:
        raise refuse(problems)
    return job


def job_digest(job: Job) -> str:
    """SHA-256 of the job with its undrawn site, hexadecimal. Its family only says where it is listed, and whether
    it is graded shows in what it asks for.
    """
    told = job.model_dump(mode="json", exclude_unset=False, exclude={"family", "graded"})
    text = json.dumps(told, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256((text + site_digest(job.base_site)).encode()).hexdigest()


def _site_path(document: Document, job: Job) -> Path:
    """The site file: in the folder `sites` beside the job's folder, or beside the job itself."""
    folder = Path(document.path).parent
    for path in (folder.parent / "sites" / job.site, folder / job.site):
        if path.is_file():
            return path
    there = sorted(path.name for path in (folder.parent / "sites").glob("*.yaml"))
    hint = nearest(job.site, there) or (said("; there are: {files}", files=listing(there)) if there else "")
    raise refuse(
        [
            document.complaint(
                ("site",), said("read {read}; there is no such file in sites{hint}", read=shown(job.site), hint=hint)
            )
        ]
    )


def _lists(document: Document, job: Job) -> list[str]:
    """Names that must be unique or stand in another list of the same file."""
    out: list[str] = []

    def say(key: Key, text: str) -> None:
        out.append(document.complaint(key, text))

    for key, values in (
        ("acceptance", list(job.acceptance)),
        ("draw", [draw.name for draw in job.draw]),
        ("questions", [question.question for question in job.questions]),
    ):
        for index, value in enumerate(values):
            if value in values[:index]:
                say((key, index), said("'{value}' stands here twice", value=value))
    if job.graded and not job.acceptance:
        say(("acceptance",), said("nothing is asked for; name a check, or say graded: false for a free yard"))
    if job.acceptance and not job.graded:
        say(("graded",), said("read false; a job with acceptance checks is graded"))
    for index, step in enumerate(job.steps):
        if step.check in CHECK_NAMES and step.check not in job.acceptance:
            say(
                ("steps", index, "check"),
                said("read '{check}'; it is not in this job's acceptance", check=step.check),
            )
    for inner in _of_two_leaves(job):
        say(
            inner,
            said("read '{order}'; {site} has one leaf, and no order of leaves", order=ORDER, site=job.base_site.name),
        )
    out.extend(_questions(document, job))
    if job.allowed != "all":
        for index, kind in enumerate(job.allowed):
            if kind not in CATALOGUE:
                say(
                    ("allowed", index),
                    said("there is no action '{kind}'{hint}", kind=kind, hint=nearest(kind, CATALOGUE)),
                )
    if job.tools != "all":
        shelf = [new().name for new in SHELF]
        for index, tool in enumerate(job.tools):
            if tool not in shelf:
                say(
                    ("tools", index),
                    said("there is no instrument '{tool}'{hint}", tool=tool, hint=nearest(tool, shelf)),
                )
    out.extend(_draws(document, job))
    return out


def _questions(document: Document, job: Job) -> list[str]:
    """What is wrong with what is to be predicted."""
    out: list[str] = []

    def say(key: Key, text: str) -> None:
        out.append(document.complaint(key, text))

    for index, question in enumerate(job.questions):
        if question.right not in question.answers:
            hint = nearest(question.right, question.answers)
            say(
                ("questions", index, "right"),
                said("read {read}; it is none of the answers{hint}", read=shown(question.right), hint=hint),
            )
        for word in (question.guard, question.moving):
            if word not in question.question.lower():
                say(
                    ("questions", index, "question"),
                    said("it must name what it asks about; '{word}' is not in it", word=word),
                )
        if job.base_site.guards.device(question.guard) is None:
            say(
                ("questions", index, "guard"),
                said("read '{guard}'; it is not fitted on {site}", guard=question.guard, site=job.base_site.name),
            )
    return out


def _of_two_leaves(job: Job) -> list[Key]:
    """Where a job asks for the order of the leaves on a site that has one."""
    if len(job.base_site.leaves.fitted) > 1:
        return []
    return [("acceptance", index) for index, name in enumerate(job.acceptance) if name == ORDER]


def _draws(document: Document, job: Job) -> list[str]:
    out = []
    for index, draw in enumerate(job.draw):
        if draw.first >= len(draw.one_of):
            out.append(
                document.complaint(
                    ("draw", index, "first"),
                    said(
                        "read {first}; allowed: a position from 0 to {most}",
                        first=draw.first,
                        most=len(draw.one_of) - 1,
                    ),
                )
            )
        names = set(draw.one_of[0].values)
        for position, picked in enumerate(draw.one_of):
            if set(picked.values) != names:
                differ = listing(sorted(names ^ set(picked.values)))
                key = ("draw", index, "one_of", position, "values")
                out.append(
                    document.complaint(
                        key, said("every outcome gives the same names; {differ} is not in all", differ=differ)
                    )
                )
    combinations = 1
    for draw in job.draw:
        combinations *= len(draw.one_of)
    if combinations > MOST_OUTCOMES:
        out.append(
            document.complaint(
                ("draw",),
                said(
                    "{combinations} combinations; at most {most} are checked",
                    combinations=combinations,
                    most=MOST_OUTCOMES,
                ),
            )
        )
    return out


def _against_site(document: Document, arrival: Arrival, site: Site, key: Key) -> list[str]:
    """What the arrival says that can't be on this site."""
    out: list[str] = []

    def say(inner: Key, text: str) -> None:
        out.append(document.complaint((*key, *inner), text))

    for which, leaf in zip(site.leaves.fitted, site.leaves.hung, strict=True):
        angle: float = getattr(arrival.angles_deg, which)
        if angle > leaf.open_stop_deg:
            say(
                ("angles_deg", which),
                said(
                    "read {angle:g}; the open stop of that leaf stands at {open_stop_deg:g}",
                    angle=angle,
                    open_stop_deg=leaf.open_stop_deg,
                ),
            )
    for inner in _of_no_leaf(arrival, site):
        say(inner, said("read of the inactive leaf; {site} has one leaf, the active one", site=site.name))
    tags = [item.tag for item in site.transmitters]
    for index, item in enumerate(arrival.transmitters):
        if item.tag not in tags:
            hint = nearest(item.tag, tags)
            say(
                ("transmitters", index, "tag"),
                said(
                    "read '{tag}'; in the box are: {tags}{hint}",
                    tag=item.tag,
                    tags=listing(tags) or said("none"),
                    hint=hint,
                ),
            )
    for index, guard in enumerate(arrival.unplugged):
        if site.guards.device(guard) is None:
            say(
                ("unplugged", index),
                said("read '{guard}'; it is not fitted on {site}, so it has no plug", guard=guard, site=site.name),
            )
    for name, value in arrival.sheet.items():
        problem = sheet_problem(name, value)
        if problem:
            say(("sheet", name), problem)
    return out + _before(document, arrival, site, key)


def _before(document: Document, arrival: Arrival, site: Site, key: Key) -> list[str]:
    """What is wrong with what failed, happened and was linked before anybody looks."""
    out: list[str] = []

    def say(inner: Key, text: str) -> None:
        out.append(document.complaint((*key, *inner), text))

    for index, failed in enumerate(arrival.faults):
        if failed.fault not in FAULTS:
            say(
                ("faults", index, "fault"),
                said(
                    "read '{fault}'; there is no such fault{hint}",
                    fault=failed.fault,
                    hint=nearest(failed.fault, FAULTS),
                ),
            )
    for index, each in enumerate(arrival.lived.acts if arrival.lived is not None else ()):
        problem = act_problem(each.act, each.given)
        if problem:
            say(("lived", "acts", index), problem)
    astray = disorder(arrival.lived.record) if arrival.lived is not None and arrival.lived.record else None
    if astray is not None:
        say(("lived", "record", "changes", astray[0]), astray[1])
    if "battery_linked" in arrival.model_fields_set and arrival.battery_linked and site.supply.battery is None:
        say(("battery_linked",), said("read true; there is no battery on {site}", site=site.name))
    return out


def _of_no_leaf(arrival: Arrival, site: Site) -> list[Key]:
    """Where the arrival speaks of a leaf that doesn't hang on this site."""
    found: list[Key] = []
    if "inactive" not in site.leaves.fitted:
        found += [("angles_deg", "inactive")] if arrival.angles_deg.inactive else []
        for key in ("released", "swapped_leads"):
            found += [(key, index) for index, name in enumerate(getattr(arrival, key)) if name == "inactive"]
        held = enumerate(arrival.in_hinge_gaps)
        found += [("in_hinge_gaps", index, "leaf") for index, each in held if each.leaf == "inactive"]
    return found


def _outcomes(document: Document, job: Job) -> list[str]:
    """Every combination of what can be drawn gives a site, an arrival and a solution that can be used."""
    out: list[str] = []
    files: dict[Path, Document] = {}
    for positions in every_outcome(job):
        chosen = tuple(draw.one_of[position] for draw, position in zip(job.draw, positions, strict=True))
        try:
            resolved = resolved_with(job, 0, chosen)
        except ScenarioError as error:
            words = "; ".join(f"{draw.name} {position}" for draw, position in zip(job.draw, positions, strict=True))
            where = document.where(_culprit(job, positions, error))
            out.extend(
                said("{where}: with {words}: {problem}", where=where, words=words, problem=problem)
                for problem in error.problems
            )
            continue
        out.extend(_against_site(document, resolved.arrival, resolved.site, ("arrival",)))
        path = solution_path(resolved)
        if path is not None:
            if path not in files:
                files[path] = read_yaml(path)
            out.extend(_solved(resolved, files[path]))
    return out or _mistaken(job)


def _mistaken(job: Job) -> list[str]:
    """What is wrong with the wrong way that a job shows, which is written for what the first pass draws."""
    if job.mistake is None:
        return []
    first = resolved_with(job, 0, tuple(draw.one_of[draw.first] for draw in job.draw))
    return _solved(first, read_yaml(mistake_path(job)))


def _culprit(job: Job, positions: tuple[int, ...], error: ScenarioError) -> Key:
    """The draw whose site keys the problems speak of, else all draws."""
    for index, position in enumerate(positions):
        for dotted in job.draw[index].one_of[position].site:
            if any(dotted in problem for problem in error.problems):
                return ("draw", index, "one_of", position, "site", dotted)
    return ("draw",)


def _solved(resolved: Resolved, document: Document) -> list[str]:
    """What is wrong with the job's own solution, for what is drawn here."""
    try:
        solution = solution_in(document, resolved.values)
    except ScenarioError as error:
        return error.problems
    if solution.job != resolved.job.path.name:
        return [
            document.complaint(
                ("job",), said("read '{job}'; allowed: {file}", job=solution.job, file=resolved.job.path.name)
            )
        ]
    return forbidden_steps(resolved.job, solution.steps, "job")


def forbidden_steps(job: Job, steps: Iterable[Step], what: str) -> list[str]:
    """Acts of a script that the job doesn't allow, or that write to the sheet what it can't hold."""
    out: list[str] = []
    for step in steps:
        if not isinstance(step.act, Action):
            continue
        if not job.allows(step.act.kind):
            out.append(
                said(
                    "{place}: '{kind}' is not allowed in this drill"
                    if what == "drill"
                    else "{place}: '{kind}' is not allowed in this job",
                    place=step.place,
                    kind=step.act.kind,
                )
            )
        if step.act.kind == "set":
            problem = sheet_problem(str(step.act["setting"]), step.act["value"])
            out.extend([said("{place}: set: {problem}", place=step.place, problem=problem)] if problem else [])
    return out
