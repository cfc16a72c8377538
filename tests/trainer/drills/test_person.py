"""An instructor beside a person: heard once, and time stands still while he asks."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.units import Us
from trainer.drills import begin
from trainer.drills.person import PersonAtWork
from trainer.job import load_drill
from trainer.session.desk import Desk

DRILL = """\
format: gudgeon-drill/1
title: Two words
job: meet_the_gate.yaml
steps:
  - at: 1.0
    message: Good morning.
  - at: 2.0
    freeze: What do you see?
  - at: 3.0
    message: Go on then.
"""

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture
def at_work(tmp_path: Path) -> tuple[PersonAtWork, list[str]]:
    """A person in the drill above, and what she heard."""
    folder = tmp_path / "scenarios/drills"
    folder.mkdir(parents=True)
    for name in ("jobs", "sites"):
        (tmp_path / "scenarios" / name).symlink_to(ROOT / "scenarios" / name)
    (folder / "two_words.yaml").write_text(DRILL, encoding="utf-8")
    session, instructor = begin(load_drill(folder / "two_words.yaml"), Desk(folder=tmp_path / "attempts"))
    heard: list[str] = []
    return PersonAtWork(session, instructor, heard.append), heard


def ticks(person: PersonAtWork, count: int) -> float:
    """Let frames of 100 ms pass; the simulated seconds since arrival afterwards."""
    for _ in range(count):
        person.tick(0.1)
    return person.session.clock_us / 1e6


def test_he_is_heard_once_and_time_waits_for_the_answer(at_work: tuple[PersonAtWork, list[str]]) -> None:
    """A message is said once; a question holds time until the person lets it go on."""
    person, heard = at_work
    assert ticks(person, 15) == pytest.approx(1.5)
    assert heard == ["Good morning."]
    assert ticks(person, 20) == pytest.approx(2.0, abs=0.11)
    assert heard == ["Good morning.", "What do you see?"]
    person.pause(False)
    assert ticks(person, 15) == pytest.approx(3.5, abs=0.11)
    assert heard == ["Good morning.", "What do you see?", "Go on then."]
    assert not person.observe().paused
    person.close()
    person.session.close()


def test_going_back_takes_him_along(at_work: tuple[PersonAtWork, list[str]]) -> None:
    """After somebody went back in time he stands beside the new present and goes on with his script."""
    person, heard = at_work
    ticks(person, 15)
    assert person.go_on_from(Us(1_200_000)).accepted
    ticks(person, 20)
    assert heard[-1] == "What do you see?"
    assert person.session.clock_us >= 1_900_000
    person.close()
    person.session.close()
