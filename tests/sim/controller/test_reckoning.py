"""The counter that is reckoned where no encoder is, on the line gate: what it is worth, and what it costs to keep."""

from __future__ import annotations

import copy
import importlib.util
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sim.controller.ports import Watched

LOW_SPEED = ("position sensing", "slow speed", "motor kind")

BY_TIME = {"position sensing": "running time"}

_LEARNED = {}


@pytest.fixture
def by_time(make_fresh, forms) -> Callable[..., object]:
    """Makes gates that have learned by running time, and stand shut: (every_scan, whether both forms are asked, the
    leaf that opens first)."""

    def make(every_scan: bool = False, both: bool = False, first: str = "active"):
        if (every_scan, both, first) not in _LEARNED:
            _LEARNED[every_scan, both, first] = learn(every_scan, both, first)
        return copy.deepcopy(_LEARNED[every_scan, both, first])

    def learn(every_scan: bool, both: bool, first: str):
        gate = make_fresh(every_scan)
        if both:
            kept = gate.controller.state()
            gate.controller = forms()
            gate.controller.restore(kept)
        gate.write({"leaves fitted": "2", "drive kind": "linear ram", "opens first": first, **BY_TIME})
        gate.ask("learn")
        gate.until_shown(lambda shown: shown.message.startswith("learning finished"), 400.0)
        gate.run(1.0)
        gate.mark()
        return gate

    return make


def _known_places(gate) -> list[float]:
    """Where each leaf is reckoned to be, as a share of its travel."""
    gate.ask("acknowledge")
    leaves = gate.controller.state()["leaves"]
    return [leaf["kept_position"] / leaf["travel"] for leaf in leaves]


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(seconds=st.floats(0.2, 12.0), halts=st.integers(1, 3), supply_v=st.sampled_from((24.5, 27.3)))
def test_it_knows_where_a_leaf_stands(by_time, seconds: float, halts: int, supply_v: float) -> None:
    """Halted on the way, a leaf is within a fiftieth of its travel of where it is thought to be. Pressed against its
    stop for less than it takes to see that, it is thought to be there or beyond.

    The line gate's leaves run at a speed in proportion to their duty, whatever the supply is; so at another supply
    the reckoning is off by its share.
    """
    gate = by_time()
    gate.supply_v = supply_v
    gate.tap("open button")
    gate.until_state("opening")
    for _ in range(halts):
        gate.run(seconds / halts)
        gate.trip("stop circuit")
        gate.run(1.0)
        gate.clear("stop circuit")
        gate.run(0.1)
        gate.tap("open button")
        gate.run(3.0)
    gate.trip("stop circuit")
    gate.run(1.0)
    off = 0.02 if supply_v == 27.3 else 0.02 + 1.0 - 24.5 / 27.3
    for share, leaf in zip(_known_places(gate), gate.leaves, strict=True):
        assert min(share, 1.0) == pytest.approx(leaf.position / leaf.travel, abs=off)


def test_nothing_is_done_for_each_scan(by_time) -> None:
    """Wake times and watches only: a whole opening takes some hundred scans, not thousands, and rest takes none."""
    gate = by_time()
    before = gate.scans
    gate.tap("open button")
    gate.until_state("open")
    assert gate.scans - before < 200
    gate.run(2.0)
    before = gate.scans
    gate.run(600.0)
    assert gate.scans == before


def test_it_is_asked_in_time_whichever_leaf_waits(by_time) -> None:
    """With the inactive leaf first, the active one waits for a place of the other's: asked when due, it starts when
    it does asked at every scan."""
    traces = []
    for every_scan in (False, True):
        gate = by_time(every_scan, first="inactive")
        gate.write({"leaf delay, opening": 0})
        gate.mark()
        gate.tap("open button")
        gate.until_state("open")
        gate.tap("close button")
        gate.until_state("closed")
        traces.append([(at - gate._began, driven) for at, driven in gate.trace if at > gate._began])
    assert traces[0] == traces[1]


def test_it_watches_no_count(by_time) -> None:
    """What the counters' terminals say is nothing to it: no watch looks at them."""
    gate = by_time()
    gate.tap("open button")
    seen = set()
    for _ in range(200):
        gate.run(0.05)
        seen |= {watch.what for watch in (gate.scan.watches or ())}
    assert seen == {Watched.CURRENT_AT_LEAST, Watched.CURRENT_AT_MOST}


