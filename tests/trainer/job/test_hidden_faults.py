"""A job that is found with faults: they are in the gate, and named nowhere that a trainee can see."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from sim.units import SECOND, Us
from trainer.job import load_drill, load_job
from trainer.job.draw import resolve
from trainer.job.script import Inject
from trainer.session.desk import Desk, build_world

Edit = Callable[[str, str, str], Path]

FAULT = "corroded splice in a buried motor cable"


def test_what_the_arrival_says_has_failed_has(edit: Edit) -> None:
    """By name, as grave as it says."""
    path = edit("jobs/small.yaml", 'mains: "off", ', f'mains: "off", faults: [{{fault: {FAULT}, share: 0.5}}], ')
    world = build_world(resolve(load_job(path), 0))
    assert world.faults.present == ((FAULT, 0.5),)
    assert world.faults.in_force == (FAULT,)


def test_an_unknown_fault_is_refused_at_its_line(edit: Edit, said: Callable[[Callable[[], object]], str]) -> None:
    """With the nearest right name."""
    path = edit("jobs/small.yaml", 'mains: "off", ', f'mains: "off", faults: [{{fault: {FAULT[:-1]}}}], ')
    sentence = said(lambda: load_job(path))
    assert "small.yaml:7:" in sentence
    assert f"did you mean '{FAULT}'" in sentence


@pytest.mark.parametrize(
    ("value", "says"),
    [
        ("fault: nothing at all", "there is no such fault"),
        (f"fault: {{name: {FAULT}, share: 2}}", "0 (mild) to 1 (grave)"),
        (f"fault: {{nam: {FAULT}}}", "a fault's name, or a mapping"),
    ],
)
def test_a_drill_that_injects_what_cannot_be_is_refused(
    edit: Edit, said: Callable[[Callable[[], object]], str], value: str, says: str
) -> None:
    """Before anything is played."""
    path = edit("drills/small.yaml", "cover: outer beam", value)
    assert says in said(lambda: load_drill(path))


def test_a_drill_injects_a_fault_with_its_share(edit: Edit) -> None:
    """As the instructor will bring it."""
    path = edit("drills/small.yaml", "cover: outer beam", f"fault: {{name: {FAULT}, share: 0.25}}")
    acts = [step.act for step in load_drill(path).steps if isinstance(step.act, Inject)]
    assert [(act.what, act.target, dict(act.changes)) for act in acts] == [("fault", FAULT, {"share": 0.25})]


def test_nothing_that_a_trainee_sees_or_saves_names_it(edit: Edit, tmp_path: Path) -> None:
    """Neither what a session shows nor what it writes to disk."""
    path = edit("jobs/small.yaml", 'mains: "off", ', f'mains: "off", faults: [{{fault: {FAULT}}}], ')
    session = Desk(folder=tmp_path / "kept").begin(resolve(load_job(path), 0), "small")
    try:
        assert session.world.faults.present == ((FAULT, 1.0),)
        session.run_for(Us(2 * SECOND))
        seen = repr(session.observe())
    finally:
        session.close()
    written = "".join(file.read_text(encoding="utf-8") for file in (tmp_path / "kept").rglob("*") if file.is_file())
    assert written
    for text in (seen, written):
        assert FAULT not in text
        assert "corroded" not in text
