"""Which competences of a college's list a graded attempt shows, read off its features."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from sim.said import joined, said
from trainer.grading import paperwork
from trainer.grading.checks.catalogue import ACCEPTANCE
from trainer.grading.reasoning import REASONING
from trainer.grading.safety.catalogue import RULES
from trainer.grading.score import Features
from trainer.job import Competence, Competences, load_competences
from trainer.session.lookback import CompetenceView

GOOD = ("passed", "marginal")
"""States in which a check shows what it asks for."""


def read_competences(path: str | Path) -> Competences:
    """The competences in a file. Raises ScenarioError with every problem, unknown checks and rules among them."""
    return load_competences(path, check_titles(), RULES)


def check_titles() -> dict[str, str]:
    """Every check that may be named, with its title: those a job asks for, and those judged beside them."""
    every = (*ACCEPTANCE.values(), *(each for group in REASONING.values() for each in group), *paperwork.CHECKS)
    return {check.name: check.title for check in every}


def standings(features: Features, competences: Sequence[Competence]) -> tuple[CompetenceView, ...]:
    """How each competence stands after one attempt.

    Not shown: a rule that it names was broken, or a check that it names was judged and did not pass. Shown: all that
    was judged of its checks passed, and something was. Not asked: nothing was, so nothing is known. A check that
    crashed, or could not apply, was not judged.
    """
    return tuple(_standing(features, each) for each in competences)


def _standing(features: Features, competence: Competence) -> CompetenceView:
    judged = {
        check["name"]: check["state"]
        for check in features["checks"]
        if check["name"] in competence.checks and not check["crashed"] and check["state"] != "not applicable"
    }
    broken = [breach["name"] for breach in features["breaches"] if breach["name"] in competence.rules]
    failed = [name for name, state in judged.items() if state not in GOOD]
    view = CompetenceView(competence.name, competence.about, "not asked", said("This job asked for nothing of it."))
    titles = check_titles()
    if broken:
        acts = joined([RULES[name].title for name in dict.fromkeys(broken)], "; ")
        return view.standing("not shown", said("Unsafe: {acts}.", acts=acts))
    if failed:
        names = joined([titles[name] for name in failed], "; ")
        return view.standing("not shown", said("Not passed: {checks}.", checks=names))
    if judged:
        names = joined([titles[name] for name in judged], "; ")
        return view.standing("shown", said("Passed: {checks}.", checks=names))
    return view
