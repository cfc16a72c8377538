"""Patience with another process: its own work counts against it, the machine's load does not."""

from __future__ import annotations

import itertools
import os
import signal
from collections.abc import Callable, Iterator

import pytest

from sim.bench import patience
from sim.bench.patience import Patience, worked_s


@pytest.fixture
def slow_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine so busy that 100 s go by between the first look at the clock on the wall and all that follow."""
    began = patience.time.monotonic()
    looks = itertools.chain((began,), itertools.repeat(began + 100.0))
    monkeypatch.setattr(patience.time, "monotonic", lambda: next(looks))


@pytest.fixture
def another() -> Iterator[Callable[[Callable[[], None]], int]]:
    """Starts processes that do something, and ends them after the test."""
    begun: list[int] = []

    def start(what: Callable[[], None]) -> int:
        process = os.fork()
        if process == 0:
            what()
            os._exit(0)
        begun.append(process)
        return process

    yield start
    for process in begun:
        os.kill(process, signal.SIGKILL)
        os.waitpid(process, 0)


def _works() -> None:
    while True:
        pass


@pytest.mark.usefixtures("slow_clock")
def test_who_works_without_a_word_is_given_up(another: Callable[[Callable[[], None]], int]) -> None:
    """Its own processor time is what counts, however little of it a busy machine grants."""
    judged = Patience(another(_works), 0.1)
    while not (why := judged.over()):
        pass
    assert why == "no answer for 0.1 s of processor time"
    assert worked_s(judged.process) >= 0.1


def test_a_word_begins_it_anew(another: Callable[[Callable[[], None]], int]) -> None:
    """What was worked before the last word is forgiven."""
    judged = Patience(another(_works), 0.1)
    while not judged.over():
        pass
    judged.heard(0.1)
    assert judged.over() == ""


def test_a_loaded_machine_makes_nobody_guilty(
    another: Callable[[Callable[[], None]], int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Who gets no processor time is waited for several times as long by the clock, and no longer."""
    judged = Patience(another(signal.pause), 20.0)
    began = patience.time.monotonic()
    monkeypatch.setattr(patience.time, "monotonic", lambda: began + 100.0)
    assert judged.over() == ""
    monkeypatch.setattr(patience.time, "monotonic", lambda: began + 121.0)
    assert judged.over() == "no answer for 120 s, and nothing done in them"


def test_nobody_has_worked_nothing() -> None:
    """A number without a process, as one that has just ended and been waited for."""
    process = os.fork()
    if process == 0:
        os._exit(0)
    os.waitpid(process, 0)
    assert worked_s(process) == 0.0
