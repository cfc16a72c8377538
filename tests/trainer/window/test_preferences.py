"""Preferences: they outlive the window, and no file can stop it or be lost by it."""

from __future__ import annotations

import json
import math
import os
from dataclasses import asdict, replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.window.app import App
from trainer.window.canned import CannedDesk
from trainer.window.preferences import MOST_BYTES, Keeper, Preferences, checked

OTHER = Preferences("engineer", "it", 1.4, True, False, 0.25, "high", "safe")


def written(path: Path, text: str) -> Path:
    """The file with this text."""
    path.write_text(text, encoding="utf-8")
    return path


def test_what_was_taken_is_there_at_the_next_start(tmp_path) -> None:
    """Also where the folder wasn't there yet."""
    path = tmp_path / "new" / "window.json"
    keeper = Keeper(path)
    assert (keeper.now, keeper.trouble) == (Preferences(), "")
    keeper.take(OTHER)
    assert keeper.write() == ""
    assert Keeper(path).now == OTHER
    assert [file.name for file in path.parent.iterdir()] == ["window.json"]


def test_what_a_killed_window_left_half_written_is_cleared_away(tmp_path) -> None:
    """Once it is hours old: another window may be writing."""
    path = tmp_path / "window.json"
    old, fresh = (written(tmp_path / f"window.json.{number}.new", "{") for number in (1, 2))
    os.utime(old, (1.0, 1.0))
    keeper = Keeper(path)
    keeper.take(OTHER)
    assert keeper.write() == ""
    assert sorted(file.name for file in tmp_path.iterdir()) == [path.name, fresh.name]


def test_nothing_is_written_when_nothing_was_changed(tmp_path) -> None:
    """Opening and closing the window leaves the disk as it was."""
    keeper = Keeper(tmp_path / "window.json")
    keeper.take(Preferences())
    assert keeper.write() == ""
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "text", ["", "{", "[1, 2]", "nonsense", '{"calm": true' + " " * MOST_BYTES + "}", "[" * 40_000, "\x00\x01"]
)
def test_a_broken_file_is_told_and_kept(tmp_path, text) -> None:
    """The window starts as if there were none; the file is still there under another name after the first write."""
    path = written(tmp_path / "window.json", text)
    keeper = Keeper(path)
    assert keeper.now == Preferences()
    assert str(path) in keeper.trouble
    assert "Nothing was lost" in keeper.trouble
    keeper.take(OTHER)
    assert keeper.write() == ""
    assert (tmp_path / "window-kept-1.json").read_text(encoding="utf-8") == text
    assert Keeper(path).now == OTHER


def test_a_second_broken_file_is_kept_beside_the_first(tmp_path) -> None:
    """Nothing that was put aside is written over."""
    for number in (1, 2):
        keeper = Keeper(written(tmp_path / "window.json", f"broken {number}"))
        keeper.take(replace(Preferences(), volume=0.1 * number))
        keeper.write()
    kept = sorted(file.read_text(encoding="utf-8") for file in tmp_path.glob("window-kept-*.json"))
    assert kept == ["broken 1", "broken 2"]


def test_a_value_that_cant_be_used_is_told_and_the_others_hold(tmp_path) -> None:
    """What was read, what is allowed; and the file as it was is put aside."""
    told = {**asdict(OTHER), "text_scale": 9, "contrast": "loud", "calm": "yes"}
    keeper = Keeper(written(tmp_path / "window.json", json.dumps(told)))
    assert keeper.now == replace(OTHER, text_scale=1.0, contrast="ordinary", calm=False)
    for part in ('contrast: read "loud"; allowed: ordinary, high', "a number from 1 to 2", 'calm: read "yes"'):
        assert part in keeper.trouble
    keeper.take(replace(keeper.now, volume=0.9))
    keeper.write()
    assert json.loads((tmp_path / "window-kept-1.json").read_text(encoding="utf-8")) == told


def test_what_another_version_wrote_is_written_back(tmp_path) -> None:
    """A newer window may keep more there."""
    path = written(tmp_path / "window.json", json.dumps({"volume": 0.3, "of_the_future": {"deep": [1]}}))
    keeper = Keeper(path)
    assert keeper.trouble == ""
    keeper.take(replace(keeper.now, calm=True))
    keeper.write()
    now = json.loads(path.read_text(encoding="utf-8"))
    assert (now["of_the_future"], now["volume"], now["calm"]) == ({"deep": [1]}, 0.3, True)


def test_a_place_that_cant_be_written_is_told(tmp_path) -> None:
    """The choice holds all the same until the window closes."""
    (tmp_path / "wall").write_text("a file where a folder should be", encoding="utf-8")
    keeper = Keeper(tmp_path / "wall" / "window.json")
    keeper.take(OTHER)
    assert "could not be written" in keeper.write()
    assert keeper.now == OTHER


plain = st.none() | st.booleans() | st.integers() | st.floats() | st.text("aens_h 1é", max_size=8)
anything = plain | st.lists(plain, max_size=2) | st.builds(lambda inner: {"deep": inner}, plain)


@given(st.dictionaries(st.sampled_from([*asdict(OTHER), "other"]), anything))
def test_whatever_was_read_preferences_are_within_their_bounds(data) -> None:
    """No value from outside reaches the window unchecked, and what was checked is good when it is read again."""
    found, problems = checked(data)
    assert 1.0 <= found.text_scale <= 2.0
    assert 0.0 <= found.volume <= 1.0
    assert math.isfinite(found.text_scale + found.volume)
    assert found.contrast in ("ordinary", "high")
    assert found.colours in ("ordinary", "safe")
    assert found.who in ("apprentice", "instructor", "engineer")
    assert all(isinstance(value, bool) for value in (found.calm, found.sound))
    assert checked(asdict(found)) == (found, [])
    assert len(problems) <= len(data)


def test_the_window_keeps_what_was_changed_in_it(tmp_path) -> None:
    """Once it has settled: not at every frame of a slider that is being moved."""
    path = tmp_path / "window.json"
    app = App(CannedDesk(), keeper=Keeper(path))
    app.appearance.prefer(text_scale=1.3)
    app.appearance.prefer(calm=True)
    app.frame(0.05)
    assert not path.exists()
    for _ in range(12):
        app.frame(0.05)
    again = App(CannedDesk(), keeper=Keeper(path))
    assert (again.appearance.now.text_scale, again.root.calm) == (1.3, True)


def test_the_window_says_that_its_file_is_broken(tmp_path) -> None:
    """And goes on."""
    app = App(CannedDesk(), keeper=Keeper(written(tmp_path / "window.json", "{")))
    app.frame(0.0)
    assert "could not be read" in app.root.toasts.shown[0].text
    assert app.running
