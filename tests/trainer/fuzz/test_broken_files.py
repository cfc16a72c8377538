"""Broken files for a short while; `python -m tests.trainer.fuzz.hour` does it for an hour."""

from __future__ import annotations

import contextlib
import random
from pathlib import Path

import pytest

from tests.trainer.fuzz.broken_files import Ground, _at_most, _watched, broken, files


@pytest.fixture(scope="module")
def ground(tmp_path_factory: pytest.TempPathFactory) -> Ground:
    return Ground(tmp_path_factory.mktemp("scenarios"))


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(3))
def test_a_broken_file_is_refused_in_sentences_or_still_good(ground: Ground, seed: int) -> None:
    """Each kind of folder's files, one a seed: no traceback, no hang, nothing written."""
    chosen = random.Random(seed).sample(files(), 12)
    wrong = {str(file): ground.attempt(file, seed)[1] for file in chosen}
    assert {file: what for file, what in wrong.items() if what} == {}


def test_what_is_broken_differs_and_comes_again() -> None:
    """By seed."""
    text = (Path(__file__).parents[3] / "scenarios" / "sites" / "mill_lane.yaml").read_text(encoding="utf-8")
    made = [broken(text, random.Random(seed)) for seed in range(20)]
    assert made == [broken(text, random.Random(seed)) for seed in range(20)]
    assert len({*made, text}) > 15


def test_the_watch_sees_what_is_written_and_what_hangs(tmp_path: Path) -> None:
    """Else the rest would show nothing."""
    with _watched() as written:
        (tmp_path / "x").write_text("x", encoding="utf-8")
        (tmp_path / "x").read_text(encoding="utf-8")
        (tmp_path / "y").mkdir()
    assert written == {str(tmp_path / "x"), f"os.mkdir {tmp_path / 'y'}"}

    def hang() -> None:
        while True:
            pass

    with pytest.raises(TimeoutError), _at_most(0.05):
        hang()
    with contextlib.suppress(FileNotFoundError), _watched() as written:
        (tmp_path / "none").unlink()
    assert written == {f"os.remove {tmp_path / 'none'}"}
