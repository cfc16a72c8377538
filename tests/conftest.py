"""What every test runs on: the compiled kernel, loaded once, unless the compiler is switched off."""

from __future__ import annotations

import pytest

from sim.kernel import compiler


@pytest.fixture(scope="session", autouse=True)
def _compiled() -> None:
    """Load the compiler before the first test; with NUMBA_DISABLE_JIT set the same source runs uncompiled."""
    compiler.load()