def test_a_stop_is_where_it_is_found(by_time) -> None:
    """What one stroke misjudged, its end puts right: twenty strokes later it is as exact as after the first."""
    gate = by_time()
    for _ in range(10):
        gate.tap("open button")
        gate.until_state("open")
        gate.tap("close button")
        gate.until_state("closed")
    assert _known_places(gate) == [0.0, 0.0]
    assert gate.positions == (0, 0)


def test_stopped_on_the_way_too_often_it_looks_for_its_stops(by_time) -> None:
    """Time tells a place only so well: each run and each stop without a reference adds doubt, until it says so."""
    gate = by_time()
    gate.tap("open button")
    gate.until_state("open")
    for _ in range(12):
        gate.tap("step button")
        gate.until(lambda: gate.opens() or gate.closes())
        if gate.state == "finding its position":
            break
        gate.run(1.5)
        gate.tap("step button")
        gate.until(gate.rests)
    assert gate.state == "finding its position"
    assert any("stopped on the way too often" in said for said in gate.plot())


def test_it_finds_the_leaf_that_is_blocked_short_of_its_stop(by_time) -> None:
    """Standing still where no stop was learned is an obstacle, also without a count (design section 4)."""
    gate = by_time()
    gate.tap("open button")
    gate.until_state("open")
    gate.leaves[0].blocked_below = 400.0
    gate.tap("close button")
    gate.until_state("reversing")
    assert gate.positions[0] == 400
    gate.leaves[0].blocked_below = -1e9
    gate.until_state("open")


def _whole_life(gate) -> None:
    assert [told.settings for told in gate.controller.panel().warnings] == [("position sensing",), LOW_SPEED]
    gate.write({"auto-close": "on", "auto-close after": 5, "electric lock": "fitted"})
    gate.tap("open button")
    gate.until_state("open, waiting to close")
    gate.until(gate.closes)
    gate.run(2.0)
    gate.trip("outer beam")
    gate.run(1.0)
    gate.clear("outer beam")
    gate.until_state("open, waiting to close")
    gate.leaves[0].blocked_below = 600.0
    gate.run(60.0)
    gate.leaves[0].blocked_below = -1e9
    gate.tap("close button")
    gate.until(gate.closes)
    gate.trip("active edge")
    gate.run(3.0)
    gate.clear("active edge")
    gate.ask("jog", "inactive", "open")
    gate.run(3.0)
    gate.ask("jog", "inactive", "release")
    gate.tap("open button")
    gate.run(4.0)
    gate.supply_v = 5.0
    gate.run(1.0)
    gate.supply_v = 26.0
    gate.run(2.0)
    gate.tap("close button")
    gate.run(90.0)


def test_asking_every_scan_changes_nothing(by_time) -> None:
    """Law 2 of the clock: same outputs at the same instants, same memory."""
    seldom, always = by_time(), by_time(every_scan=True)
    for gate in (seldom, always):
        _whole_life(gate)
    assert seldom.trace == always.trace
    assert seldom.controller.state() == always.controller.state()
    assert seldom.controller.panel() == always.controller.panel()
    assert seldom.scans < always.scans / 10
    assert seldom.state == "closed"


def test_a_limit_that_changes_on_the_way_is_taken_over_where_it_changes(by_time) -> None:
    """Effort that was learned differs from place to place: the short way wakes at each, as whole turns see."""
    gate = by_time(every_scan=True, both=True)
    state = gate.controller.state()
    for leaf in state["leaves"]:
        leaf["opening_load"] = leaf["closing_load"] = [2.0 + 0.04 * (place // 3) for place in range(40)]
    gate.controller.restore(state)
    bins = set()
    for button in ("open button", "close button"):
        gate.tap(button)
        for _ in range(60):
            gate.run(0.2)
            bins |= {leaf["reckoned"]["bin"] for leaf in gate.controller.state()["leaves"]}
    assert len(bins) > 20
    assert gate.positions == (0, 0)


def test_both_forms_agree(by_time) -> None:
    """A turn in which nothing is due leaves no trace in what is reckoned, to the last bit."""
    gate = by_time(every_scan=True, both=True)
    _whole_life(gate)
    assert gate.controller.panel() == gate.controller.readable.panel()


@pytest.mark.slow
def test_they_agree_whatever_is_done(by_time) -> None:
    """Everything the search of the file beside this one does, with its promises, to a gate that goes by time."""
    spec = importlib.util.spec_from_file_location("acts_of_the_search", Path(__file__).with_name("test_search.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    case = type("ByTime", (module.Gate,), {"make": staticmethod(by_time)}).TestCase
    case.settings = settings(
        max_examples=25,
        stateful_step_count=20,
        deadline=None,
        derandomize=True,
        suppress_health_check=list(HealthCheck),
    )
    case("runTest").runTest()
