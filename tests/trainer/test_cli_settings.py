"""`gudgeon settings`: the sheet as its catalogue has it, for people, for programs, and as a page."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from sim.controller.rules import CONTRADICTIONS, WARNINGS
from sim.controller.settings import CATALOGUE


def test_the_list_has_a_line_for_each_setting(gudgeon: Callable[..., Any]) -> None:
    """Name and default stand on one line under the group's head."""
    code, out, _ = gudgeon("settings")
    assert code == 0
    for entry in CATALOGUE.values():
        default = entry.default if isinstance(entry.default, str) else f"{entry.default:g} {entry.unit}"
        assert [line for line in out.splitlines() if line.startswith(f"  {entry.name} ") and default.strip() in line]
        assert f"\n{entry.group}\n" in f"\n{out}"


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_one_setting_in_words(gudgeon: Callable[..., Any], name: str) -> None:
    """Its help, and every rule that names it with the other settings of the rule."""
    code, out, _ = gudgeon("settings", *name.split())
    said = " ".join(out.split())
    assert code == 0
    assert CATALOGUE[name].help in said
    for rule in (*CONTRADICTIONS, *WARNINGS):
        assert (rule.reason in said) >= (name in rule.settings)
        if name in rule.settings and len(rule.settings) > 1:
            assert f"(with {', '.join(n for n in rule.settings if n != name)}) {rule.reason}" in said


def test_as_data(gudgeon: Callable[..., Any]) -> None:
    """Every setting with unit and range or its choices, and what it depends on."""
    rows = json.loads(gudgeon("settings", "--json")[1])
    assert [row["name"] for row in rows] == list(CATALOGUE)
    one = json.loads(gudgeon("settings", "run speed", "--json")[1])
    assert one in rows
    assert (one["unit"], one["least"], one["most"], one["step"], one["default"]) == ("%", 40.0, 100.0, 5.0, 100.0)
    assert one["depends on"] == ["slow speed"]


def test_as_a_page(gudgeon: Callable[..., Any]) -> None:
    """Markdown with a head for every group and every setting, and nothing twice."""
    lines = gudgeon("settings", "--markdown")[1].splitlines()
    assert [line[4:] for line in lines if line.startswith("### ")] == list(CATALOGUE)
    heads = [line for line in lines if line.startswith("## ")]
    assert len(heads) == len(set(heads)) == len({entry.group for entry in CATALOGUE.values()})


def test_a_slip_of_the_pen_is_answered_with_the_right_name(gudgeon: Callable[..., Any]) -> None:
    """Code 2, one sentence, no traceback."""
    code, out, told = gudgeon("settings", "autoclose")
    assert (code, out) == (2, "")
    assert told.strip() == "the sheet has no setting 'autoclose'; did you mean 'auto-close'?"
