"""What is kept between runs is whole or not there, and doesn't grow without end."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from trainer import kept


def test_a_file_is_written_whole_in_a_folder_that_comes_with_it(tmp_path: Path) -> None:
    """The folder need not be there; a second text takes the place of the first, and nothing lies about."""
    file = tmp_path / "made" / "one.json"
    kept.put(file, b"first")
    kept.put(file, b"second")
    assert file.read_bytes() == b"second"
    assert list(file.parent.iterdir()) == [file]


def test_who_is_interrupted_leaves_what_was_there(tmp_path: Path, monkeypatch) -> None:
    """The new text takes the old one's place in one act; before that nothing of it is seen."""

    def interrupted(_self: Path, _to: Path) -> None:
        raise KeyboardInterrupt

    file = tmp_path / "one.json"
    kept.put(file, b"first")
    monkeypatch.setattr(Path, "replace", interrupted)
    with pytest.raises(KeyboardInterrupt):
        kept.put(file, b"second")
    assert file.read_bytes() == b"first"
    assert list(tmp_path.iterdir()) == [file]


def test_what_nobody_asked_for_longest_goes_first(tmp_path: Path) -> None:
    """Of one kind of file; another kind in the same folder stays."""
    for age, name in enumerate(("old.json", "asked for.json", "young.json", "old.txt")):
        (tmp_path / name).write_bytes(b"")
        os.utime(tmp_path / name, (1000 + age, 1000 + age))
    kept.touch(tmp_path / "old.json")
    kept.put(tmp_path / "new.json", b"", most=3)
    assert {each.name for each in tmp_path.iterdir()} == {"new.json", "old.json", "young.json", "old.txt"}


def test_a_folder_that_cant_be_made_is_told(tmp_path: Path) -> None:
    """Whoever keeps decides what that means."""
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(OSError, match="file"):
        kept.put(tmp_path / "file" / "one.json", b"")
