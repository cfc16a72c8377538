"""A window that is killed in the middle of a job, or while it writes the settings; and the next one."""

from __future__ import annotations

import json
import os
import queue
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from sim.bench.patience import Patience
from tests.journeys.killed import NOTE, state
from tests.journeys.person import Person
from tests.journeys.sight import leaves_are_drawn_where_they_are
from trainer.session.desk import Desk
from trainer.session.journal import read_journal

pytestmark = [pytest.mark.display, pytest.mark.slow]

ROOT = Path(__file__).resolve().parents[2]

PATIENCE_S = 120.0
"""So much processor time [s] the other process is given for its way to the next thing it tells."""

AGREED_S = 1.2
"""Time reached is on disk at least each second of the wall (clock law 8), a frame or two apart."""


class Told:
    """What a process that was started tells, line by line."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self.process = process
        self.lines: list[dict[str, Any]] = []
        self._coming: queue.SimpleQueue[str] = queue.SimpleQueue()
        self._reader = threading.Thread(target=self._read)
        self._reader.start()

    def _read(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self._coming.put(line)

    def until(self, seen: Callable[[], bool]) -> None:
        """Have it tell more until something is seen; its processor time is what it is judged by."""
        assert self.process.stdin is not None
        patience = Patience(self.process.pid, PATIENCE_S)
        while True:
            try:
                self._take(self._coming.get(timeout=0.5))
                if seen():
                    return
                self.process.stdin.write("\n")
                self.process.stdin.flush()
            except queue.Empty:
                assert self.process.poll() is None, f"it ended by itself with {self.process.returncode}"
                assert not patience.over(), patience.over()

    def _take(self, line: str) -> None:
        if line.startswith("{"):
            self.lines.append(json.loads(line))

    def kill(self) -> None:
        """End it at once, as a crash does, and take in what it had told by then."""
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()
        self._reader.join()
        for pipe in (self.process.stdin, self.process.stdout):
            assert pipe is not None
            pipe.close()
        while not self._coming.empty():
            self._take(self._coming.get())


@contextmanager
def another(folder: Path, what: str) -> Iterator[Told]:
    """A window in a process of its own, with somebody at work at it; in the end whatever he held is let go."""
    process = subprocess.Popen(
        [sys.executable, "-m", "tests.journeys.killed", str(folder), what],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    told = Told(process)
    try:
        yield told
    finally:
        told.kill()
        subprocess.run(["xdotool", "mouseup", "1"], check=True, timeout=20)


def test_a_killed_window_is_gone_on_with_where_it_was(
    sit_down: Callable[[], Person], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Killed with a jog button held: the front desk offers the job, and all stands as it stood, to the bit."""
    with another(tmp_path, "work") as told:
        told.until(lambda: len(told.lines) > 1 and told.lines[-1]["clock"] - told.lines[0]["clock"] > 2_500_000)
        told.kill()
    assert told.process.returncode == -signal.SIGKILL
    stood = {line["clock"]: line for line in told.lines}
    assert told.lines[-1]["angles"][0] > told.lines[0]["angles"][0] + 1, "killed while the leaf moved"

    resumed: list[dict[str, Any]] = []
    resume = Desk.resume

    def seen(desk: Desk, name: str) -> Any:
        session = resume(desk, name)
        resumed.append(state(session))
        return session

    monkeypatch.setattr(Desk, "resume", seen)
    person = sit_down()
    assert person.find("First run", "job")["value"] == "unfinished"
    person.click("First run", "job")
    person.picture("offered")
    person.click("Go on where it was left", "button")
    person.until(lambda: person.app.session is not None, "the session is back")
    (back,) = resumed
    assert back == stood[back["clock"]]
    assert told.lines[-1]["clock"] - back["clock"] <= AGREED_S * 1e6
    assert not person.view().held, "what was held is let go"
    leaves_are_drawn_where_they_are(person)
    person.tab("Notebook")
    person.reads(NOTE)
    person.tab("Sheet")
    person.until(
        lambda: person.find("inner beam", "dropdown")["value"] == "not fitted", "the sheet as it was written"
    )
    person.picture("resumed")
    lines = read_journal(tmp_path / "sessions" / "first_run-0001").lines
    assert [line.data["do"] for line in lines if line.kind == "action"][-1] == "jog release"


def test_a_window_killed_while_it_writes_the_settings_keeps_those_before(
    sit_down: Callable[[], Person], tmp_path: Path
) -> None:
    """What was on disk is there, whole; nothing is complained of, and the next change is kept."""
    kept = tmp_path / "window.json"
    with another(tmp_path, "settings") as told:
        told.until(lambda: bool(told.lines))
        told.kill()
    assert told.lines == [{"writing": True}]
    before = json.loads(kept.read_text(encoding="utf-8"))
    assert (before["text_scale"], before["contrast"]) == (2.0, "ordinary")

    person = sit_down()
    assert person.app.root.style.scale == 2.0
    assert not person.sees("could not be read")
    person.click("Settings…", "button")
    person.click("High", "option", inside="contrast")
    person.until(lambda: json.loads(kept.read_text(encoding="utf-8"))["contrast"] == "high", "the settings on disk")
    person.picture("settings")
