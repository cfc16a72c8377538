"""Who may import whom: the contracts of `.importlinter` hold, and each of them can be broken.

A planted violation is written into a copy of the two packages; the checker must report exactly the contract that
forbids it. A contract without a plant fails `test_every_contract_has_a_plant`.
"""

from __future__ import annotations

import configparser
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
CONFIG = ROOT / ".importlinter"

PLANTS = [
    # (contract, file that is changed, the forbidden import)
    ("sim-floors", "sim/units.py", "import sim.errors"),
    ("sim-floors", "sim/site/planted.py", "import sim.kernel"),
    ("sim-floors", "sim/kernel/planted.py", "import sim.site"),
    ("sim-floors", "sim/wiring/planted.py", "import sim.mechanics"),
    ("sim-floors", "sim/mechanics/planted.py", "import sim.wiring"),
    ("sim-floors", "sim/mechanics/planted.py", "import sim.devices"),
    ("sim-floors", "sim/devices/planted.py", "import sim.faults"),
    ("sim-floors", "sim/faults/planted.py", "import sim.controller"),
    ("sim-floors", "sim/faults/planted.py", "import sim.world"),
    ("sim-floors", "sim/world/planted.py", "import sim.traces"),
    ("sim-floors", "sim/traces/planted.py", "import sim.instruments"),
    ("sim-floors", "sim/instruments/planted.py", "import sim.bench"),
    ("trainer-floors", "trainer/job/planted.py", "import trainer.session"),
    ("trainer-floors", "trainer/session/planted.py", "import trainer.diagnosis"),
    ("trainer-floors", "trainer/diagnosis/planted.py", "import trainer.grading"),
    ("trainer-floors", "trainer/grading/planted.py", "import trainer.drills"),
    ("trainer-floors", "trainer/drills/planted.py", "import trainer.records"),
    ("trainer-floors", "trainer/records/planted.py", "import trainer.reports"),
    ("trainer-floors", "trainer/reports/planted.py", "import trainer.window"),
    ("trainer-floors", "trainer/window/planted.py", "import trainer.cli"),
    ("sim-alone", "sim/bench/planted.py", "from trainer.job import planted_name"),
    ("black-box", "sim/controller/planted.py", "import sim.devices"),
    ("black-box", "sim/controller/planted.py", "import sim.wiring"),
    ("black-box", "sim/controller/planted.py", "import sim.mechanics"),
    ("black-box", "sim/controller/planted.py", "from sim.kernel import planted_name"),
    ("black-box", "sim/controller/planted.py", "from sim.site import planted_name"),
    ("black-box", "sim/controller/planted.py", "import numpy"),
    ("front-doors", "trainer/session/planted.py", "import sim.kernel"),
    ("front-doors", "trainer/window/planted.py", "import sim.kernel.layout"),
    ("front-doors", "trainer/drills/planted.py", "from sim.wiring import planted_name"),
    ("front-doors", "trainer/grading/planted.py", "from sim.devices import planted_name"),
    ("simpy", "sim/bench/planted.py", "import simpy"),
    ("simpy", "trainer/session/planted.py", "import simpy"),
    ("numba", "sim/wiring/planted.py", "from numba import njit"),
    ("numba", "sim/mechanics/planted.py", "import llvmlite"),
    ("transitions", "trainer/session/planted.py", "from transitions import Machine"),
    ("files-read", "sim/world/planted.py", "from pydantic import BaseModel"),
    ("files-read", "sim/faults/planted.py", "import pydantic_core"),
    ("files-read", "trainer/drills/planted.py", "from ruamel.yaml import YAML"),
    ("pygame", "trainer/reports/planted.py", "import pygame"),
    ("printed-pages", "trainer/window/planted.py", "import matplotlib.pyplot"),
    ("printed-pages", "trainer/window/planted.py", "from fpdf import FPDF"),
    ("printed-pages", "trainer/grading/planted.py", "from jinja2 import Environment"),
    ("printed-pages", "trainer/grading/planted.py", "from markupsafe import escape"),
    ("command-line", "trainer/drills/planted.py", "import typer"),
    ("command-line", "trainer/window/planted.py", "import click"),
    ("command-line", "trainer/reports/planted.py", "from rich.table import Table"),
    ("only-for-tests", "sim/mechanics/planted.py", "from scipy.integrate import solve_ivp"),
    ("only-for-tests", "sim/controller/planted.py", "import networkx"),
    ("only-for-tests", "sim/devices/planted.py", "import shapely"),
    ("only-for-tests", "sim/mechanics/planted.py", "import mujoco"),
    ("search", "trainer/grading/planted.py", "import hypothesis"),
    ("spacing", "trainer/window/planted.py", "import fsrs"),
    ("only-for-tests", "sim/controller/planted.py", "from statemachine import StateChart"),
    ("only-for-tests", "sim/bench/planted.py", "import pytest"),
    ("only-for-tests", "trainer/reports/planted.py", "from pypdf import PdfReader"),
]


