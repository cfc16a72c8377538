"""Hints for an attempt: from the table of its gate, once that is there."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from tests.trainer.diagnosis.test_deep import JOB, SITES
from trainer.diagnosis import advising
from trainer.diagnosis.advising import Advice
from trainer.diagnosis.keeping import Tables
from trainer.job import load_job, resolve
from trainer.session.desk import Desk


@pytest.fixture
def resolved(tmp_path: Path):
    for folder in ("sites", "jobs"):
        (tmp_path / folder).mkdir()
    (tmp_path / "sites" / "mill_lane.yaml").write_bytes((SITES / "mill_lane.yaml").read_bytes())
    file = tmp_path / "jobs" / "asks.yaml"
    text = JOB.format(fault="edge line broken", tools="[multimeter]").replace("  learned: true\n", "")
    file.write_text(text, encoding="utf-8")
    return resolve(load_job(file), 0)


def test_hints_come_from_the_table_of_the_gate(resolved, small, tmp_path) -> None:
    """In rising strength, through the session's own door, and with what is in the bag."""
    tables = Tables(tmp_path / "tables")
    tables.keep(resolved.job.base_site, small)
    session = Desk(folder=tmp_path / "own", advises=lambda each: Advice(each, tables)).begin(resolved, "asks")
    told = []
    for _ in range(4):
        told.append(session.do("ask for a hint").text)
        session.do("measure", {"instrument": "look", "function": "stops", "at": "active"})
    session.close()
    assert len(set(told)) == 4
    assert "edge line broken" not in " ".join(told)


def test_a_table_that_is_not_there_is_made_by_another_process_once(resolved, tmp_path, monkeypatch) -> None:
    """Whoever asks is told to ask again; when that ended without a table, that it can't be had."""
    begun = []

    class Process:
        ended = None

        def __init__(self, command, **_given) -> None:
            begun.append(command)

        def poll(self):
            return self.ended

    monkeypatch.setattr(subprocess, "Popen", Process)
    advice = Advice(resolved, Tables(tmp_path / "tables"))
    assert "ask again" in advice.unready()
    assert "ask again" in advice.unready()
    assert len(begun) == 1
    assert begun[0][-1].endswith("mill_lane.yaml")
    Process.ended = 0
    assert "can't be worked out" in advice.unready()


def test_the_other_process_keeps_the_table(small, site, tmp_path, monkeypatch) -> None:
    """What it does, but for making a whole table."""
    monkeypatch.setattr("os.nice", lambda _by: 0)
    monkeypatch.setattr("trainer.diagnosis.site_table.make", lambda _site, told=None: small)
    monkeypatch.setattr(advising, "Tables", lambda heard: Tables(tmp_path, heard))
    advising.work(SITES / "mill_lane.yaml")
    assert Tables(tmp_path).find(site).causes == small.causes
