"""How often the controller is asked: once for what happens to it, never for the passing of time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from sim.bench.line_gate import LineGate
from sim.bench.trial import as_installed
from sim.controller import ReferenceController
from sim.controller.answer import holds
from sim.controller.ports import Inputs, Scan
from sim.controller.readable import ReadableController
from sim.kernel import compiler
from sim.site import load_site
from sim.units import SCAN, SECOND, Us
from sim.world.actions import checked
from sim.world.world import World

pytestmark = pytest.mark.benchmark

ROOT = Path(__file__).resolve().parents[2]

DWELL_S = 30


class Counted(ReferenceController):
    """The reference controller, noting for each scan what came since the last one."""

    def __init__(self) -> None:
        super().__init__()
        self.causes: Counter[str] = Counter()
        self.scans = 0
        self.uncaused = 0
        self._last: tuple[Scan, Inputs] | None = None

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        came = self._came(now, inputs)
        self.causes.update(came)
        self.scans += 1
        self.uncaused += not came
        answer = super().scan(now, inputs)
        self._last = answer, inputs
        return answer

    def _came(self, now: Us, inputs: Inputs) -> list[str]:
        """One entry for each thing that is new: a deadline, a watch, an input, a word, a request."""
        if self._last is None:
            return ["power"]
        answer, before = self._last
        came = ["timer"] if answer.wake is not None and now >= answer.wake else []
        came += ["watch" for watch in answer.watches or () if holds(watch, inputs)]
        came += ["input" for was, volts in zip(before.guard_v, inputs.guard_v, strict=True) if was != volts]
        came += ["input" for was, volts in zip(before.command_v, inputs.command_v, strict=True) if was != volts]
        return came + ["radio"] * len(inputs.radio) + ["request"] * len(inputs.requests)

    def clear(self) -> None:
        """Count from now on."""
        self.causes.clear()
        self.scans = self.uncaused = 0


@pytest.fixture(scope="module")
def world() -> World:
    """A gate that is set up and has learned its travel."""
    compiler.load()
    site = load_site(ROOT / "scenarios/sites/mill_lane.yaml")
    return World(site, arrival=as_installed(site), controller=Counted())


def _press(world: World, control: str) -> None:
    world.do(checked("press", {"control": control}))
    world.run_to(world.now + SECOND // 2)
    world.do(checked("release", {"control": control}))


def test_a_whole_cycle_is_asked_for_its_happenings(world: World) -> None:
    """Open, wait, close: a scan for each instant at which something came, and none besides."""
    counted = world.controller
    assert isinstance(counted, Counted)
    counted.clear()
    began = world.now
    for control, until in (("open button", "fully open"), ("close button", "fully closed")):
        _press(world, control)
        said = world.do(checked("wait until", {"what": until, "at_most_s": 90.0}))
        assert said.endswith("yes."), said
        world.run_to(world.now + DWELL_S * SECOND)
    instants = (world.now - began) // SCAN
    causes = sum(counted.causes.values())
    print(
        f"\nwhole cycle: {counted.scans} scans for {causes} causes ({_told(counted.causes)}); "
        f"a controller asked every 10 ms: {instants} scans, {instants / counted.scans:.0f} times as many"
    )
    assert counted.uncaused == 0
    assert counted.scans <= causes
    assert counted.scans < instants / 50


def test_a_gate_at_rest_is_never_asked(world: World) -> None:
    """An hour at rest: not one scan."""
    counted = world.controller
    assert isinstance(counted, Counted)
    world.run_to(world.now + 120 * SECOND)
    counted.clear()
    world.run_to(world.now + 3600 * SECOND)
    print(f"\nan hour at rest: {counted.scans} scans")
    assert counted.scans == 0


def _told(causes: Mapping[str, int]) -> str:
    return ", ".join(f"{count} {cause}" for cause, count in sorted(causes.items()))


class Taped(ReferenceController):
    """The reference controller, keeping what it was asked."""

    def __init__(self) -> None:
        super().__init__()
        self.tape: list[tuple[Us, Inputs]] = []

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        self.tape.append((now, inputs))
        return super().scan(now, inputs)


def _taped_cycle() -> tuple[dict[str, Any], list[tuple[Us, Inputs]]]:
    """What a controller that has learned its gate remembers, and what it is asked every 10 ms of a whole cycle."""
    gate = LineGate(every_scan=True, controller=Taped())
    gate.run(1.0)
    gate.write({"slow speed": 35, "leaves fitted": "2", "drive kind": "linear ram", "opens first": "active"})
    gate.ask("learn")
    gate.until_shown(lambda shown: shown.message.startswith("learning finished"), 400.0)
    gate.run(2.0)
    taped = gate.controller
    assert isinstance(taped, Taped)
    remembered = taped.state()
    taped.tape.clear()
    for control, until in (("open button", "open"), ("close button", "closed")):
        gate.press(control)
        gate.run(0.1)
        gate.release(control)
        gate.until_shown(lambda shown, until=until: shown.state == until)  # type: ignore[misc]
        gate.run(5.0)
    return remembered, taped.tape


def test_the_short_way_against_whole_turns(
    in_turn: Callable[[Mapping[str, Callable[[], float]], int], dict[str, list[float]]],
    ratio: Callable[[list[float], list[float]], float],
) -> None:
    """Both forms given one tape of a whole cycle, a scan every 10 ms: the same end; the ratio is reported only."""
    remembered, tape = _taped_cycle()
    short, whole = ReferenceController(), ReadableController()

    def played(controller: ReferenceController) -> Callable[[], float]:
        def play() -> float:
            controller.restore(remembered)
            for now, inputs in tape:
                controller.scan(now, inputs)
            return float(len(tape))

        return play

    rates = in_turn({"short": played(short), "whole": played(whole)}, 5)
    assert short.state() == whole.state()
    assert short.panel().state == "closed"
    print(
        f"\n{len(tape)} scans of a whole cycle: the short way answers {ratio(rates['short'], rates['whole']):.0f} "
        f"times as many a second as whole turns ({max(rates['short']):.0f} and {max(rates['whole']):.0f})"
    )
