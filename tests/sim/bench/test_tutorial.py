"""The tutorial's three controllers do what the tutorial says of them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from sim.bench import foreign, stranger, trial
from sim.bench.proof.order import Order
from sim.bench.proof.report import Report, prove
from sim.site import load_site
from sim.units import SECOND, Us

ROOT = Path(__file__).resolve().parents[3]
README = ROOT / "sim" / "bench" / "README.md"
SITE = load_site(ROOT / "scenarios" / "sites" / "reference_bench.yaml")
STOP = "stop beats everything"
EXAMPLES = 8
BEAM = "never closes past a reopening guard"


def written(name: str, folder: Path) -> foreign.Source:
    """The controller in one block of the tutorial, in a file of its own."""
    blocks = dict(re.findall(r"^```python (\w+)\n(.*?)^```", README.read_text(encoding="utf-8"), re.M | re.S))
    file = folder / "mine.py"
    file.write_text(blocks[name], encoding="utf-8")
    return foreign.source(f"{file}:Mine")


def proved(name: str, folder: Path, *properties: str) -> Report:
    """What `gudgeon prove` makes of it, with little effort."""
    return prove(Order(SITE, written(name, folder), properties, examples=EXAMPLES, seconds=3600.0))


def test_the_first_one_opens_and_closes_the_gate(tmp_path: Path) -> None:
    """It frees the lock, or the gate would stay shut and the rest would be said of a gate that stands."""
    order = trial.Order(SITE, Us(150 * SECOND), 0)
    result = stranger.run_apart(stranger.Job(order, written("first", tmp_path)))
    assert all(leaf.most_open_deg > 85.0 for leaf in result.leaves)
    assert all(leaf.angle_deg < 1.0 for leaf in result.leaves)


@pytest.mark.parametrize(("block", "property"), [("first", STOP), ("worse", BEAM)])
def test_the_break_is_found(tmp_path: Path, block: str, property: str) -> None:
    report = proved(block, tmp_path, property)
    assert [each.property for each in report.counterexamples] == [property]


@pytest.mark.slow
def test_the_better_one_holds(tmp_path: Path) -> None:
    report = proved("better", tmp_path, STOP, BEAM)
    assert report.counterexamples == ()
    assert report.examples == 2 * EXAMPLES


def test_the_first_one_is_a_dozen_lines() -> None:
    block = re.search(r"^```python first\n(.*?)^```", README.read_text(encoding="utf-8"), re.M | re.S)
    assert block is not None
    assert len([line for line in block[1].splitlines() if line.strip()]) <= 12
