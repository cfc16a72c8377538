"""No part asks whether it is faulty.

How it knows: in devices, controller, wiring, mechanics and kernel it reads the syntax tree of every file and looks at
everything that decides something (`if`, `while`, `assert`, a conditional value, the condition of a comprehension, a
`match`, and each side of `and`, `or`, `not` and a comparison wherever it stands). There, no name, no attribute and no
text may speak of a fault: as a word of its own (`fault`, `faults`, `faulty`, `defect`, `defective`) or as a flag that
stands for one (`is_broken`, `has_failed` and the like). What something physically is may be asked: a winding that is
open, a contact that is closed, a line that reads open. Nowhere in these rooms may the name of a fault of the
catalogue stand, or `sim.faults` be imported. Prose doesn't count. Each rule is shown to find a planted breach.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from sim.faults.catalogue import FAULTS

ROOT: Final = Path(__file__).resolve().parents[2]
ROOMS: Final = ("devices", "controller", "wiring", "mechanics", "kernel")
FILES: Final = sorted(path for room in ROOMS for path in (ROOT / "sim" / room).rglob("*.py"))

SPEAKS: Final = re.compile(r"(?:^|[^a-z])(?:fault|faults|faulty|defect|defective)(?:$|[^a-z])")
FLAG: Final = re.compile(
    r"^(?:is|has|was)_(?:broken|faulty|failed|defective|damaged|dead|bad|ailing)$|^(?:broken|ailing)$"
)


def deciding(tree: ast.AST) -> Iterator[ast.expr]:
    """Every expression that decides something."""
    for node in ast.walk(tree):
        if isinstance(node, (ast.If, ast.IfExp, ast.While, ast.Assert)):
            yield node.test
        elif isinstance(node, ast.comprehension):
            yield from node.ifs
        elif isinstance(node, ast.Match):
            yield node.subject
        elif isinstance(node, ast.match_case):
            yield from (each for each in ast.walk(node.pattern) if isinstance(each, ast.expr))
            if node.guard is not None:
                yield node.guard
        elif isinstance(node, ast.BoolOp):
            yield from node.values
        elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
            yield node.operand
        elif isinstance(node, ast.Compare):
            yield node


def words(expression: ast.expr) -> Iterator[str]:
    """Names, attributes, keywords and texts in an expression."""
    for node in ast.walk(expression):
        if isinstance(node, ast.Name):
            yield node.id
        elif isinstance(node, ast.Attribute):
            yield node.attr
        elif isinstance(node, ast.keyword) and node.arg is not None:
            yield node.arg
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def breaches(text: str) -> list[str]:
    """Words by which something decides over a fault, with their lines; imports of the faults; names of faults."""
    tree = ast.parse(text)
    found = {
        f"line {expression.lineno}: decides by '{word}'"
        for expression in deciding(tree)
        for word in words(expression)
        if SPEAKS.search(word.lower()) or FLAG.match(word)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("sim.faults"):
            found.add(f"line {node.lineno}: imports {node.module}")
        if isinstance(node, ast.Import) and any(name.name.startswith("sim.faults") for name in node.names):
            found.add(f"line {node.lineno}: imports sim.faults")
        if isinstance(node, ast.Constant) and node.value in FAULTS:
            found.add(f"line {node.lineno}: names the fault '{node.value}'")
    return sorted(found)


@pytest.mark.parametrize("path", FILES, ids=[path.relative_to(ROOT).as_posix() for path in FILES])
def test_no_part_asks_whether_it_is_faulty(path: Path) -> None:
    """Devices, controller, wiring, mechanics and kernel decide by physical facts and by what they can read."""
    assert breaches(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "planted",
    [
        "if self.fault: pass",
        "volts = 0.0 if beam.faulty else 24.0",
        "while not self.is_broken: pass",
        "x = [part for part in parts if 'fault' in part.name]",
        "y = part.open or part.has_failed",
        "match state:\n    case 'faulty': pass",
        "z = kind == 'lens fault'",
        "if world.faults.present: pass",
        "if read(broken=True): pass",
        "assert not motor.defective",
        "from sim.faults.catalogue import FAULTS",
        "import sim.faults.entry",
    ],
)
def test_a_planted_breach_is_found(planted: str) -> None:
    """Every way of asking that the rule knows."""
    assert breaches(planted)


def test_a_fault_named_in_a_part_is_found() -> None:
    """Also where it decides nothing yet."""
    for name in FAULTS:
        assert breaches(f"WHAT = {name!r}")


@pytest.mark.parametrize(
    "right",
    [
        "if drive.motor.winding_open: pass",
        "sheet = defaults() if not kept else kept",
        "if reading is Reading.BROKEN: pass",
        "raise Refused('its loop is broken')",
    ],
)
def test_what_is_physical_may_be_asked(right: str) -> None:
    """A fact of the thing, a reading, a default, and prose."""
    assert breaches(right) == []
