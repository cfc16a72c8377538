"""Measuring: two things are timed in turn in one run, and only their ratio is judged."""

from __future__ import annotations

import gc
import importlib.util
import statistics
import sys
import time
from collections.abc import Callable, Mapping
from pathlib import Path
from types import ModuleType

import pytest

HERE = Path(__file__).parent


@pytest.fixture(scope="session")
def naive() -> ModuleType:
    """The yardstick module `naive_gate.py` beside this file."""
    spec = importlib.util.spec_from_file_location("naive_gate", HERE / "naive_gate.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # dataclasses look their module up by name
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def in_turn() -> Callable[[Mapping[str, Callable[[], float]], int], dict[str, list[float]]]:
    """Time every case once a round, all cases in turn, so that a ratio is between neighbours in time.

    A case returns the units of work it did; the answer is units per second of this process's own time, round for
    round, so that whatever else the machine is doing does not count.
    """

    def measure(cases: Mapping[str, Callable[[], float]], rounds: int) -> dict[str, list[float]]:
        rates: dict[str, list[float]] = {name: [] for name in cases}
        for case in cases.values():
            case()  # warm: compiled, cached, imported
        gc.collect()
        gc.disable()
        try:
            for _ in range(rounds):
                for name, case in cases.items():
                    began = time.process_time()
                    work = case()
                    rates[name].append(work / (time.process_time() - began))
        finally:
            gc.enable()
        return rates

    return measure


@pytest.fixture(scope="session")
def ratio() -> Callable[[list[float], list[float]], float]:
    """The median of the ratios taken round for round."""

    def median(above: list[float], below: list[float]) -> float:
        return statistics.median(a / b for a, b in zip(above, below, strict=True))

    return median
