"""Sentences and words of the simulator that stand neither in a call of `said()` nor in a catalogue of the window.

Tables, enumerations and errors are read from the running code, so that a new entry is gathered the day it is added.
Names are gathered by themselves: they stand in the gaps of sentences.
"""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]

Found = Iterator[tuple[str, str]]
"""(sentence, where it stands)."""

RAISED: Final = ("Refused", "ActionError")
"""Errors that a person sees as they are: their first argument is a sentence."""

TOLD: Final = {"note": 1, "tell": 1}
"""Methods that are given a sentence or a name, and in which place."""


def in_calls() -> Found:
    """What is refused, noted and told in so many words."""
    for path in sorted((ROOT / "sim").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            place = None
            if isinstance(node.func, ast.Name) and node.func.id in RAISED:
                place = 0
            elif isinstance(node.func, ast.Attribute):
                place = TOLD.get(node.func.attr)
            if place is None or len(node.args) <= place:
                continue
            given = node.args[place]
            for each in (given.body, given.orelse) if isinstance(given, ast.IfExp) else (given,):
                if isinstance(each, ast.Constant) and isinstance(each.value, str):
                    yield each.value, f"{path.relative_to(ROOT)}:{node.lineno}"


def of_the_controller() -> Found:
    """States, what a leaf meets, what settings say of one another, terminals, months, sentences by command."""
    from sim.controller import calendar, guards, machine, motion, ports, rules, wording

    for table in wording.ALL:
        yield from _each(table.values(), "controller, sentences by command")
    yield from _each((state.value for state in machine.State), "controller, states")
    yield from _each((met.value for met in motion.Met), "controller, what a leaf meets")
    yield from _each((reading.value for reading in guards.Reading), "controller, how a guard reads")
    yield from _each(
        (rule.reason for rule in (*rules.CONTRADICTIONS, *rules.WARNINGS)), "controller, what settings say of others"
    )
    yield rules.EDGE_NEVER, "controller, what settings say of others"
    yield from _each((*ports.GUARD_TERMINALS, *ports.COMMAND_TERMINALS, *ports.LIMIT_TERMINALS), "terminals")
    yield from _each(calendar.MONTHS, "months")


def _each(words: Iterable[str], place: str) -> Found:
    for word in words:
        yield word, place


SOURCES: Final = (in_calls, of_the_controller)
