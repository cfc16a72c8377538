"""A college's list of competences, from its file: what each of them is, and which checks and rules show it."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from sim.said import said
from sim.site import Document, read_yaml, validate
from sim.site.complaints import listing, nearest, refuse
from sim.site.fields import OURS, Frozen, choice, part, required_words
from trainer.job.models import Name


class Competence(Frozen):
    """One competence."""

    name: Name = required_words("what it is called", 80, OURS)
    about: str = required_words("what somebody who has it can do, in one sentence", 400, OURS)
    checks: Annotated[tuple[Name, ...], Field(strict=False, min_length=1)] = part(
        "checks that show it, by name: all that a job judges of them must pass", OURS, most=40
    )
    rules: Annotated[tuple[Name, ...], Field(strict=False)] = part(
        "unsafe acts, by name, any of which shows that it is not there yet", OURS, most=40, default=()
    )


class Competences(Frozen):
    """The keys of a file of competences."""

    format: Literal["gudgeon-competences/1"] = choice(
        "gudgeon-competences/1", "format of the file: gudgeon-competences/1", OURS
    )
    title: Name = required_words("what the list is called", 80, OURS)
    competences: Annotated[tuple[Competence, ...], Field(strict=False)] = part(
        "the competences, in the order in which they are printed", OURS, most=200
    )


def load_competences(path: str | Path, checks: Collection[str], rules: Collection[str]) -> Competences:
    """The competences in a file; `checks` and `rules` are the names there are.

    Raises ScenarioError with every problem if the file can't be used.
    """
    document = read_yaml(path)
    made = validate(document, Competences)
    nothing = document.complaint(("competences",), said("nothing stands here; name at least one competence"))
    problems: list[str] = [] if made.competences else [nothing]
    names = [each.name for each in made.competences]
    for index, each in enumerate(made.competences):
        if each.name in names[:index]:
            key = ("competences", index, "name")
            problems.append(document.complaint(key, said("'{value}' stands here twice", value=each.name)))
        problems += _names(document, index, "checks", each.checks, checks)
        problems += _names(document, index, "rules", each.rules, rules)
    if problems:
        raise refuse(problems)
    return made


def _names(
    document: Document, index: int, kind: Literal["checks", "rules"], read: tuple[str, ...], there: Collection[str]
) -> list[str]:
    """What is wrong with the checks or rules of a competence."""
    found = []
    for position, name in enumerate(read):
        key = ("competences", index, kind, position)
        if name in read[:position]:
            found.append(document.complaint(key, said("'{value}' stands here twice", value=name)))
        elif name not in there:
            told = said(
                "there is no check '{name}'{hint}" if kind == "checks" else "there is no safety rule '{name}'{hint}",
                name=name,
                hint=nearest(name, there) or said("; there are: {names}", names=listing(there)),
            )
            found.append(document.complaint(key, told))
    return found
