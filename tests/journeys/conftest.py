"""A person at a real window: an X server without a screen, the window in it, and a small call-out to go to."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.journeys.person import Person
from trainer.job import library

CALL_OUT = """\
format: gudgeon-job/1
title: The gate that stays shut
order: 0
grade: working
family: guards
minutes: 60
site: mill_lane.yaml
brief: The gate won't open any more. It stood shut this morning.
points: [Find out why, put it right, show that it is, and hand it over.]
arrival:
  learned: true
  sheet:
    leaves fitted: "2"
    drive kind: linear ram
    opens first: active
    leaf delay, opening: 2.0
    leaf delay, closing: 4.0
    slow zone before stop: 20
    outer beam: reopen
    inner beam: hold
    active edge: back off
    inactive edge: back off
    auto-close: "off"
  faults: [{fault: edge line broken}]
teaching: A line that reads open is not a guard in the way. Measure it before anything is linked across it.
cautions: [A training model. It certifies nothing. Real gates crush and kill.]
acceptance: [no bridge left, handed over]
"""


@pytest.fixture(scope="session")
def screen() -> Iterator[str]:
    """The display of an X server of our own; skipped aloud where there is none to start."""
    missing = [tool for tool in ("Xvfb", "xdotool") if shutil.which(tool) is None]
    if missing:
        pytest.skip(f"journeys need a display: {' and '.join(missing)} not installed")
    reading, writing = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writing), "-screen", "0", "3840x2160x24", "-nolisten", "tcp", "-noreset"],
        pass_fds=(writing,),
        stderr=subprocess.DEVNULL,
    )
    os.close(writing)
    with os.fdopen(reading) as told:
        number = told.readline().strip()
    assert number, "the X server did not start"
    yield f":{number}"
    server.terminate()
    server.wait()


@pytest.fixture
def sit_down(screen: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[], Person]]:
    """Opens a new window of 1280 × 800 with the real front desk and puts somebody before it; one at a time."""
    import pygame

    pygame.display.quit()
    for name, value in {
        "SDL_VIDEODRIVER": "x11",
        "DISPLAY": screen,
        "SDL_VIDEO_WINDOW_POS": "0,0",
        "SDL_FRAMEBUFFER_ACCELERATION": "0",
        "LC_ALL": "C.UTF-8",
    }.items():
        monkeypatch.setenv(name, value)
    seated: list[Person] = []

    def sit() -> Person:
        who = Person.at_a_new_window(tmp_path, screen)
        seated.append(who)
        return who

    yield sit
    for who in seated:
        who.app.leave_session()
    pygame.display.quit()


@pytest.fixture
def person(sit_down: Callable[[], Person]) -> Person:
    """A person before a new window."""
    return sit_down()


@pytest.fixture
def call_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """A job at the front desk with one fault in it: a core of an edge's line is broken. Returns its title."""
    folder = tmp_path / "scenarios"
    (folder / "jobs").mkdir(parents=True)
    (folder / "sites").symlink_to(library.scenarios_folder() / "sites")
    (folder / "jobs" / "stays_shut.yaml").write_text(CALL_OUT, encoding="utf-8")
    monkeypatch.setattr(library, "scenarios_folder", lambda: folder)
    return "The gate that stays shut"
