"""The worked example of an own controller is short, runs from the command line's own road, and works."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.bench import foreign, stranger
from sim.bench.trial import Order, Result, Trial
from sim.site import load_site
from sim.units import SECOND, Us
from sim.world.actions import checked

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = ROOT / "tests/examples/own_controller.py"
SITE = load_site(ROOT / "scenarios/sites/mill_lane.yaml")


@pytest.fixture(scope="module")
def result() -> Result:
    """The example in a process of its own, two minutes."""
    order = Order(SITE, Us(120 * SECOND))
    return stranger.run_apart(stranger.Job(order, foreign.source(f"{EXAMPLE}:TwoButtons")))


def test_the_example_is_short() -> None:
    """Fewer than sixty lines, docstrings and blank lines included."""
    assert len(EXAMPLE.read_text(encoding="utf-8").splitlines()) < 60


def test_the_example_opens_and_closes_the_gate(result: Result) -> None:
    """Both leaves reach their open stops and end shut, in the right order."""
    assert (result.ended, result.said) == ("finished", "")
    for leaf in result.leaves:
        assert leaf.most_open_deg > 88.0, leaf
        assert abs(leaf.angle_deg) < 2.0, leaf
    assert result.state == "resting"
    assert not any(h.kind == "clash" for h in result.happened)


def test_the_process_changes_nothing(result: Result) -> None:
    """The same order in this process gives the same result, bit for bit."""
    here = Trial(Order(SITE, Us(120 * SECOND)), foreign.load(foreign.source(f"{EXAMPLE}:TwoButtons"))).run()
    assert here == result


def test_the_example_reopens_when_its_beam_is_cut() -> None:
    """Common practice: a guard that trips while the gate closes stops it and opens it."""
    trial = Trial(Order(SITE, Us(600 * SECOND)), foreign.load(foreign.source(f"{EXAMPLE}:TwoButtons")))
    world = trial.world

    def press(control: str) -> None:
        world.do(checked("press", {"control": control}))
        world.run_to(world.now + SECOND)
        world.do(checked("release", {"control": control}))

    press("open button")
    world.do(checked("wait until", {"what": "fully open", "at_most_s": 60.0}))
    press("close button")
    world.run_to(world.now + 6 * SECOND)
    before = world.plant.angle(0)
    world.do(checked("cover beam", {"guard": "outer beam"}))
    world.run_to(world.now + 3 * SECOND)
    assert world.controller.panel().state == "opening"
    assert world.plant.angle(0) > before
