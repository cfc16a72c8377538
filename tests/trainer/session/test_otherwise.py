"""The same acts on a gate without the fault: what a reading owes to it is the difference."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.faults.catalogue import FAULTS
from trainer.job import load_job, resolve
from trainer.session.desk import Desk

JOB = """\
format: gudgeon-job/1
title: A small one
site: bench.yaml
brief: It stopped.
arrival: {sheet: {leaves fitted: "2", drive kind: linear ram, opens first: active}, faults: [{fault: %s}]}
teaching: Look first.
acceptance: [cause found]
"""

SITES = Path(__file__).parents[3] / "scenarios" / "sites"


@pytest.mark.parametrize("fault", ["worn brushes", "stop circuit open", "motor winding open"])
def test_the_reading_that_shows_a_fault_reads_as_of_a_sound_gate(fault: str, tmp_path: Path) -> None:
    """The catalogue's own measurement of it: in the faulty band here, in the healthy one there."""
    (tmp_path / "bench.yaml").write_bytes((SITES / "reference_bench.yaml").read_bytes())
    (tmp_path / "small.yaml").write_text(JOB % fault, encoding="utf-8")
    session = Desk(folder=tmp_path / "kept").begin(resolve(load_job(tmp_path / "small.yaml"), 0), "small")
    try:
        reference = FAULTS[fault].reference
        for step in reference.steps:
            assert session.do(step.kind, step.arguments).accepted
        history = session.history()
        there = session.assignment.otherwise(history)[fault](history.end)
        halfway = history.entries[len(history.entries) // 2].at
        begun = session.assignment.otherwise(history)[fault](halfway)
    finally:
        session.close()
    assert 0 < len(begun.entries) < len(there.entries)
    assert begun.entries == there.entries[: len(begun.entries)]
    assert there.entries[len(begun.entries)].at > halfway
    assert begun.events == there.events[: len(begun.events)]
    ours, theirs = ([e for e in each.events if e.kind == "reading"][-1].data for each in (history, there))
    assert reference.faulty.holds(float(ours["value"]), str(ours["shown"]))
    assert reference.healthy.holds(float(theirs["value"]), str(theirs["shown"]))
    assert there.standing.had == ()
    assert [entry.action for entry in there.entries] == [entry.action for entry in history.entries]
