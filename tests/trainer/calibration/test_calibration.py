"""Simulated trainees at one job: marks put them in the order in which an instructor would.

The whole library is `python -m tests.trainer.calibration.library`; a table of a whole site takes a minute, so here
the causes are few.
"""

from __future__ import annotations

import pytest

from tests.trainer.calibration.attempt import graded, trainees
from tests.trainer.calibration.library import ORDER, in_order, table
from trainer.diagnosis import site_table
from trainer.diagnosis.keeping import Tables
from trainer.diagnosis.site_table import causes_of
from trainer.grading import Grade
from trainer.job import load_named_job, resolve

JOB = "it_will_not_close"

FEW = (
    *("photo beam misaligned", "photo beam lens dirty or wet", "edge line broken", "edge wet"),
    *("stop circuit screw loose", "photo beam contact welded"),
)


@pytest.fixture(scope="module")
def grades(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Grade]:
    """What each of them has in the job, with a table of some causes."""
    resolved = resolve(load_named_job(JOB), 0)
    site = resolved.job.base_site
    tables = Tables(tmp_path_factory.mktemp("tables"))
    tables.keep(site, site_table.make(site, [each for each in causes_of(site) if each.name in FEW]))
    return {
        name: graded(resolve(load_named_job(JOB), 0), tmp_path_factory.mktemp("one"), plays)
        for name, plays in trainees(tables, seed=0).items()
    }


@pytest.mark.slow
def test_who_knows_and_who_reckons_come_first(grades: dict[str, Grade]) -> None:
    """The expert has all there is; whoever measures finds the cause, and is above whoever changes parts."""
    assert grades["the expert"].score == 100.0
    for name in ("greedy by information", "half-split", "random"):
        assert "cause found" not in missed(grades[name])
        assert grades["the expert"].score >= grades[name].score > grades["replaces everything"].score
    assert grades["greedy by information"].score >= grades["random"].score


@pytest.mark.slow
def test_who_replaces_everything_has_guessed(grades: dict[str, Grade]) -> None:
    """It gets through the gate, and nothing showed the cause before."""
    assert "evidence before the repair" in missed(grades["replaces everything"])
    assert grades["replaces everything"].score <= 59.0


@pytest.mark.slow
def test_who_is_unsafe_comes_last(grades: dict[str, Grade]) -> None:
    """Though the cause was known and the repair is right."""
    assert grades["reckless"].result == "not yet competent"
    assert grades["careless"].result == "repeat"
    assert ORDER[-2:] == ("careless", "reckless")
    last = sorted(grades, key=lambda name: grades[name].score)[:2]
    assert set(last) == {"careless", "reckless"}


def missed(grade: Grade) -> set[str]:
    """What was lost."""
    return {finding.name for finding in grade.findings if finding.outcome in ("failed", "marginal")}


def test_the_table_tells_marks_and_order() -> None:
    """Means and tenths over jobs, and neighbours compared within a job."""
    rows = [
        {"job": job, "seed": 0, "trainee": name, "score": score, "result": "competent", "minutes": 10.0}
        for job, marks in (("one", (100.0, 90.0)), ("two", (80.0, 90.0)), ("three", (70.0, 70.0)))
        for name, score in zip(ORDER[:2], marks, strict=True)
    ]
    assert "the expert           83.3  70.0 100.0" in table(rows)
    assert f"{ORDER[0]} over {ORDER[1]}: 1 higher, 1 alike, 1 lower" in in_order(rows)
