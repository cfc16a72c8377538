"""`gudgeon chart`: the states of the controller as a table, a drawing and a Mermaid chart."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree

import pytest

from sim.controller.machine import ROWS, State, chart
from trainer import cli
from trainer.reports import state_chart

Said = tuple[int, str, str]


@pytest.fixture
def gudgeon(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]) -> Callable[..., Said]:
    """Run the installed command's own entry in this process, as wide as a page: (code, output, errors)."""
    monkeypatch.setenv("COLUMNS", "400")
    monkeypatch.setenv("NO_COLOR", "1")

    def run(*arguments: object) -> Said:
        monkeypatch.setattr(sys, "argv", ["gudgeon", *(str(argument) for argument in arguments)])
        code = 0
        try:
            cli.main()
        except SystemExit as ended:
            code = ended.code if isinstance(ended.code, int) else 1
        printed = capfd.readouterr()
        return code, printed.out, printed.err

    return run


def test_the_table_has_a_line_for_each_trigger(gudgeon: Callable[..., Said]) -> None:
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


def test_it_writes_what_is_asked_for(gudgeon: Callable[..., Said], tmp_path: Path) -> None:
    """A drawing that any viewer opens, and the chart that the tests keep."""
    drawing, mermaid = tmp_path / "states.svg", tmp_path / "states.mmd"
    code, out, _ = gudgeon("chart", "--svg", drawing, "--mermaid", mermaid)
    assert (code, out) == (0, "")
    assert ElementTree.parse(drawing).getroot().tag.endswith("svg")
    assert drawing.read_text(encoding="utf-8") == state_chart.svg()
    assert mermaid.read_text(encoding="utf-8") == chart()


def test_a_file_that_cannot_be_written_is_said_in_words(gudgeon: Callable[..., Said], tmp_path: Path) -> None:
    """Code 2, one sentence, nothing written."""
    code, _, told = gudgeon("chart", "--svg", tmp_path / "no folder" / "states.svg", "--mermaid", tmp_path / "s.mmd")
    assert code == 2
    assert "no folder/states.svg: can't be written" in told
    assert not (tmp_path / "s.mmd").exists()
