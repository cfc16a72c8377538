"""Sentences and words of the trainer that stand in no call: templates of reports, checks and rules, words that data
are made of, and what the shipped scenarios tell whoever is at work.

They are read from the running code and from the files as they are loaded, so that a new one is gathered the day it is
added.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final, get_args

from jinja2.ext import babel_extract

ROOT: Final = Path(__file__).resolve().parents[2]

Found = Iterator[tuple[str, str]]
"""(sentence, where it stands)."""

OF_A_JOB = frozenset(
    {"title", "brief", "points", "teaching", "cautions", "text", "question", "answers", "right", "why", "holder"}
)
"""Keys of a job under which a person is told something."""


def in_templates() -> Found:
    """Sentences in the templates of reports."""
    for path in sorted((ROOT / "trainer" / "reports" / "templates").glob("*.html")):
        with path.open("rb") as template:
            for line, _called, given, _comments in babel_extract(template, ("_",), (), {}):
                sentence = given if isinstance(given, str) else next(each for each in given if each)
                yield sentence, f"{path.relative_to(ROOT)}:{line}"


def in_checks() -> Found:
    """What acceptance checks, milestones and rules say of themselves."""
    from trainer.grading.checks.catalogue import ACCEPTANCE, MILESTONES
    from trainer.grading.paperwork import CHECKS
    from trainer.grading.reasoning import REASONING
    from trainer.grading.safety.catalogue import RULES

    for each in (
        *ACCEPTANCE.values(),
        *MILESTONES.values(),
        *(each for group in REASONING.values() for each in group),
        *CHECKS,
        *RULES.values(),
    ):
        for sentence in (each.name, each.title, each.why, each.instead):
            yield sentence, f"check {each.name}"


def in_names() -> Found:
    """Words that data are made of and that people are shown as they are: parts, outcomes, states, grades, levels."""
    from sim.controller.settings import CATALOGUE as SETTINGS
    from sim.site import UserGroup
    from sim.site.activation import ACTIVATIONS, Level
    from sim.world.actions import CATALOGUE as ACTIONS
    from trainer.grading.finding import Outcome, Part, State
    from trainer.grading.weights import WEIGHTS
    from trainer.job.models import FAMILIES
    from trainer.session.assignment import Mode

    for words in (get_args(Part), get_args(Outcome), get_args(State), WEIGHTS, get_args(Mode)):
        for word in words:
            yield word, "the grade"
    for name in sorted({each.name for action in ACTIONS.values() for each in action.arguments if "_" in each.name}):
        yield name, "an act as evidence names it"
    for unit in sorted({setting.unit for setting in SETTINGS.values() if " " in setting.unit}):
        yield unit, "the sheet"
    for word in (*FAMILIES, *get_args(UserGroup), *ACTIVATIONS, *get_args(Level)):
        yield word, "a job"


def in_scenarios() -> Found:
    """What the scenarios that are shipped tell whoever is at work; invented names are left as they are."""
    from sim.site import load_site
    from trainer.job import job_files, load_drill, load_job, scenarios_folder
    from trainer.job.script import Freeze, Message

    for path in job_files():
        yield from told(load_job(path).model_dump(mode="json"), OF_A_JOB, f"job {path.stem}")
    for path in sorted((scenarios_folder() / "sites").glob("*.yaml")):
        yield load_site(path).setting, f"site {path.stem}"
    for path in sorted((scenarios_folder() / "drills").glob("*.yaml")):
        drill = load_drill(path)
        yield drill.title, f"drill {path.stem}"
        yield from told(drill.job.model_dump(mode="json"), OF_A_JOB, f"drill {path.stem}")
        for step in drill.steps:
            if isinstance(step.act, (Message, Freeze)):
                yield step.act.text, f"drill {path.stem}"


def told(data: Any, keys: frozenset[str], place: str, *, shown: bool = False) -> Found:
    """Every text below one of these keys, however deep it stands."""
    if isinstance(data, str):
        if shown:
            yield data.strip(), place
    elif isinstance(data, Mapping):
        for key, part in data.items():
            yield from told(part, keys, place, shown=key in keys)
    elif isinstance(data, (list, tuple)):
        for part in data:
            yield from told(part, keys, place, shown=shown)


SOURCES: Final = (in_templates, in_checks, in_names, in_scenarios)
