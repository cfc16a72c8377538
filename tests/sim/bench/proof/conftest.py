"""A stage that every test of this room plays on, and the seeded bugs, one test case each."""

from __future__ import annotations

import importlib
import importlib.util
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from sim.bench.proof import search
from sim.bench.proof.catalogue import CATALOGUE
from sim.bench.proof.entry import Property
from sim.bench.proof.play import Stage, everything_wired
from sim.bench.proof.search import Search, replayed
from sim.controller.reference import ReferenceController
from sim.site import load_site
from sim.world.world import World

SITE = Path(__file__).resolve().parents[4] / "scenarios" / "sites" / "reference_bench.yaml"


@pytest.fixture(scope="session")
def stage() -> Stage:
    """The teaching bench with the reference controller."""
    return Stage(everything_wired(load_site(SITE)))


SEEDS = (1, 2)


@pytest.fixture
def unshrunk(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is found is left as long as it was found: how it is made short has its own test."""
    monkeypatch.setattr(search, "SHRINKS", 0)


@pytest.fixture
def hunts(stage: Stage, unshrunk: None) -> Callable[[Bug, int], None]:
    """See that a search finds a bug within its examples, and that the reference controller is well there."""

    def hunt(bug: Bug, seed: int) -> None:
        promise = CATALOGUE[bug.breaks]
        found = Search(bug.on(stage), [promise]).run(promise.focus, bug.within, seed)
        assert found is not None, f"not found in {bug.within} examples"
        assert found.property == bug.breaks
        well = not replayed(stage, found.case, [promise]).breaches
        assert well, "the reference controller breaks it there as well"

    return hunt


@pytest.fixture
def keeps(stage: Stage, unshrunk: None) -> Callable[..., None]:
    """See that the reference controller keeps a promise through examples of its focus, and others with it."""

    def keep(promised: str, others: tuple[Property, ...], examples: int) -> None:
        tried = Search(stage, others)
        assert tried.run(CATALOGUE[promised].focus, examples, SEEDS[0]) is None
        assert tried.tally.looked[promised] > 0

    return keep


@dataclass(frozen=True)
class Bug:
    """A controller that is wrong in one thing, written as a kind of the reference controller.

    Its class says what it breaks (`breaks`, a property's name), within how many examples a search finds that
    (`within`), and which functions of the reference controller are others in it (`instead`, pairs of `module:name`
    and function).
    """

    controller: type[ReferenceController]

    @property
    def breaks(self) -> str:
        """The property that it breaks."""
        return str(self.controller.breaks)  # type: ignore[attr-defined]

    @property
    def within(self) -> int:
        """Examples within which it is found."""
        return int(self.controller.within)  # type: ignore[attr-defined]

    def on(self, ready: Stage) -> Stage:
        """A stage with this controller, on a gate that stands ready."""
        return WrongStage(ready.site, self.controller, ready=ready)


class WrongStage(Stage):
    """A stage whose controller has other functions, for the time of each play."""

    def in_branch(self, work: Callable[[World], Any], patience_s: float | None = None) -> Any:
        """As a stage, with the functions put in their places in the copy alone."""
        instead = getattr(self.make, "instead", ())

        def wrong(world: World) -> Any:
            with pytest.MonkeyPatch.context() as patch:
                for place, function in instead:
                    module, name = place.split(":")
                    patch.setattr(importlib.import_module(module), name, function)
                return work(world)

        return super().in_branch(wrong, patience_s)


def _module(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"bugs_{path.stem}", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def _bugs(subjects: tuple[str, ...]) -> Iterator[Bug]:
    for subject in subjects:
        for each in vars(_module(Path(__file__).parent / "bugs" / f"{subject}.py")).values():
            if isinstance(each, type) and issubclass(each, ReferenceController) and hasattr(each, "breaks"):
                yield Bug(each)


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """One test case for each bug of the subjects that a test module names, or for each promise that one breaks."""
    if "bug" in metafunc.fixturenames:
        bugs = list(_bugs(metafunc.module.SUBJECTS))
        metafunc.parametrize("bug", bugs, ids=[bug.controller.__name__ for bug in bugs])
    if "seed" in metafunc.fixturenames:
        metafunc.parametrize("seed", SEEDS)
    if "promised" in metafunc.fixturenames:
        metafunc.parametrize("promised", dict.fromkeys(bug.breaks for bug in _bugs(metafunc.module.SUBJECTS)))
