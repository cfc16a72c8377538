"""What every test runs on: the compiled kernel, loaded once, unless the compiler is switched off."""

from __future__ import annotations

import pytest

from sim.kernel import compiler


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """On several workers (`-n 2 --dist loadgroup`) a file stays on one of them, since its fixtures are dear; so does
    whatever drives a window, since there is one screen. What takes long comes first there, so that they end together
    (`--no-loadscope-reorder` leaves it so)."""
    for item in items:
        item.add_marker(pytest.mark.xdist_group(_group(item)))
    if hasattr(config, "workerinput"):
        long = {_group(item) for item in items if item.get_closest_marker("slow")} | {"display"}
        items.sort(key=lambda item: _group(item) not in long)


def _group(item: pytest.Item) -> str:
    return "display" if item.get_closest_marker("display") else item.nodeid.split("::")[0]


@pytest.fixture(scope="session", autouse=True)
def _compiled() -> None:
    """Load the compiler before the first test; with NUMBA_DISABLE_JIT set the same source runs uncompiled."""
    compiler.load()
