"""`gudgeon check`: every file that is shipped is good, and whatever is wrong is told with its place."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
SITE = ROOT / "scenarios/sites/mill_lane.yaml"


def test_check_accepts_everything_that_is_shipped(gudgeon: Callable[..., Any]) -> None:
    """Every scenario in the repository reads without a complaint."""
    said = gudgeon("check", ROOT / "scenarios")
    assert said.code == 0, said.out
    kinds = [line.rsplit(" ", 1)[-1] for line in said.out.splitlines()]
    assert set(kinds) == {"site", "job", "solution", "drill", "competences"}


@pytest.mark.slow
def test_check_looks_into_jobs_when_asked(
    gudgeon: Callable[..., Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its solution is played; a second time what is known of the same content is taken."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    job = ROOT / "scenarios" / "jobs" / "side_entrance.yaml"
    first, second = gudgeon("check", "--deep", job), gudgeon("check", "--deep", job)
    assert first.code == second.code == 0
    assert "can be done\n" in first.out
    assert "can be done (as before)" in second.out


def test_check_says_what_is_wrong_where(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """A faulty file is told with file, line, key and the nearest right key; the others are still read."""
    text = SITE.read_text(encoding="utf-8")
    (tmp_path / "good.yaml").write_text(text, encoding="utf-8")
    (tmp_path / "bad.yaml").write_text(text.replace("opening_width_m", "opening_with_m"), encoding="utf-8")
    (tmp_path / "other.yaml").write_text("format: gudgeon-house/1\n", encoding="utf-8")
    said = gudgeon("check", tmp_path)
    assert said.code == 1
    assert "good.yaml: a good site" in said.out
    assert "bad.yaml:6" in said.out
    assert "opening_width_m" in said.out
    assert "read 'gudgeon-house/1'; allowed: gudgeon-site/1, gudgeon-job/1" in said.out


def test_check_refuses_a_drive_that_cannot_be_stepped(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """What `run` would refuse is no good site: a train far too stiff for its rotor."""
    file = tmp_path / "stiff.yaml"
    drive = "{kind: underground, stiffness_n_m_rad: 5.0e6, gear_ratio: 1, motor: {rotor_kg_m2: 1.0e-7}}"
    file.write_text(f"format: gudgeon-site/1\nname: Stiff\ndrives: {{active: {drive}}}\n", encoding="utf-8")
    said = gudgeon("check", file)
    assert said.code != 0
    assert f"{file} drives.active: a train of 5e+06 N/m" in said.out


def test_check_takes_several_files_each_once(gudgeon: Callable[..., Any]) -> None:
    """In the order in which they were named."""
    sites = [ROOT / "scenarios" / "sites" / f"{name}.yaml" for name in ("orchard_row", "mill_lane")]
    said = gudgeon("check", *sites, sites[0])
    assert said.out.splitlines() == [f"{site}: a good site" for site in sites]


def test_check_of_nothing_is_refused(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """A path that isn't there, and a folder without files, are one sentence and code 2."""
    assert gudgeon("check", tmp_path / "absent").code == 2
    said = gudgeon("check", tmp_path)
    assert said.code == 2
    assert "no file ending in .yaml" in said.err


LONG = "a" * 300 + ".yaml"
"""Longer than any file can be called."""


@pytest.mark.parametrize("command", ["check", "play"])
def test_a_name_that_no_file_can_have_is_one_sentence(gudgeon: Callable[..., Any], command: str) -> None:
    """On the command line."""
    said = gudgeon(command, LONG)
    assert said.code != 0
    assert "there is no" in said.err
    assert "Traceback" not in said.out + said.err


def test_a_solution_for_a_job_that_no_file_can_be_is_told_with_its_place(
    gudgeon: Callable[..., Any], tmp_path: Path
) -> None:
    """In a file: the line says what is wrong with the name."""
    file = tmp_path / "solution.yaml"
    file.write_text(f"format: gudgeon-solution/1\njob: {LONG}\nsteps: [cordon]\n", encoding="utf-8")
    said = gudgeon("check", file)
    assert said.code == 1
    assert f"{file}:2" in said.out
