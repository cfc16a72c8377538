"""Where somebody stands, at any moment: the acceptance list of a job, and the steps of its guide."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sim.errors import DataError, nearest_right
from sim.world.history import History
from trainer.grading.checks.catalogue import ACCEPTANCE, MILESTONES, judged
from trainer.grading.checks.check import Check
from trainer.grading.story import Story
from trainer.session.acceptance import CheckView
from trainer.session.view import Step

SHOWN = {"marginal": "passed", "not applicable": "not yet"}
"""How a state reads on the acceptance list, where it differs."""


def check_names() -> tuple[str, ...]:
    """What a job's acceptance may name."""
    return tuple(ACCEPTANCE)


def step_names() -> tuple[str, ...]:
    """What a guide's step may wait for: acceptance checks and milestones."""
    return (*ACCEPTANCE, *MILESTONES)


def named_check(name: str, *, milestones: bool = False) -> Check:
    """The check of that name. Raises DataError naming the nearest right one."""
    known = {**ACCEPTANCE, **MILESTONES} if milestones else ACCEPTANCE
    if name in known:
        return known[name]
    raise DataError(
        f"there is no check '{name}'{nearest_right(name, known, otherwise='; there are: ' + ', '.join(known))}"
    )


def acceptance_states(history: History, names: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """(check, `not yet | passed | stale | failed`) as it stands now. Raises DataError for an unknown name."""
    return tuple((check.name, check.state) for check in acceptance_checks(Story(history), names))


def acceptance_checks(story: Story, names: Iterable[str]) -> tuple[CheckView, ...]:
    """Each check as it stands now, with what is shown so far, when it was last shown, and how it is shown.

    Raises DataError for an unknown name.
    """
    found = []
    for name in names:
        check = named_check(name)
        verdict, _ = judged(check, story)
        last = max((each.at for each in verdict.evidence), default=None)
        state = SHOWN.get(verdict.state, verdict.state)
        found.append(CheckView(name, state, verdict.what, last, check.instead))
    return tuple(found)


def guide_steps(story: Story, steps: Sequence[tuple[str, str]]) -> tuple[Step, ...]:
    """Steps of a guide, each given as (sentence, check it waits for): done by what happened, never by a tick."""
    found = []
    for text, name in steps:
        verdict, _ = judged(named_check(name, milestones=True), story)
        found.append(Step(text, verdict.state in ("passed", "marginal")))
    return tuple(found)
