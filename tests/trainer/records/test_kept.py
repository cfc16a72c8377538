"""Kept results are read back with care: graded again to the same mark, and refused in a sentence when damaged."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sim.errors import DataError
from tests.trainer.records.conftest import Keep, features
from trainer.records import graded_attempts, read_kept
from trainer.session.attempt import best_mark, keep_result, read_about

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=8,
)


def places(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Where something stands in data."""
    found = [path] if path else []
    inner = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, each in inner:
        found += places(each, (*path, key))
    return found


def test_a_kept_result_grades_to_the_same_mark(keep: Keep) -> None:
    """By the weights it was made by, whatever was passed and whatever was unsafe."""
    for number, made in enumerate((features(), features(2), features(0), features(4, grave=True))):
        kept = read_kept(keep("dim_beam", "guards", number, made))
        assert kept.today == kept.stored


def test_another_model_of_grading_keeps_its_mark(keep: Keep) -> None:
    """Features of a model that is no longer computed are not graded by another one; the mark stands."""
    folder = keep("dim_beam", "guards", 0)
    data = json.loads((folder / "result.json").read_text())
    data["features"]["grade_model"] = "gudgeon-grade/0"
    data["score"] = 77.0
    (folder / "result.json").write_text(json.dumps(data))
    kept = read_kept(folder)
    assert kept.today is None
    assert kept.computed.score == 77.0


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=200)
@given(st.data())
def test_whatever_stands_in_a_result_is_read_or_refused_in_a_sentence(keep: Keep, data: st.DataObject) -> None:
    """Anything anywhere in the file: a mark of 0 to 100, or one sentence that names the file; never another error."""
    folder = keep("dim_beam", "guards", 0)
    result = json.loads((folder / "result.json").read_text())
    *above, key = data.draw(st.sampled_from(places(result)))
    inner = result
    for each in above:
        inner = inner[each]
    inner[key] = data.draw(JSON)
    (folder / "result.json").write_text(json.dumps(result))
    told = ""
    try:
        kept = read_kept(folder)
    except DataError as error:
        told = str(error)
    assert str(folder / "result.json") in told if told else kept.today is None or 0.0 <= kept.today.score <= 100.0


@pytest.mark.parametrize("file", ["result.json", "attempt.json"])
@pytest.mark.parametrize("text", ["", "[]", "{}", "{", "\x00", '{"format": "gudgeon-attempt/9"}'])
def test_a_damaged_attempt_is_told_and_the_others_are_read(keep: Keep, tmp_path: Path, file: str, text: str) -> None:
    """One sentence that names the file; nobody else's attempt is lost by it, nor the list of jobs."""
    bad, good = keep("dim_beam", "guards", 0), keep("dim_beam", "guards", 1)
    (bad / file).write_text(text)
    attempts, troubles = graded_attempts(tmp_path, {})
    assert [each.folder for each in attempts] == [good]
    assert len(troubles) == 1
    assert str(bad / file) in troubles[0]
    assert best_mark([bad, good]) == 100.0


def test_looking_at_an_old_attempt_grades_nothing_anew(keep: Keep) -> None:
    """The same end keeps its result and its day; another end, after going on from an earlier moment, has its own."""
    folder = keep("dim_beam", "guards", 0)
    before, about = (folder / "result.json").read_bytes(), read_about(folder)
    keep_result(folder, {"score": 1.0}, end_line=9)
    assert (folder / "result.json").read_bytes() == before
    assert read_about(folder) == about
    keep_result(folder, {"score": 1.0}, end_line=12)
    assert json.loads((folder / "result.json").read_text()) == {"score": 1.0, "end_line": 12}
