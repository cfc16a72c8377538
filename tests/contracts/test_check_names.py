"""A job may name exactly the checks that grading has: a list on one floor, the judges on another."""

from __future__ import annotations

import pytest

from trainer.grading.checks.catalogue import ACCEPTANCE
from trainer.grading.checks.catalogue import MILESTONES as JUDGED_MILESTONES
from trainer.grading.guide import named_check
from trainer.job import CHECK_NAMES, job_files, load_job
from trainer.job.models import MILESTONES


def test_acceptance_checks_are_the_same_on_both_floors() -> None:
    """A new check is entered in both places, or this says which one was forgotten."""
    assert set(CHECK_NAMES) == set(ACCEPTANCE)
    assert len(CHECK_NAMES) == len(set(CHECK_NAMES))


def test_milestones_are_the_same_on_both_floors() -> None:
    """As for the checks."""
    assert set(MILESTONES) == set(JUDGED_MILESTONES)


@pytest.mark.parametrize("path", job_files(), ids=lambda path: path.stem)
def test_every_step_of_a_guide_can_be_judged(path: object) -> None:
    """No step waits for something that nobody looks at."""
    job = load_job(str(path))
    assert [named_check(step.check, milestones=True).name for step in job.steps] == [step.check for step in job.steps]
