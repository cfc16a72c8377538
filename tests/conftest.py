"""What every test runs on: the compiled kernel, loaded once, unless the compiler is switched off."""

from __future__ import annotations

import pytest

from sim.kernel import compiler


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """On several workers (`-n 2 --dist loadgroup`) a file stays on one of them, since its fixtures are dear; so does
    whatever drives a window, since there is one screen."""
    for item in items:
        on_screen = item.get_closest_marker("display") is not None
        item.add_marker(pytest.mark.xdist_group("display" if on_screen else item.nodeid.split("::")[0]))


@pytest.fixture(scope="session", autouse=True)
def _compiled() -> None:
    """Load the compiler before the first test; with NUMBA_DISABLE_JIT set the same source runs uncompiled."""
    compiler.load()
