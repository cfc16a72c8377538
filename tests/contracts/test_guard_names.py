"""The guards of a board are named in one list: that of its terminals."""

from __future__ import annotations

import ast
from pathlib import Path

from sim.controller.ports import GUARD_TERMINALS

ROOT = Path(__file__).resolve().parents[2]

WRITTEN = {"sim/controller/ports.py", "sim/site/guards.py"}
"""The list itself; and what a site's file may name, which stands lower and is held equal to it."""


def lists_of_guards(source: str) -> int:
    """How many tuples or lists name every guard."""
    return sum(
        {each.value for each in node.elts if isinstance(each, ast.Constant)} == set(GUARD_TERMINALS)
        for node in ast.walk(ast.parse(source))
        if isinstance(node, (ast.Tuple, ast.List, ast.Set))
    )


def test_nobody_keeps_a_list_of_guards_of_their_own() -> None:
    """One that is planted is found."""
    assert lists_of_guards(f"GUARDS = {GUARD_TERMINALS!r}") == 1
    found = {
        str(path.relative_to(ROOT))
        for room in ("sim", "trainer")
        for path in (ROOT / room).rglob("*.py")
        if lists_of_guards(path.read_text(encoding="utf-8"))
    }
    assert found == WRITTEN
