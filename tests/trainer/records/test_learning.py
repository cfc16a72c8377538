"""The learning record: what was done of each family, where it goes, and what comes next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import theilslopes

from tests.trainer.records.conftest import FIRST_DAY, Keep, features
from trainer.records import Coach, LearningRecord, graded_attempts, learning_record, next_job, trainees
from trainer.records.learning import slope_of, trend_of


@dataclass(frozen=True)
class Job:
    """A job on the list."""

    name: str
    family: str
    grade: str = "working"

    @property
    def title(self) -> str:
        return self.name.replace("_", " ")


JOBS = [
    Job("two_hands", "first steps", "learner"),
    Job("dim_beam", "guards"),
    Job("wet_edge", "guards"),
    Job("shy_edge", "guards", "senior"),
    Job("hot_motor", "drive and motor"),
]


def record(folder: Path, day: int, who: str = "") -> LearningRecord:
    """Somebody's record so many days after the first."""
    attempts, troubles = graded_attempts(folder, {})
    assert troubles == []
    return learning_record(attempts, who, FIRST_DAY + timedelta(days=day))


def test_attempts_are_told_by_family(keep: Keep, tmp_path: Path) -> None:
    """Families stand in the order of the list of jobs, each with its attempts, last and best."""
    keep("dim_beam", "guards", 0)
    keep("dim_beam", "guards", 3, features(2))
    keep("two_hands", "first steps", 1)
    made = record(tmp_path, 4)
    assert [each.family for each in made.families] == ["first steps", "guards"]
    guards = made.families[1]
    assert [each.folder.name for each in guards.attempts] == ["dim_beam-0001", "dim_beam-0002"]
    assert guards.best == 100.0
    assert guards.last < 85.0


def test_each_trainee_has_a_record_of_their_own(keep: Keep, tmp_path: Path) -> None:
    """What one does is not on another's record."""
    keep("dim_beam", "guards", 0, who="Ada Holm")
    keep("dim_beam", "guards", 0, features(0), who="Ben Rook")
    attempts, _ = graded_attempts(tmp_path, {})
    assert trainees(attempts) == ("Ada Holm", "Ben Rook")
    assert record(tmp_path, 0, "Ada Holm").families[0].best == 100.0
    assert record(tmp_path, 0, "Ben Rook").families[0].best < 50.0
    assert record(tmp_path, 0).families == ()


def test_an_attempt_of_before_is_counted_by_its_job(keep: Keep, tmp_path: Path) -> None:
    """One without a file about itself is told by its folder's name, and by the date of its result."""
    (keep("dim_beam", "guards", 0) / "attempt.json").unlink()
    attempts, troubles = graded_attempts(tmp_path, {"dim_beam": JOBS[1]})
    assert troubles == []
    assert [(each.about.family, each.about.title) for each in attempts] == [("guards", "dim beam")]


def test_nothing_done_begins_at_the_first_family(tmp_path: Path) -> None:
    """Somebody new is sent to the first family there are jobs of; with no job at all, nowhere."""
    following = next_job(record(tmp_path, 0), JOBS)
    assert following is not None
    assert (following.family, following.job) == ("first steps", "two_hands")
    assert next_job(record(tmp_path, 0), []) is None


def test_what_is_due_goes_before_what_is_new(keep: Keep, tmp_path: Path) -> None:
    """The day after, a new family is met; once it is due, the old one comes first; with nothing left, the soonest."""
    keep("two_hands", "first steps", 0)
    keep("dim_beam", "guards", 0)
    soon, due = next_job(record(tmp_path, 1), JOBS), next_job(record(tmp_path, 10), JOBS)
    assert soon is not None
    assert due is not None
    assert soon.family == "drive and motor"
    assert due.family == "first steps"
    assert due.why == "Due for 2 days."
    keep("hot_motor", "drive and motor", 1)
    following = next_job(record(tmp_path, 1), JOBS)
    assert following is not None
    assert following.family == "first steps"
    assert following.why.startswith("Nothing is due today")


def test_the_worse_of_two_comes_first(keep: Keep, tmp_path: Path) -> None:
    """Of two families done on one day, the one that went badly is due before the one that went well."""
    keep("two_hands", "first steps", 0)
    keep("dim_beam", "guards", 0, features(4, grave=True))
    following = next_job(record(tmp_path, 1), JOBS[:2])
    assert following is not None
    assert (following.family, following.why) == ("guards", "Due today.")


def test_the_same_job_never_comes_twice_running(keep: Keep, tmp_path: Path) -> None:
    """While a family has another job, what was just done is not proposed; done competently comes after not done."""
    keep("dim_beam", "guards", 0, features(0))
    first = next_job(record(tmp_path, 5), JOBS[1:4])
    assert first is not None
    assert first.job == "wet_edge"
    keep("wet_edge", "guards", 5)
    second = next_job(record(tmp_path, 20), JOBS[1:4])
    assert second is not None
    assert second.job == "dim_beam"
    only = next_job(record(tmp_path, 20), JOBS[2:3])
    assert only is not None
    assert only.job == "wet_edge"


@given(st.lists(st.floats(0, 100), min_size=2, max_size=12))
def test_the_slope_is_that_of_theil_and_sen(scores: list[float]) -> None:
    """Against scipy.stats.theilslopes, which computes the same from elsewhere."""
    assert slope_of(scores) == pytest.approx(theilslopes(scores).slope, abs=1e-9)


@pytest.mark.parametrize(
    ("scores", "trend"),
    [
        ([40.0, 90.0], "too few"),
        ([60.0, 70.0, 80.0], "rising"),
        ([80.0, 70.0, 60.0], "falling"),
        ([80.0, 81.0, 80.0], "steady"),
        ([60.0, 70.0, 20.0, 80.0, 90.0], "rising"),
        ([0.0, 10.0, 20.0, 80.0, 80.0, 80.0, 80.0, 80.0, 80.0], "steady"),
    ],
)
def test_a_trend_is_told_in_a_word(scores: list[float], trend: str) -> None:
    """Of the latest six; one bad day turns none."""
    assert trend_of(scores) == trend


def test_the_coach_reads_one_trainee_s_record(keep: Keep, tmp_path: Path) -> None:
    """What was done by others, and an attempt that can't be read, doesn't count; nothing kept is nothing done."""
    assert Coach(tmp_path / "none").next(JOBS) == Coach(tmp_path).next(JOBS)
    keep("two_hands", "first steps", 0, who="Ada Holm")
    (keep("two_hands", "first steps", 0) / "result.json").write_text("{")
    nobody, ada = Coach(tmp_path).next(JOBS), Coach(tmp_path, "Ada Holm").next(JOBS)
    assert nobody is not None
    assert ada is not None
    assert (nobody.family, nobody.why) == ("first steps", "You have not met this family of jobs yet.")
    assert (ada.family, ada.why[:8]) == ("first steps", "Due for ")
