"""Fifty gates drawn at random against scipy's solver at tight tolerance: how they open, and how hard they strike.

The judge is `smooth_pieces.py`: equations of the fact sheet (facts 4, 5.3, 6.1 to 6.5), integrated between terminal
events by LSODA at a relative tolerance of 1e-9. Gates with play or gusts, and those whose train sticks and slips so
often that smooth pieces come to no end, are held against their own run in steps sixteen times as fine.
"""

from __future__ import annotations

import functools
import importlib.util
import math
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from sim.kernel import compiler
from sim.mechanics.obstacle import force_gauge
from sim.mechanics.plant import Plant, Reason
from sim.units import Us

GATES = range(50)
HANDFUL = 6
"""So many are tried whenever tests are run, the rest with the slow ones."""

WITHIN = {"passed": 0.002, "reached": 0.002, "speed": 0.002, "current": 0.002, "force": 0.005}
"""What is compared, and how near it must come: times at which 85 % of the way and the open stop are reached, greatest
tip speed and winding current until then, greatest force on the gauge's spring."""

AFTER = 2.0
"""The gauge is read for this long from its first touch [s]."""

FINE = 16
"""What judges in place of the solver is divided so finely; half as fine must say nearly the same."""


@functools.cache
def beside(name: str) -> ModuleType:
    """A module that lies beside this one."""
    spec = importlib.util.spec_from_file_location(name, Path(__file__).with_name(f"{name}.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module  # dataclasses look their module up by name
    spec.loader.exec_module(module)
    return module


# -- the plant -----------------------------------------------------------------------------------------------------


def ready(gate: Any, asked: Any, fineness: int) -> Plant:
    """A plant with both leaves in place and on their way, as good as without current limit."""
    plant = Plant(gate.site, gate.number)
    plant.refine(fineness)
    plant.set_network(gate.net)
    for leaf in (0, 1):
        plant.set_edge(leaf, None)
        plant.place_leaf(leaf, asked.start[leaf])
        plant.command(leaf, asked.target[leaf], slew_per_s=asked.slew[leaf], limit_a=500.0)
    return plant


def opened(gate: Any, fineness: int = 1) -> dict[str, float]:
    """An opening, looked at every millisecond; the instant of a passing is drawn straight between two looks."""
    plant = ready(gate, gate.opening, fineness)
    seen: dict[str, float] = {}
    under_way = {leaf for leaf in (0, 1) if gate.opening.target[leaf]}
    before = list(gate.opening.start)
    while under_way and plant.now < 120_000_000:
        assert plant.run_to(Us(plant.now + 1000)).reason is Reason.REACHED
        for leaf in tuple(under_way):
            model, angle = gate.site.leaves.pair[leaf], plant.angle(leaf)
            speed, current = abs(plant.speed(leaf)) * model.width_m, abs(plant.motor_current(leaf))
            seen[f"speed {leaf}"] = max(seen.get(f"speed {leaf}", 0.0), speed)
            seen[f"current {leaf}"] = max(seen.get(f"current {leaf}", 0.0), current)
            stop = math.radians(model.open_stop_deg)
            for name, goal in (("passed", 0.85 * stop), ("reached", stop)):
                if before[leaf] < goal <= angle:
                    over = (angle - goal) / (angle - before[leaf])
                    seen.setdefault(f"{name} {leaf}", plant.now / 1e6 - 0.001 * over)
            before[leaf] = angle
            if angle >= stop:
                under_way.remove(leaf)
    assert not under_way, "it opens"
    assert plant.lap_side() == 0, "the leaves keep clear of each other"
    return seen


def struck(gate: Any, fineness: int = 1) -> dict[str, float]:
    """A closing leaf on the gauge."""
    plant = ready(gate, gate.closing, fineness)
    blow = gate.blow
    plant.set_edge(blow.leaf, blow.edge)
    plant.place_obstacle(blow.leaf, 0, force_gauge(blow.angle, blow.radius))
    assert plant.run_to(Us(120_000_000)).reason is Reason.CONTACT
    end = Us(plant.now + round(AFTER * 1e6))
    while plant.run_to(end).reason is not Reason.REACHED:
        pass
    assert plant.lap_side() == 0, "the leaves keep clear of each other"
    return {f"force {blow.leaf}": plant.gauge_curve().raw_peak_n}


# -- the judges ----------------------------------------------------------------------------------------------------


def run_of(gate: Any, asked: Any, **more: Any) -> Any:
    """The gate for the solver."""
    pieces, net = beside("smooth_pieces"), gate.net
    sides = beside("drawn_gates").plain(pieces, gate, asked)
    return pieces.Run(sides, pieces.Supply(net.voc, net.z, net.rth), **more)


def opening_judged(gate: Any, **more: Any) -> dict[str, float]:
    """The same as `opened`, by the solver."""
    run = run_of(gate, gate.opening, **more)
    driven = [leaf for leaf in (0, 1) if gate.opening.target[leaf]]
    run.to(120.0, lambda: all(run.told[leaf].reached < math.inf for leaf in driven))
    names = ("passed", "reached", "speed", "current")
    return {f"{name} {leaf}": getattr(run.told[leaf], name) for leaf in driven for name in names}


def blow_judged(gate: Any, **more: Any) -> dict[str, float]:
    """The same as `struck`, by the solver."""
    blow = gate.blow
    soft = (blow.edge.stiffness_n_m, blow.edge.working_travel_m) if blow.edge else (0.0, 0.0)
    gauge = beside("smooth_pieces").Spring(blow.angle, blow.radius, 500_000.0, *soft)
    run = run_of(gate, gate.closing, gauges=(gauge, None) if blow.leaf == 0 else (None, gauge), **more)
    told = run.told[blow.leaf]
    run.to(120.0, lambda: told.touched < math.inf)
    run.to(told.touched + AFTER)
    return {f"force {blow.leaf}": told.force}


def apart(ours: dict[str, float], judge: dict[str, float]) -> dict[str, float]:
    """Worst deviation of each quantity over both leaves, as a share."""
    assert ours.keys() == judge.keys()
    worst: dict[str, float] = {}
    for key, value in judge.items():
        name = key.split()[0]
        worst[name] = max(worst.get(name, 0.0), abs(ours[key] / value - 1.0))
    return worst


@dataclass(frozen=True)
class Verdict:
    """One gate against its judge."""

    apart: dict[str, float]
    by_series: bool
    series_apart: dict[str, float]
    """How far the judging series itself still moves in its last halving; nothing where the solver judged."""


def judged(gate: Any, act: Callable[..., dict[str, float]], judge: Callable[..., dict[str, float]]) -> Verdict:
    """One act of a gate against the solver, or else against steps halved and halved again."""
    ours = act(gate)
    if gate.is_smooth:
        try:
            return Verdict(apart(ours, judge(gate)), False, {})
        except beside("smooth_pieces").Chatter:
            pass  # then the series judges, and it is counted
    fine = act(gate, FINE)
    return Verdict(apart(ours, fine), True, apart(act(gate, FINE // 2), fine))


@functools.cache
def verdict(number: int) -> Verdict:
    """Gate `number`, opening and striking."""
    gate = beside("drawn_gates").drawn(beside("smooth_pieces"), number)
    opening, blow = judged(gate, opened, opening_judged), judged(gate, struck, blow_judged)
    return Verdict(
        opening.apart | blow.apart,
        opening.by_series or blow.by_series,
        opening.series_apart | blow.series_apart,
    )


# -- what must hold ------------------------------------------------------------------------------------------------


@pytest.fixture(autouse=True)
def compiled() -> None:
    """Minutes of gate time in fine steps."""
    if not compiler.is_loaded():
        pytest.skip("needs the compiled kernel: it is absent or switched off")


def marked(number: int) -> Any:
    """The parameter of one gate."""
    marks = [pytest.mark.slow] if number >= HANDFUL else []
    return pytest.param(number, marks=marks, id=str(number))


@pytest.mark.parametrize("number", [marked(number) for number in GATES])
def test_a_gate_drawn_at_random(number: int) -> None:
    """Opening time, peak tip speed and peak winding current within 0.2 %, peak impact force within 0.5 % (scipy)."""
    gate = verdict(number)
    assert gate.apart.keys() == WITHIN.keys()
    for name, deviation in gate.apart.items():
        assert deviation <= WITHIN[name], f"{name}, judged by {'a finer run' if gate.by_series else 'the solver'}"
    for name, deviation in gate.series_apart.items():
        assert deviation <= 0.25 * WITHIN[name], f"{name}: the finer runs agree"


@pytest.mark.slow
def test_the_solver_judges_most(capsys: pytest.CaptureFixture[str]) -> None:
    """Of fifty gates at most a third are judged by their own finer run. Says the worst deviation of each quantity."""
    verdicts = {number: verdict(number) for number in GATES}
    by_series = [number for number, each in verdicts.items() if each.by_series]
    with capsys.disabled():
        for judge, chosen in (("scipy", set(verdicts) - set(by_series)), ("finer runs", set(by_series))):
            worst = {name: max((verdicts[n].apart[name], n) for n in chosen) for name in WITHIN}
            figures = ", ".join(f"{name} {100 * share:.3f} % (gate {n})" for name, (share, n) in worst.items())
            print(f"\n{len(chosen)} gates against {judge}: at worst {figures}")
    assert len(by_series) <= len(GATES) / 3


@pytest.mark.slow
@pytest.mark.parametrize("number", [0, 1])
def test_two_solvers_give_one_judgement(number: int) -> None:
    """An implicit Runge-Kutta method (Radau) finds what the multistep method (LSODA) finds, to a millionth."""
    gate = beside("drawn_gates").drawn(beside("smooth_pieces"), number)
    for judge in (opening_judged, blow_judged):
        assert max(apart(judge(gate), judge(gate, method="Radau")).values()) < 1e-6
