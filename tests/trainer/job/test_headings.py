"""What a list of jobs shows: read once a file, kept until the file changes, and never trusted when it is damaged."""

from __future__ import annotations

import logging
import os
from pathlib import Path

import pytest

from trainer.job.headings import headings
from trainer.job.library import job_files, scenarios_folder

FIRST_RUN = scenarios_folder() / "jobs" / "first_run.yaml"


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder of its own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "gudgeon" / "jobs.json"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A copy of a shipped job."""
    path = tmp_path / "jobs" / "first_run.yaml"
    path.parent.mkdir()
    path.write_text(FIRST_RUN.read_text(encoding="utf-8"), encoding="utf-8")
    return path


def title(path: Path) -> str:
    return headings([path])[path].title


def rewrite(path: Path, old: str, new: str, *, seconds_later: int) -> None:
    """Other words in a file, which is then as old as before or younger."""
    before = path.stat()
    path.write_text(path.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
    os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns + seconds_later * 10**9))


def test_a_heading_says_what_a_list_shows(cache: Path, job: Path) -> None:
    """Title, grade, family, minutes, brief."""
    found = headings([job])[job]
    assert (found.title, found.grade, found.family, found.minutes) == (
        "First run",
        "learner",
        "commissioning from bare",
        60,
    )
    assert found.about.startswith("The fitters hung the leaves")
    assert cache.is_file()


def test_a_file_that_looks_unchanged_is_not_read_again(cache: Path, job: Path) -> None:
    """Shown by one that was changed without a trace."""
    assert title(job) == "First run"
    rewrite(job, "First run", "Other run", seconds_later=0)
    assert title(job) == "First run"


def test_a_changed_file_is_read_again(cache: Path, job: Path) -> None:
    """At once."""
    assert title(job) == "First run"
    rewrite(job, "First run", "Other run", seconds_later=1)
    assert title(job) == "Other run"


@pytest.mark.parametrize("damage", ["", "{", "[]", '{"form": "gudgeon-headings/1", "files": {"x": [1]}}'])
def test_damage_is_told_and_read_anew(cache: Path, job: Path, damage: str, caplog: pytest.LogCaptureFixture) -> None:
    """And the kept file is whole again afterwards."""
    title(job)
    cache.write_text(damage, encoding="utf-8")
    with caplog.at_level(logging.WARNING):
        assert title(job) == "First run"
    assert "the jobs are read anew" in caplog.text
    caplog.clear()
    assert title(job) == "First run"
    assert not caplog.records


def test_where_nothing_can_be_kept_the_jobs_are_listed_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, job: Path, caplog: pytest.LogCaptureFixture
) -> None:
    """A file stands where the folder should be."""
    (tmp_path / "file").write_text("", encoding="utf-8")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    with caplog.at_level(logging.WARNING):
        assert title(job) == "First run"
    assert "can't be written" in caplog.text


def test_a_file_that_cannot_be_used_stands_at_the_end_and_says_why(cache: Path, job: Path, tmp_path: Path) -> None:
    """File, line and what is allowed."""
    bad = job.parent / "a_bad_one.yaml"
    bad.write_text("format: gudgeon-job/1\ntitle: 7\n", encoding="utf-8")
    assert job_files(tmp_path) == [job, bad]
    found = headings([bad])[bad]
    assert not found.usable
    assert "a_bad_one.yaml:2" in found.about
