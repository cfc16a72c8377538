"""Rulings on disk: only ever added, never in place of the result, and refused in a sentence when damaged."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from sim.errors import JournalError
from tests.trainer.records.conftest import Keep, features
from trainer.grading import Ruling, add_ruling, read_rulings
from trainer.records import graded_attempts
from trainer.session.attempt import keep_result

WHEN = "2026-05-04T09:30:00+00:00"
RULED = Ruling("guards proved", "failed", "T. Marsh", "The inner beam never was.", WHEN)


def test_a_ruling_stands_beside_the_result(keep: Keep, tmp_path: Path) -> None:
    """The result keeps its bytes; the record counts the overruled mark and knows both."""
    folder = keep("dim_beam", "guards", 0)
    before = (folder / "result.json").read_bytes()
    assert add_ruling(folder, features(), RULED) == (RULED,)
    second = Ruling("guards proved", "passed", "T. Marsh", "I was wrong.", WHEN, points=2.0)
    assert add_ruling(folder, features(), second) == (RULED, second)
    assert read_rulings(folder) == (RULED, second)
    assert (folder / "result.json").read_bytes() == before
    (attempt,), _ = graded_attempts(tmp_path, {})
    assert attempt.kept.stored.score == 100.0
    assert attempt.mark.score == 98.0


def test_rulings_on_a_result_that_gave_way_do_not_count(keep: Keep) -> None:
    """Who went on from an earlier moment and ended anew is judged anew; what was ruled before stays in the file."""
    folder = keep("dim_beam", "guards", 0)
    add_ruling(folder, features(), RULED)
    result = json.loads((folder / "result.json").read_text())
    keep_result(folder, result, end_line=20)
    assert read_rulings(folder) == ()
    assert add_ruling(folder, features(), RULED) == (RULED,)
    assert len(json.loads((folder / "overruled.json").read_text())["rulings"]) == 2


@pytest.mark.parametrize(
    "change",
    [
        {"outcome": "splendid"},
        {"points": 101},
        {"points": "7"},
        {"points": True},
        {"by": ""},
        {"by": 3},
        {"part": "garden"},
        {"when": "yesterday"},
        {"reason": "x" * 401},
        {"end_line": "9"},
    ],
)
def test_a_damaged_ruling_is_told(keep: Keep, tmp_path: Path, change: dict[str, Any]) -> None:
    """File and place in one sentence, and the record leaves that attempt out aloud."""
    folder = keep("dim_beam", "guards", 0)
    add_ruling(folder, features(), RULED)
    data = json.loads((folder / "overruled.json").read_text())
    data["rulings"][0] |= change
    (folder / "overruled.json").write_text(json.dumps(data))
    with pytest.raises(JournalError, match=r"overruled\.json"):
        read_rulings(folder)
    attempts, troubles = graded_attempts(tmp_path, {})
    assert attempts == []
    assert len(troubles) == 1
