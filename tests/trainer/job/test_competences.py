"""A college's list of competences: read strictly, and refused with file, line and the nearest right name."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sim.errors import ScenarioError
from trainer.grading import read_competences
from trainer.job import scenarios_folder

LIST = """format: gudgeon-competences/1
title: First year
competences:
  - name: Proves what protects
    about: Trips every guard.
    checks: [guards proved, looked before concluding, sheet sealed]
    rules: [bridge left]
"""


def written(folder: Path, text: str) -> Path:
    """A file with this text."""
    file = folder / "list.yaml"
    file.write_text(text, encoding="utf-8")
    return file


def test_a_list_is_read(tmp_path: Path) -> None:
    """Checks that a job asks for, and those judged beside them, may be named; so may safety rules."""
    made = read_competences(written(tmp_path, LIST))
    assert made.title == "First year"
    assert made.competences[0].checks == ("guards proved", "looked before concluding", "sheet sealed")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("guards proved", "guards prooved", "list.yaml:6:14 competences.0.checks.0: there is no check "
         "'guards prooved'; did you mean 'guards proved'?"),
        ("bridge left", "zzz", "list.yaml:7:13 competences.0.rules.0: there is no safety rule 'zzz'; there are: "),
        ("[bridge left]", "[bridge left, bridge left]", "competences.0.rules.1: 'bridge left' stands here twice"),
        ("    rules: [bridge left]\n", "    rules: [bridge left]\n  - {name: Proves what protects, about: A., "
         "checks: [guards proved]}\n", "competences.1.name: 'Proves what protects' stands here twice"),
        ("[guards proved, looked before concluding, sheet sealed]", "[]", "competences.0.checks"),
        ("    about: Trips every guard.\n", "", "list.yaml:4:5 competences.0: the key 'about' is missing"),
        (LIST[LIST.index("competences:\n") :], "competences: []\n", "list.yaml:3:1 competences: nothing stands here"),
        ("about:", "abuot:", "did you mean 'about'?"),
        ("competences/1", "competences/2", "allowed: gudgeon-competences/1"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_with_its_place(tmp_path: Path, old: str, new: str, told: str) -> None:
    """Each mistake with file, line and key, what was read, and the nearest right name or what is allowed."""
    with pytest.raises(ScenarioError, match=re.escape(told)):
        read_competences(written(tmp_path, LIST.replace(old, new)))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.integers(0, len(LIST)), st.integers(0, 12), st.text(max_size=6))
def test_a_spoilt_file_is_refused_in_sentences(tmp_path: Path, at: int, cut: int, put: str) -> None:
    """Anything cut out or put in anywhere: a list, or sentences that name the file; never another error."""
    file = tmp_path / "list.yaml"
    file.write_bytes((LIST[:at] + put + LIST[at + cut :]).encode("utf-8", "surrogatepass"))
    told = ""
    try:
        made = read_competences(file)
    except ScenarioError as error:
        told = str(error)
    assert "list.yaml" in told if told else made.competences


@pytest.mark.parametrize("file", sorted((scenarios_folder() / "competences").glob("*.yaml")), ids=lambda f: f.stem)
def test_what_is_shipped_is_good(file: Path) -> None:
    """Every list in the repository names checks and rules that there are."""
    assert read_competences(file).competences
