"""The sheet: a catalogue that describes itself, and refusals that say why."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest

from sim.controller.rules import contradiction
from sim.controller.setting import Setting
from sim.controller.settings import CATALOGUE, defaults
from sim.controller.sheet import checked, first_leaf
from sim.errors import ActionError, Refused


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_every_setting_describes_itself(name: str) -> None:
    """A choice with its default among its choices, or an amount in its range; one help sentence that warns."""
    entry = CATALOGUE[name]
    assert entry.help.endswith(".")
    assert entry.help.count(". ") == 0
    assert len(entry.help) > 40
    does, warns = entry.help.split("; ", 1)
    assert len(does) > 10
    assert len(warns) > 10
    if entry.choices:
        assert entry.default in entry.choices
    else:
        assert entry.least is not None
        assert entry.most is not None
        assert entry.step
        assert entry.least <= float(entry.default) <= entry.most


@pytest.mark.parametrize("name", list(CATALOGUE))
def test_names_are_plain_words(name: str) -> None:
    """No abbreviations, no numbers, no codes."""
    assert re.fullmatch(r"[a-z][a-z ,-]+", name)


def test_defaults_stand() -> None:
    """The sheet as it leaves the works contradicts nothing, and declares every guard as fitted."""
    sheet = defaults()
    assert contradiction(sheet) == ""
    assert "not fitted" not in [
        sheet[n] for n in ("outer beam", "inner beam", "active edge", "inactive edge", "stop circuit")
    ]


@pytest.mark.parametrize(
    ("name", "typed", "value"),
    [
        ("leaves fitted", 2, "2"),
        ("leaves fitted", "1", "1"),
        ("soft start", "1,5", 1.5),
        ("soft start", " 2 ", 2.0),
        ("auto-close", True, "on"),
        ("opens first", "Inactive", "inactive"),
        ("obstacle retries", "3", 3.0),
    ],
)
def test_what_is_typed_is_understood(name: str, typed, value) -> None:
    """Numbers and words as people type them."""
    assert checked(defaults(), name, typed) == value


@pytest.mark.parametrize(
    ("name", "typed", "why"),
    [
        ("soft strat", 1, "the sheet has no setting 'soft strat'; did you mean 'soft start'?"),
        ("soft start", 9, "soft start can't be '9'; allowed: 0.3 to 3 s"),
        ("soft start", "long", "soft start can't be 'long'; allowed: 0.3 to 3 s"),
        ("soft start", "nan", "soft start can't be 'nan'; allowed: 0.3 to 3 s"),
        ("soft start", True, "soft start can't be 'True'; allowed: 0.3 to 3 s"),
        ("obstacle retries", 1.5, "obstacle retries can't be '1.5'; a whole number is needed"),
        ("opens first", "left", "opens first can't be 'left'; allowed: not stated, active, inactive"),
    ],
)
def test_what_cannot_be_is_named_with_what_can(name: str, typed, why: str) -> None:
    """A refusal names the value, the place, and what is allowed."""
    with pytest.raises(ActionError) as refused:
        checked(defaults(), name, typed)
    assert str(refused.value) == why


@pytest.mark.parametrize(
    ("before", "name", "typed", "why"),
    [
        ({}, "stop circuit", "not fitted", "a gate that moves by itself needs a stop circuit"),
        ({}, "active edge", "hold", "an edge must take the load off what it touched"),
        ({}, "inactive edge", "halt", "an edge must take the load off what it touched"),
        ({"run speed": 40.0}, "slow speed", 60, "the slow speed would be above the run speed"),
        ({"slow speed": 60.0}, "run speed", 40, "the slow speed would be above the run speed"),
        ({"leaf delay, closing": 15.0}, "run-time limit", 20, "less than 10 s to arrive"),
        ({"run-time limit": 20.0}, "leaf delay, opening", 15, "less than 10 s to arrive"),
        ({"leaves fitted": "1"}, "opens first", "inactive", "has no inactive leaf"),
        ({"opens first": "inactive"}, "leaves fitted", "1", "has no inactive leaf"),
        ({"outer beam": "not fitted", "inner beam": "not fitted"}, "auto-close", "on", "needs a beam"),
        ({"outer beam": "not fitted", "auto-close": "on"}, "inner beam", "not fitted", "needs a beam"),
    ],
)
def test_contradictions_are_refused_with_the_reason(before, name: str, typed, why: str) -> None:
    """What contradicts the rest of the sheet is not written, and the reason is said."""
    with pytest.raises(Refused) as refused:
        checked({**defaults(), **before}, name, typed)
    assert why in str(refused.value)


def test_refused_setting_is_answered_and_logged(fresh) -> None:
    """The panel answers, says it, logs it, and the sheet stays as it was."""
    assert fresh.ask("set", "stop circuit", "not fitted").startswith("refused: stop circuit can't be 'not fitted'")
    panel = fresh.controller.panel()
    assert panel.settings["stop circuit"] == "halt"
    assert not panel.accepted
    assert panel.message.startswith("stop circuit refused: ")
    assert fresh.ask("set", "soft start", 2) == "done: soft start"
    assert fresh.controller.panel().message == ""


AMOUNTS = [name for name, entry in CATALOGUE.items() if not entry.choices]


ENDS = [(name, end) for name in AMOUNTS for end in ("least", "most") if (name[:12], end) != ("motor effort", "least")]
"""A fifth of the motor's rating is less than this gate needs; that end has a test of its own."""


