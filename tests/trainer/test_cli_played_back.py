"""A stranger's counterexample opens in the window: what it put out is played back, and none of its code is run."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sim.bench import foreign
from sim.bench.proof.catalogue import CATALOGUE
from sim.bench.proof.neutral import read_case
from sim.bench.proof.order import Order
from sim.bench.proof.play import play
from sim.bench.proof.search import AFTER, Search
from sim.errors import ScenarioError
from sim.traces.recorder import trace
from sim.units import LEAVES, SECOND
from sim.world.played_back import OFF, OVER
from trainer.job import load_job
from trainer.job.counterexample import BEFORE_S
from trainer.job.library import scenarios_folder
from trainer.job.models import MOST_CHANGES
from trainer.session.desk import Desk

from .conftest import Said

BEAM = "never closes past a reopening guard"

BUSY = """
from sim.controller.ports import Drive, Outputs, Panel, Scan

class Mine:
    count = way = opened = until = 0

    def scan(self, now, inputs):
        self.count += 1
        opens, closes = inputs.command_v[0] < 12.0, inputs.command_v[1] < 12.0
        self.opened += self.way > 0
        if opens or (closes and self.opened > 100 and now > {restless} * 30_000_000):
            self.way, self.until = (1 if opens else -1), now + 9_000_000
        self.way = self.way if now < self.until else 0
        drive = Drive(duty=0.4 * self.way, limit_a=4.0 + {restless} * self.count / 1e6)
        lamp = bool(self.count // 7 % 2)
        return Scan(Outputs(active=drive, inactive=drive, lamp=lamp, yard_light=True, lock=self.way > 0))

    def panel(self):
        return Panel("mine is busy", "at the gate since power came")
"""

SHOWN = f"""
format: gudgeon-job/1
title: Shown
site: bench.yaml
brief: A record.
teaching: A record.
acceptance: [made safe]
arrival:
  lived:
    opens_at_s: 0.5
    record:
      controller: Mine
      digest: {"a" * 64}
      ends_at_s: 3.0
      changes:
        - {{at_s: 1.0, active: {{duty: 0.5}}}}
        - {{at_s: 2.0, lamp: true}}
"""


def proved(gudgeon: Callable[..., Any], folder: Path, restless: int = 0) -> tuple[Any, Path, Path]:
    """What is said of a controller that minds no guard; a restless one puts out something else at every scan."""
    file = folder / "mine.py"
    file.write_text(BUSY.replace("{restless}", str(restless)), encoding="utf-8")
    of = ("--controller", f"{file}:Mine", "--property", BEAM, "--examples", 20)
    said = gudgeon("prove", *of, "--out", folder)
    assert said.code == 1
    return said, file, folder / "prove"


@pytest.fixture(scope="module")
def broken(tmp_path_factory: pytest.TempPathFactory) -> tuple[Any, Path, Path]:
    """One search for all that only looks at what it wrote."""
    return proved(command, tmp_path_factory.mktemp("stranger"))


def command(*arguments: object) -> Said:
    """The installed command's own entry, in a process of its own."""
    program = [sys.executable, "-c", "from trainer import cli; cli.main()", *map(str, arguments)]
    ran = subprocess.run(program, capture_output=True, text=True, check=False, env={**os.environ, "COLUMNS": "400"})
    return Said(ran.returncode, ran.stdout, ran.stderr)


def test_the_gate_does_to_the_bit_what_it_did_in_the_proof(broken: tuple[Any, Path, Path], tmp_path: Path) -> None:
    """From its opening in the window until the record ends; the second time as well, though that draws anew."""
    said, file, folder = broken
    job = next((folder / "jobs").glob("*.yaml"))
    assert re.search(rf"window +gudgeon start --job {re.escape(str(job))}", said.out)
    kept = read_case(next(folder.glob("*.json")))
    stage = Order(kept.site, foreign.source(f"{file}:Mine")).stage()
    world = stage.world()
    record = play(world, kept.case)
    breach = CATALOGUE[BEAM].look(record, kept.bounds)
    assert breach is not None
    ends = record.found + min(record.end, breach.at + AFTER)
    file.write_text("raise SystemExit", encoding="utf-8")
    for seed in (0, 1):
        shown = Desk(folder=tmp_path / "sessions").start(str(job), seed=seed).world
        assert shown.now == shown.arrived == record.found + max(0, breach.at - round(BEFORE_S * SECOND))
        shown.run_to(ends)
        again = trace(shown, LEAVES)
        here, there = again.time_us + int(shown.arrived), record.trace.time_us + record.found
        instants = np.intersect1d(here, there)
        assert len(instants) >= max(200, len(here) - 2)  # where a look begins and ends are samples of its own
        for signal, was in zip(again.signals, record.trace.signals, strict=True):
            got, had = (s.values[np.searchsorted(t, instants)] for s, t in ((signal, here), (was, there)))
            assert signal.name == was.name
            assert np.array_equal(got, had), signal.name
            assert not signal.name.endswith("angle") or np.ptp(got) > 0.0
        row = record.row_at(ends - record.found - 1)
        assert row is not None
        assert shown.host.outputs == row.outputs
        assert shown.headline().state == row.state == "mine is busy"


def test_the_window_says_that_it_is_a_record_and_when_it_is_over(
    broken: tuple[Any, Path, Path], tmp_path: Path
) -> None:
    """Buttons change nothing; after its end everything is off, and stays off."""
    session = Desk(folder=tmp_path / "sessions").start(str(next((broken[2] / "jobs").glob("*.yaml"))))
    assert "played-back record of Mine: commands have no effect" in session.observe().brief
    assert "commands have no effect on what it puts out" in session.observe().panel.message
    world = session.world
    before = world.host.outputs
    session.do("press", {"control": "stop button"})
    assert world.host.outputs.drives == before.drives
    world.run_to(world.now + 5 * SECOND)
    assert world.host.outputs == OFF
    assert session.observe().panel.state == OVER
    session.do("release", {"control": "stop button"})
    session.do("press", {"control": "open button"})
    world.run_to(world.now + 5 * SECOND)
    assert world.host.outputs == OFF


def test_the_record_in_the_job_is_data_and_nothing_of_a_path(broken: tuple[Any, Path, Path]) -> None:
    _, file, folder = broken
    text = next((folder / "jobs").glob("*.yaml")).read_text(encoding="utf-8")
    assert re.search(r"digest: [0-9a-f]{64}\n", text)
    assert str(file.parent) not in text
    assert file.name not in text


@pytest.mark.slow
def test_outputs_that_never_rest_are_not_kept_and_it_says_so(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """The case is on file; a job of any length is not. It can't be made shorter: for half a minute all is well."""
    said, _, folder = proved(gudgeon, tmp_path, 1)
    assert re.search(rf"has no job for the window: .* changed \d+ times; at most {MOST_CHANGES} are kept", said.err)
    assert "start --job" not in said.out
    assert next(folder.glob("*.json")).is_file()
    assert not (folder / "jobs").exists()


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (("at_s: 1.0", "at_s: 3.5"), "allowed: less than ends_at_s (3)"),
        (("at_s: 2.0", "at_s: 1.0"), "read at_s 1; allowed: more than 1 and less than ends_at_s (3)"),
        (("duty: 0.5", "duty: 1.5"), "duty"),
        (("lamp: true", "run: mine.py"), "run"),
        (("digest: " + "a" * 64, "digest: mine.py"), "digest"),
    ],
)
def test_a_damaged_record_is_refused_with_its_line(tmp_path: Path, change: tuple[str, str], sentence: str) -> None:
    file = _job(tmp_path)
    text = file.read_text(encoding="utf-8")
    load_job(file)
    assert change[0] in text
    file.write_text(text.replace(*change), encoding="utf-8")
    with pytest.raises(ScenarioError) as refused:
        load_job(file)
    assert sentence in str(refused.value)
    assert re.search(rf"{file.name}:\d+", str(refused.value))


