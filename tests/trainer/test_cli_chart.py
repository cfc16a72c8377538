"""`gudgeon chart`: the states of the controller as a table, a drawing and a Mermaid chart."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from sim.controller.machine import ROWS, State, chart
from trainer.reports import state_chart


def test_the_table_has_a_line_for_each_trigger(gudgeon: Callable[..., Any]) -> None:
    """Where it is taken and where it leads; what may be taken nearly everywhere says where it may not."""
    code, out, _ = gudgeon("chart")
    assert code == 0
    cells = {row[0]: row[1:] for row in (re.split(r"\s{2,}", line.strip()) for line in out.splitlines())}
    for trigger, sources, target in ROWS:
        where, leads_to = cells[trigger]
        assert leads_to == target.value
        named = set(where.removeprefix("anything but ").split("; "))
        taken = {state.value for state in sources}
        assert named == ({state.value for state in State} - taken if where.startswith("anything but ") else taken)
    assert cells["power fails"][0] == "anything but no power"


def test_it_writes_what_is_asked_for(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """A drawing that any viewer opens, and the chart that the tests keep."""
    drawing, mermaid = tmp_path / "states.svg", tmp_path / "states.mmd"
    code, out, _ = gudgeon("chart", "--svg", drawing, "--mermaid", mermaid)
    assert (code, out) == (0, "")
    assert ElementTree.parse(drawing).getroot().tag.endswith("svg")
    assert drawing.read_text(encoding="utf-8") == state_chart.svg()
    assert mermaid.read_text(encoding="utf-8") == chart()


def test_a_file_that_cannot_be_written_is_said_in_words(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """Code 2, one sentence, nothing written."""
    code, _, told = gudgeon("chart", "--svg", tmp_path / "no folder" / "states.svg", "--mermaid", tmp_path / "s.mmd")
    assert code == 2
    assert "no folder/states.svg: can't be written" in told
    assert not (tmp_path / "s.mmd").exists()
