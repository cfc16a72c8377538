"""The compiler comes when it is asked for, from any thread, and its cache misses no change."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from sim.kernel import compiler

ROOT = Path(compiler.__file__).resolve().parents[2]


def python(program: str, folder: Path = ROOT, **environment: str) -> str:
    """Run a program in a fresh interpreter and return what it prints."""
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", program],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(folder)} | environment,
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def test_importing_the_room_does_not_import_the_compiler() -> None:
    """A window opens before the compiler is loaded: importing kernel and plant leaves it out."""
    said = python("import sys, sim.kernel.compiler, sim.mechanics.plant; print('numba' in sys.modules)")
    assert said == "False"


def test_without_the_compiler_the_interpreted_form_stays() -> None:
    """NUMBA_DISABLE_JIT, or no numba at all, leaves the interpreted form in use and says so."""
    switched_off = "from sim.kernel import compiler as c; print(c.load(), c.is_loaded(), c.forms() is c.INTERPRETED)"
    assert python(switched_off, NUMBA_DISABLE_JIT="1") == "False False True"
    absent = "import sys; sys.modules['numba'] = None\n" + switched_off
    assert python(absent) == "False False True"


def test_loads_from_another_thread() -> None:
    """Several threads may ask at once; afterwards one compiled form is in use."""
    answers: list[bool] = []
    threads = [threading.Thread(target=lambda: answers.append(compiler.load())) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    if not all(answers):
        pytest.skip("no compiler here: it isn't installed, or it is switched off")
    assert answers == [True, True, True]
    assert compiler.is_loaded()
    assert compiler.forms() is compiler.forms()


def test_the_cache_key_covers_every_file_of_the_room(tmp_path: Path) -> None:
    """A change in any file of the kernel, a constant included, leads to another folder of compiled code."""
    for name in ("units.py", "errors.py", "__init__.py"):
        (tmp_path / "sim").mkdir(exist_ok=True)
        shutil.copy(ROOT / "sim" / name, tmp_path / "sim")
    shutil.copytree(ROOT / "sim/kernel", tmp_path / "sim/kernel", ignore=shutil.ignore_patterns("__pycache__"))
    program = (
        "import types; from sim.kernel import compiler as c; n = types.SimpleNamespace(__version__='x', "
        f"config=types.SimpleNamespace(CACHE_DIR={str(tmp_path)!r})); print(c._folder(n))"
    )
    seen = {python(program, tmp_path)}
    for path in sorted((tmp_path / "sim/kernel").glob("*.py")):
        path.write_text(path.read_text(encoding="utf-8") + "\n# changed\n", encoding="utf-8")
        folder = python(program, tmp_path)
        assert folder not in seen
        seen.add(folder)
