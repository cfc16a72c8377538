"""The library of jobs, played: who knows gets through, who does nothing doesn't, the obvious wrong way is caught.

Every outcome of every draw is played once, in as few plays as that takes.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.trainer.played import missed, played
from trainer.grading.judge import Grader
from trainer.job import Resolved, job_files, load_job, reference_solution, usual_mistake
from trainer.job.draw import resolved_with
from trainer.session.desk import Desk


def draws(path: Path) -> Iterator[Resolved]:
    """The job as often as it takes to have each outcome of each draw once; the first pass comes first."""
    job = load_job(path)
    for number in range(max((len(draw.one_of) for draw in job.draw), default=1)):
        yield resolved_with(job, 0, tuple(d.one_of[(d.first + number) % len(d.one_of)] for d in job.draw))


@pytest.mark.slow
@pytest.mark.parametrize("path", job_files(), ids=lambda path: path.stem)
def test_who_knows_gets_through_whatever_is_drawn(path: Path, tmp_path: Path) -> None:
    """Competent, with nothing unsafe, nothing needless and nothing left undone."""
    for number, resolved in enumerate(draws(path)):
        grade = played(resolved, reference_solution(resolved), tmp_path / str(number))
        assert missed(grade) == {}, f"outcome {number} of each draw"
        assert grade.result == "competent"


@pytest.mark.slow
@pytest.mark.parametrize("path", job_files(), ids=lambda path: path.stem)
def test_doing_nothing_is_not_enough(path: Path, tmp_path: Path) -> None:
    """Whoever comes, looks at nothing and hands over has passed no job."""
    grade = played(next(draws(path)), None, tmp_path)
    assert grade.result != "competent"
    assert grade.score < 50.0


@pytest.mark.slow
@pytest.mark.parametrize("path", job_files(), ids=lambda path: path.stem)
def test_nothing_names_what_was_drawn(path: Path, tmp_path: Path) -> None:
    """Neither what is shown, nor what is kept, nor the file's own name: the gate is tried once, and nothing tells."""
    for number, resolved in enumerate(draws(path)):
        hidden = [failed.fault for failed in resolved.arrival.faults]
        session = Desk(Grader(), tmp_path / str(number)).begin(resolved, path.stem)
        try:
            session.do("press", {"control": "open button"})
            session.do("release", {"control": "open button"})
            shown = repr(session.observe())
        finally:
            session.close()
        kept = [file.read_text(encoding="utf-8") for file in (tmp_path / str(number)).rglob("*") if file.is_file()]
        assert kept
        for text in (shown, path.stem.replace("_", " "), *kept):
            assert not [fault for fault in hidden if fault in text.lower()]


@pytest.mark.slow
@pytest.mark.parametrize("path", job_files(), ids=lambda path: path.stem)
def test_the_obvious_wrong_way_is_caught_for_what_is_wrong_with_it(path: Path, tmp_path: Path) -> None:
    """By the findings that the mistake itself names."""
    resolved = next(draws(path))
    mistake = usual_mistake(resolved)
    if mistake is None:
        pytest.skip("this job shows no wrong way")
    grade = played(resolved, mistake, tmp_path)
    assert mistake.fails
    assert set(mistake.fails) <= set(missed(grade))
    assert grade.result != "competent"
