"""One job by two right ways: other instruments, another order, guards tripped otherwise, and the same marks.

The other way of each job lies in `routes`, in the form of a solution. What may differ is the time it took.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.trainer.played import missed, played
from trainer.grading import Grade
from trainer.job import Resolved, Solution, load_named_job, load_solution, reference_solution, resolve
from trainer.job.script import Step

ROUTES = sorted((Path(__file__).parent / "routes").glob("*.yaml"))

SAME = ("outcome", "safety")
"""Parts of the grade that ask what came of it and whether anybody was endangered, and never how it was found."""


def both(path: Path) -> tuple[Resolved, Solution, Solution]:
    """(the job as first drawn, its own solution, the other way)."""
    resolved = resolve(load_named_job(path.stem), 0)
    own = reference_solution(resolved)
    assert own is not None
    return resolved, own, load_solution(path, resolved.values)


def marks(grade: Grade) -> dict[str, tuple[float, float]]:
    """Of outcome and safety what was got, and of how much."""
    return {part: (got, of) for part, got, of in grade.parts if part in SAME}


def gates(grade: Grade) -> dict[str, tuple[str, bool]]:
    """Each check that the job asks for and how it stands; nothing of how it was shown."""
    return {each["name"]: (each["state"], each["crashed"]) for each in grade.features["checks"] if each["accepted"]}


def acts(steps: tuple[Step, ...]) -> list[str]:
    """What is done, in its order."""
    return [repr(step.act) for step in steps if step.act is not None]


@pytest.mark.parametrize("path", ROUTES, ids=lambda path: path.stem)
def test_two_right_ways_have_the_same_marks_for_outcome_and_safety(path: Path, tmp_path: Path) -> None:
    """The same parts, the same gates, nothing unsafe in either, and both are competent."""
    resolved, own, other = both(path)
    one, two = played(resolved, own, tmp_path / "own"), played(resolved, other, tmp_path / "other")
    assert missed(two) == missed(one) == {}
    assert marks(one) == marks(two)
    assert set(marks(one)) == set(SAME)
    assert gates(one) == gates(two)
    assert {state for state, _ in gates(two).values()} <= {"passed", "not applicable"}
    assert one.features["breaches"] == two.features["breaches"] == []
    assert (one.result, two.result) == ("competent", "competent")


@pytest.mark.parametrize("path", ROUTES, ids=lambda path: path.stem)
def test_the_other_way_is_another(path: Path) -> None:
    """Not the same acts in a new file: a good part of them differs, and what both have comes in another order."""
    _, own, other = both(path)
    mine, theirs = acts(own.steps), acts(other.steps)
    assert len(set(theirs) - set(mine)) >= 5
    common = set(mine) & set(theirs)
    assert [act for act in mine if act in common] != [act for act in theirs if act in common]


def test_the_jobs_are_of_different_families() -> None:
    """At least three, so that no one kind of job stands for all."""
    assert len({load_named_job(path.stem).family for path in ROUTES}) >= 3
