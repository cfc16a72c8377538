"""`gudgeon prove`: lists promises, searches, keeps what it finds, plays it again, and opens it as a job."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sim.bench.proof.catalogue import CATALOGUE
from sim.bench.proof.neutral import read_case
from sim.bench.proof.play import Stage, everything_wired, play
from sim.errors import DataError
from sim.site.files import with_changes
from sim.units import SECOND
from trainer import CAUTION
from trainer.job import load_job, resolve
from trainer.job.counterexample import BEFORE_S
from trainer.session.desk import build_world

WARNS = "warns before it moves"

UNHURRIED = ("--seconds", 3600)
"""How busy the machine is decides nothing here."""


@pytest.fixture
def broken(gudgeon: Callable[..., Any], tmp_path: Path) -> tuple[str, Path]:
    """What is printed of a promise that is broken, since a longer warning is asked for than the sheet has."""
    said = gudgeon(
        "prove", "--property", WARNS, "--bound", "short by=-1", "--examples", 10, *UNHURRIED, "--out", tmp_path
    )
    assert said.code == 1
    return said.out, tmp_path / "prove"


def test_the_list_has_every_promise_with_its_source(gudgeon: Callable[..., Any]) -> None:
    said = gudgeon("prove", "--list", "--json")
    assert said.code == 0
    told = json.loads(said.out)
    assert [each["name"] for each in told] == list(CATALOGUE)
    assert all(each["promise"] and each["why"] and each["source"] for each in told)
    assert gudgeon("prove", "--list").out.rstrip().endswith(f"{len(CATALOGUE)} properties.")


def test_what_holds_says_how_often_it_was_looked_at(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    said = gudgeon("prove", "--property", WARNS, "--examples", 3, *UNHURRIED, "--out", tmp_path)
    assert said.code == 0
    row = next(line for line in said.out.splitlines() if line.startswith(WARNS))
    assert row.split()[-2:] == ["3", "held"]
    assert "No counterexample found is no proof" in said.out
    assert CAUTION in said.out
    assert not (tmp_path / "prove").exists()


def test_a_counterexample_is_told_in_sentences(broken: tuple[str, Path]) -> None:
    out, _ = broken
    assert f"BROKEN: {WARNS}" in out
    assert re.search(r"^  0:00:00\.00    [A-Z].*\.$", out, re.M)
    assert re.search(r"^  0:0\d:\d\d\.\d\d    BROKEN: starts after \S+ s of warning", out, re.M)
    assert "gudgeon prove --again" in out
    assert "gudgeon start --job" in out


def test_it_is_played_again_by_its_id(gudgeon: Callable[..., Any], broken: tuple[str, Path]) -> None:
    _, folder = broken
    file = next(folder.glob("*.json"))
    for named in (file.stem, str(file)):
        said = gudgeon("prove", "--again", named, "--out", folder.parent)
        assert said.code == 1
        assert f"BROKEN: {WARNS}" in said.out


def test_the_job_opens_a_moment_before_and_goes_on_as_it_was(broken: tuple[str, Path]) -> None:
    """The gate in the window does to the bit what the gate of the search did."""
    _, folder = broken
    kept = read_case(next(folder.glob("*.json")))
    stage = Stage(everything_wired(kept.site))
    record = play(stage.world(), kept.case)
    breach = CATALOGUE[WARNS].look(record, kept.bounds)
    assert breach is not None
    world = build_world(resolve(load_job(next((folder / "jobs").glob("*.yaml"))), 0))
    opens = max(0, breach.at - round(BEFORE_S * SECOND))
    assert world.now == world.arrived
    world.run_to(world.now + breach.at - opens + SECOND)
    searched = stage.world()
    assert searched.now > world.now
    replayed = record.row_at(breach.at + SECOND)
    assert replayed is not None
    assert world.headline().state == replayed.state
    assert world.host.outputs == replayed.outputs


def test_opened_again_it_is_the_same_gate(broken: tuple[str, Path]) -> None:
    """A second attempt draws another number; what the gate lived through happened to one gate."""
    job = load_job(next((broken[1] / "jobs").glob("*.yaml")))
    gusty = {"weather.wind_m_s": 2.0, "weather.gust_intensity": 0.3}
    once, again = (resolve(job, seed) for seed in (0, 1))
    worlds = [build_world(replace(one, site=with_changes(one.site, gusty))) for one in (once, again)]
    assert worlds[0].digest() == worlds[1].digest()


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("--property", "warns before it move"), f"did you mean '{WARNS}'"),
        (("--bound", "shrt by=1"), "no property has a bound 'shrt by'"),
        (("--bound", "short by"), "a bound is given as NAME=VALUE"),
        (("--again", "nothing.json"), "nothing.json: can't be read"),
        (("--controller", "mine.py"), "a controller is named as file.py:Class"),
        (("--site", "nowhere.yaml"), "nowhere.yaml"),
    ],
)
def test_mistakes_end_with_a_sentence(gudgeon: Callable[..., Any], arguments: tuple[str, ...], sentence: str) -> None:
    said = gudgeon("prove", *arguments)
    assert said.code == 2
    assert sentence in said.err
    assert "Traceback" not in said.err


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"format": "gudgeon-case/1"}', "{" * 100_000])
def test_a_damaged_case_is_refused_in_words(tmp_path: Path, text: str) -> None:
    file = tmp_path / "x.json"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(DataError, match=r"x\.json: (no|a damaged) case"):
        read_case(file)