def contracts() -> dict[str, str]:
    """Contract id and name, as `.importlinter` holds them."""
    config = configparser.ConfigParser()
    config.read(CONFIG, encoding="utf-8")
    prefix = "importlinter:contract:"
    return {s.removeprefix(prefix): config[s]["name"] for s in config.sections() if s.startswith(prefix)}


def lint(folder: Path) -> tuple[int, dict[str, bool], str]:
    """Run the checker in `folder`: exit code, contract name to kept, all that it printed."""
    program = "from importlinter.cli import lint_imports_command as main; main(['--no-cache', '--no-logo'])"
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=folder, capture_output=True, text=True, check=False, timeout=120
    )
    verdicts: dict[str, bool] = {}
    for line in done.stdout.splitlines():
        for word, kept in ((" KEPT", True), (" BROKEN", False)):
            if word in line:
                verdicts[line.split(word)[0]] = kept
    return done.returncode, verdicts, done.stdout + done.stderr


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """A copy of both packages (sources only) and of the contracts, free to be spoilt."""
    for package in ("sim", "trainer"):
        shutil.copytree(ROOT / package, tmp_path / package, ignore=lambda _, names: _not_source(names))
    shutil.copy(CONFIG, tmp_path)
    return tmp_path


def _not_source(names: list[str]) -> list[str]:
    return [n for n in names if n == "__pycache__" or ("." in n and not n.endswith(".py"))]


@pytest.fixture
def plant(copied: Path) -> Callable[[str, str], Path]:
    """Write an import at the end of a file of the copy; the file is made if it isn't there."""

    def write(file: str, statement: str) -> Path:
        target = copied / file
        before = target.read_text(encoding="utf-8") if target.exists() else ""
        target.write_text(f"{before}\n{statement}\n", encoding="utf-8")
        return copied

    return write


def test_every_contract_is_kept() -> None:
    """The project as it stands keeps all its contracts."""
    code, verdicts, said = lint(ROOT)
    assert code == 0, said
    assert verdicts == dict.fromkeys(contracts().values(), True)


def test_every_contract_has_a_plant() -> None:
    """A rule that can't fail is no rule: each contract is broken by at least one plant below."""
    assert {contract for contract, _, _ in PLANTS} == set(contracts())


def test_every_library_of_a_room_has_a_plant() -> None:
    """Each outside library that a contract fences is planted at least once, not only the first of its list."""
    config = configparser.ConfigParser()
    config.read(CONFIG, encoding="utf-8")
    fenced = {
        name
        for section in config.sections()
        for name in config[section].get("forbidden_modules", "").split()
        if not name.startswith(("sim", "trainer")) or name == "simpy"
    }
    planted = {statement.split()[1].split(".")[0] for _, _, statement in PLANTS}
    assert fenced <= planted


@pytest.mark.parametrize(("contract", "file", "statement"), PLANTS, ids=[f"{c}: {s}" for c, _, s in PLANTS])
def test_a_planted_violation_breaks_exactly_its_contract(
    contract: str, file: str, statement: str, plant: Callable[[str, str], Path]
) -> None:
    """One forbidden import, one broken contract: the one that forbids it."""
    code, verdicts, said = lint(plant(file, statement))
    broken = {name for name, kept in verdicts.items() if not kept}
    assert broken == {contracts()[contract]}, said
    assert code == 1


@pytest.mark.parametrize(
    ("file", "statement"),
    [
        ("sim/world/planted.py", "import simpy"),
        ("sim/kernel/planted.py", "import numba"),
        ("sim/controller/planted.py", "from transitions import Machine"),
        ("sim/site/planted.py", "import pydantic"),
        ("trainer/job/planted.py", "from ruamel.yaml import YAML"),
        ("trainer/window/planted.py", "import pygame"),
        ("trainer/window/planted.py", "import sim.kernel.compiler"),
        ("trainer/reports/planted.py", "import matplotlib"),
        ("trainer/reports/planted.py", "import jinja2"),
        ("trainer/cli/planted.py", "import typer, rich"),
        ("sim/controller/planted.py", "import sim.units, sim.errors"),
        ("sim/bench/planted.py", "import sim.world, sim.instruments, sim.traces"),
    ],
)
def test_what_a_room_may_use_breaks_nothing(file: str, statement: str, plant: Callable[[str, str], Path]) -> None:
    """The room that owns a library may import it: the fences stand where they should and not further in."""
    code, _, said = lint(plant(file, statement))
    assert code == 0, said


def test_a_room_without_a_floor_is_refused(plant: Callable[[str, str], Path]) -> None:
    """A new module directly in `sim` belongs on a floor first: the lists are complete or the check fails."""
    code, _, said = lint(plant("sim/basement.py", "STEP = 1"))
    assert code == 1
    assert "basement" in said
