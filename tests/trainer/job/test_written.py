"""Scenario files that the program writes itself are read again as what was written."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.site import read_yaml
from trainer.job.written import as_yaml

LONG = {f"the {name} setting of several words": 20.0 for name in ("first", "second", "third", "fourth", "fifth")}


@pytest.mark.parametrize("padding", range(0, 40, 3))
def test_a_sheet_longer_than_a_line_is_read_again_as_it_was(tmp_path: Path, padding: int) -> None:
    """Wherever in it a line would end: also within a key of several words (YAML 1.2: a key stands on one line)."""
    data = {"arrival": {"sheet": {"x" * (padding + 1): "on", **LONG}, "learned": True}, "draw": [{"site": LONG}]}
    file = tmp_path / "written.yaml"
    file.write_text(as_yaml(data), encoding="utf-8")
    assert read_yaml(file).data == data