def test_a_record_of_too_many_changes_is_refused(tmp_path: Path) -> None:
    many = "".join(f"\n        - {{at_s: {n / 1e3}, lamp: true}}" for n in range(MOST_CHANGES + 1))
    file = _job(tmp_path)
    text = file.read_text(encoding="utf-8")
    file.write_text(text[: text.index("\n        - {")] + many + "\n", encoding="utf-8")
    with pytest.raises(ScenarioError, match="changes"):
        load_job(file)


def _job(folder: Path) -> Path:
    """A small job with a record of two changes."""
    (folder / "jobs").mkdir()
    (folder / "sites").mkdir()
    bench = scenarios_folder() / "sites" / "reference_bench.yaml"
    (folder / "sites" / "bench.yaml").write_text(bench.read_text(encoding="utf-8"), encoding="utf-8")
    file = folder / "jobs" / "shown.yaml"
    file.write_text(SHOWN, encoding="utf-8")
    return file


def test_a_record_is_made_of_the_one_play_that_is_shown(broken: tuple[Any, Path, Path]) -> None:
    """A play that breaks something is judged without its record; the find has that of its own last play."""
    _said, file, folder = broken
    file.write_text(BUSY.replace("{restless}", "0"), encoding="utf-8")
    kept = read_case(next(folder.glob("*.json")))
    search = Search(Order(kept.site, foreign.source(f"{file}:Mine")).stage(), [CATALOGUE[BEAM]], kept.bounds)
    on_the_way, shown = search.outcome(kept.case), search.outcome(kept.case, keep=True)
    assert on_the_way.breaches == shown.breaches != {}
    assert on_the_way.recorded is None
    (found,) = search.play_all([kept.case])
    assert found.recorded is not None
    assert found.recorded == search.outcome(found.case, keep=True).recorded
