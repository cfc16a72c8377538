"""A stranger's controller runs in a process of its own, and whatever it does comes back in words."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from sim.bench import foreign, stranger
from sim.bench.trial import Order, Result
from sim.site import load_site
from sim.units import SECOND, Us

ROOT = Path(__file__).resolve().parents[3]

HEAD = """
import os, sys
from sim.controller.ports import Drive, Outputs, Panel, Scan

class Mine:
    def power_up(self, now): pass
    def panel(self): return Panel(state="resting", message="")
    def scan(self, now, inputs):
        if now < 3_000_000:
            return Scan(Outputs(), wake=now + 10_000)
"""


@pytest.fixture
def trial_of(tmp_path: Path) -> Callable[..., Result]:
    """Try a controller whose scan, after three quiet seconds, has the given one-line body."""

    def run(body: str, patience_s: float = 60.0) -> Result:
        file = tmp_path / "mine.py"
        file.write_text(f"{HEAD}        {body}\n", encoding="utf-8")
        order = Order(load_site(ROOT / "scenarios/sites/mill_lane.yaml"), Us(5 * SECOND))
        return stranger.run_apart(stranger.Job(order, foreign.source(f"{file}:Mine")), patience_s=patience_s)

    return run


def test_a_sound_stranger_runs_to_the_end(trial_of: Callable[..., Result], capfd: pytest.CaptureFixture[str]) -> None:
    """It finishes like any controller; what it prints goes to standard error, never among our results."""
    result = trial_of("print('hello'); return Scan(Outputs(), wake=now + 1_000_000)")
    assert (result.ended, result.said, result.controller) == ("finished", "", "Mine")
    assert result.reached_s == 5.0
    printed = capfd.readouterr()
    assert "hello" in printed.err
    assert "hello" not in printed.out


def test_a_crash_is_a_finding_in_words(trial_of: Callable[..., Result]) -> None:
    """An exception ends the trial at its simulated time, with kind, text and the stranger's own line."""
    result = trial_of("return [][3]")
    assert result.ended == "controller failed"
    assert "scan raised IndexError: list index out of range (mine.py, line" in result.said
    assert result.reached_s == 2.0  # a second of the three had passed before the gate was found


def test_a_stranger_that_hangs_is_ended(trial_of: Callable[..., Result]) -> None:
    """No progress for the stated time of work: the process is ended, and the result says after what time."""
    result = trial_of("while True: pass", patience_s=1.5)
    assert result.ended == "no answer"
    assert "no answer for 1.5 s of processor time" in result.said
    assert "its process was ended" in result.said


@pytest.mark.parametrize(
    ("body", "how"),
    [("os._exit(7)", "left by itself with the code 7"), ("os.abort()", "was ended by the signal SIGABRT")],
)
def test_a_process_that_dies_is_told(body: str, how: str, trial_of: Callable[..., Result]) -> None:
    """A stranger that takes its process down takes nothing else down."""
    result = trial_of(body)
    assert result.ended == "process ended"
    assert how in result.said