@pytest.mark.parametrize(("name", "end"), ENDS)
def test_gate_works_at_both_ends_of_every_range(gate, name: str, end: str) -> None:
    """Whatever amount is written, the gate still opens, reopens for a beam, and closes."""
    entry = CATALOGUE[name]
    value = entry.least if end == "least" else entry.most
    if name == "run speed" and end == "least":
        gate.write({"slow speed": 20})
    gate.write({name: value})
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.until(gate.closes)
    gate.run(2.0)
    gate.trip("outer beam")
    gate.run(0.01)
    assert gate.duties == (0.0, 0.0)
    gate.run(0.2)
    gate.clear("outer beam")
    gate.until_state("open")
    gate.tap("close button")
    gate.until_state("closed")
    assert gate.positions == (0, 0)


def test_too_little_effort_ends_in_words(gate) -> None:
    """Less effort than the learned load: the gate takes it for an obstacle, stops, and says so."""
    gate.write({"motor effort, opening": 20})
    gate.tap("open button")
    gate.run(20.0)
    assert gate.message == "obstacle: active leaf needed more effort than learned"
    assert gate.duties == (0.0, 0.0)


GOLDEN = Path(__file__).resolve().parents[2] / "golden" / "sheet.txt"


def _row(entry: Setting) -> str:
    span = (
        f"{entry.least:g} to {entry.most:g} by {entry.step:g} {entry.unit}"
        if entry.step
        else " | ".join(entry.choices)
    )
    makes_worthless = f"; a change outdates the {entry.outdates}" if entry.outdates else ""
    return f"{entry.group}: {entry.name}: {entry.default} ({span}){makes_worthless}\n"


def test_the_sheet_is_as_written_down() -> None:
    """Every default, range and step; a change of one is a change of the table. Blessed with GUDGEON_BLESS=1."""
    table = "".join(map(_row, CATALOGUE.values()))
    if os.environ.get("GUDGEON_BLESS") == "1":
        GOLDEN.write_text(table, encoding="utf-8")
    assert table == GOLDEN.read_text(encoding="utf-8")


def test_a_single_leaf_opens_first_whatever_is_left_over_from_two() -> None:
    """The order of two leaves means nothing where one hangs."""
    sheet = {**defaults(), "opens first": "inactive"}
    assert first_leaf({**sheet, "leaves fitted": "2"}) == 1
    assert first_leaf({**sheet, "leaves fitted": "1"}) == 0
