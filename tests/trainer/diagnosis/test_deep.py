"""Looking into a job: file and line, what is kept, what damaged keeping does."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from tests.trainer.diagnosis.conftest import SITES
from trainer.cli.deep import look_into, look_into_all
from trainer.diagnosis.keeping import Tables
from trainer.job import load_job

JOB = """\
format: gudgeon-job/1
title: Looked into
site: mill_lane.yaml
brief: It stands open and we don't know why.
arrival:
  learned: true
  faults:
    - {{fault: {fault}, share: 1.0}}
teaching: Look before you measure.
tools: {tools}
acceptance: [cause found]
"""


@pytest.fixture
def job(tmp_path: Path, small, site):
    """Writes a job on a site whose table is kept already; what looking into it may keep goes beside."""
    for folder in ("sites", "jobs", "kept"):
        (tmp_path / folder).mkdir()
    (tmp_path / "sites" / "mill_lane.yaml").write_bytes((SITES / "mill_lane.yaml").read_bytes())
    Tables(tmp_path / "kept" / "tables").keep(site, small)

    def written(fault: str = "edge line broken", tools: str = "all") -> Path:
        file = tmp_path / "jobs" / "looked_into.yaml"
        file.write_text(JOB.format(fault=fault, tools=tools), encoding="utf-8")
        return file

    return written


def looked(file: Path, far=lambda _words: None):
    return look_into(load_job(file), file.parents[1] / "kept", far)


def test_what_can_be_found_is_told_with_its_time(job) -> None:
    """How many measurements and minutes somebody takes who reckons."""
    found = looked(job())
    assert not any("can't be told" in line for line in found.wrong)
    line, average = found.told
    assert "'edge line broken'" in line
    assert " min " in line
    steps, minutes = map(float, re.fullmatch(r"all .* on average (\S+) measurements, (\S+) min", average).groups())
    assert 1.0 < steps < 20.0
    assert 0.3 * steps <= minutes


def test_what_can_t_be_found_is_wrong_with_file_and_line(job) -> None:
    """A bag without what shows it: the line is that of the tools."""
    file = job("encoder cable without its screen", "[multimeter]")
    line = next(line for line in looked(file).wrong if "can't be told" in line)
    number = 1 + file.read_text(encoding="utf-8").splitlines().index("tools: [multimeter]")
    assert line.startswith(f"{file}:{number}:")
    assert "no fault" in line
    assert "gudgeon faults" in line


def test_a_job_that_asks_for_something_needs_a_solution(job) -> None:
    """Nobody has seen that it can be done."""
    (line,) = looked(job()).wrong
    assert "no solution" in line


def test_the_same_content_is_not_looked_into_again(job) -> None:
    """A second look takes what was kept; another text doesn't, nor a damaged result, which is told."""
    first = looked(job())
    again = looked(job())
    assert not first.again
    assert again.again
    assert (again.wrong, again.told) == (first.wrong, first.told)
    assert not looked(job("pause too short")).again
    file = job()
    (kept,) = [
        each for each in (file.parents[1] / "kept" / "checks").glob("*.json") if "edge line" in each.read_text()
    ]
    kept.write_text("{", encoding="utf-8")
    heard: list[str] = []
    assert not looked(file, heard.append).again
    assert any("damaged" in words for words in heard)


def test_many_are_looked_into_by_all_cores_and_told_in_their_order(job, tmp_path: Path) -> None:
    """As each alone, and whoever stops has kept what was done; a site's table is made once."""
    files = []
    for name in ("pause too short", "edge line broken", "edge line broken"):
        file = job(name)
        files.append(file.rename(file.with_stem(f"looked_into_{len(files)}")))
    heard: list[str] = []
    found = list(look_into_all([*map(load_job, files)], tmp_path / "kept", heard.append))
    assert [any("pause too short" in line for line in each.told) for each in found] == [True, False, False]
    assert [any("edge line broken" in line for line in each.told) for each in found] == [False, True, True]
    assert found == [replace(looked(file), again=False) for file in files]
    assert all(each.again for each in look_into_all([*map(load_job, files)], tmp_path / "kept", heard.append))
    assert not any("faults and readings, part" in words for words in heard)


def test_a_gate_that_can_t_be_found_like_this_is_wrong(job) -> None:
    """Learned, by a sheet that says nothing: no commissioning leads there. It is said, not raised."""
    file = job()
    file.write_text(file.read_text(encoding="utf-8") + "solution: looked_into.yaml\n", encoding="utf-8")
    (file.parent / "solutions").mkdir()
    (file.parent / "solutions" / "looked_into.yaml").write_text(
        "format: gudgeon-solution/1\njob: looked_into.yaml\n"
        "steps:\n  - conclude: {cause: pause too short, sure: 90}\n",
        encoding="utf-8",
    )
    wrong = looked(file).wrong
    assert wrong
    assert all(line.startswith(f"{file}:") for line in wrong)
    assert any("the gate can't be found like this" in line for line in wrong)


@pytest.mark.parametrize(
    ("fails", "told"),
    [
        ("[cause found]", None),
        ("[cause found, bridge left]", "the wrong way is not caught by 'bridge left'; it is by 'cause found'"),
    ],
)
def test_a_wrong_way_has_to_be_caught_by_what_it_names(job, fails: str, told: str | None) -> None:
    """Whoever concludes something from nothing hasn't found the cause, and has left no bridge. The right way of this
    gate, with which nothing is wrong, is to say so; another text of the wrong way is looked into anew."""
    file = job()
    text = JOB.partition("arrival:")[0] + "arrival: {}\nteaching: Look.\nacceptance: [cause found]\n"
    file.write_text(text + "solution: looked_into.yaml\nmistake: looked_into.yaml\n", encoding="utf-8")
    head = "format: gudgeon-solution/1\njob: looked_into.yaml\n"
    for folder, keys, cause in (("solutions", "", "no fault"), ("mistakes", "fails: [cause found]\n", "edge wet")):
        (file.parent / folder).mkdir()
        steps = f"steps:\n  - conclude: {{cause: {cause}, sure: 90}}\n"
        (file.parent / folder / "looked_into.yaml").write_text(head + keys + steps, encoding="utf-8")
    assert not any("wrong way" in line for line in looked(file).wrong)
    wrong_way = file.parent / "mistakes" / "looked_into.yaml"
    wrong_way.write_text(wrong_way.read_text(encoding="utf-8").replace("[cause found]", fails), encoding="utf-8")
    found = looked(file)
    assert found.again == (told is None)
    lines = [line for line in found.wrong if "wrong way" in line]
    assert [line.startswith(f"{file}:") and told in line for line in lines] == ([] if told is None else [True])


@pytest.mark.slow
def test_a_shipped_job_can_be_done(tmp_path: Path) -> None:
    """Nothing failed there, so there is nothing to find; its solution is played for every outcome."""
    found = look_into(load_job(SITES.parent / "jobs" / "side_entrance.yaml"), tmp_path, lambda _words: None)
    assert found.wrong == []
    assert all("nothing failed" in line for line in found.told)
