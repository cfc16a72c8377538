"""Two forms of one controller: whole turns on `transitions`, and the short way that answers when nothing is due.

Both are given the same inputs at the same scans. After every one of them they have answered the same, and remember
the same, to the last bit; so it is true that nothing was due when the short way said so.
"""

from __future__ import annotations

import importlib.util
import random
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest
from hypothesis import HealthCheck, settings

from sim.controller import ReferenceController
from sim.controller.machine import NO_WAY, ROWS, STATES, TABLE, TRIGGERS, GateMachine, State
from sim.controller.ports import Inputs, Scan
from sim.controller.readable import ChartMachine, ReadableController, remembered
from sim.errors import ControllerError
from sim.units import Us

Gate = object
"""A play's gate, as this folder's fixtures make it."""


class Twins(ReferenceController):
    """The short way, and beside it the readable form on the same inputs; looked at after every scan."""

    def __init__(self) -> None:
        super().__init__()
        self.readable = ReadableController()
        self.scans = 0
        self.states: set[State] = set()

    def power_up(self, now: Us) -> None:
        super().power_up(now)
        self.readable.power_up(now)

    def assume(self, settings) -> None:
        super().assume(settings)
        self.readable.assume(settings)

    def restore(self, state) -> None:
        super().restore(state)
        self.readable.restore(state)

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        fast, slow = super().scan(now, inputs), self.readable.scan(now, inputs)
        assert self._memory == self.readable._memory, self._differs(now)
        assert fast == slow, f"at {now / 1e6:.2f} s, {self._memory.state.value}"
        self.scans += 1
        self.states.add(self._memory.state)
        if self.scans % 50 == 0:
            assert self.panel() == self.readable.panel()
        return fast

    def _differs(self, now: Us) -> str:
        here, there = self.state(), self.readable.state()
        return f"at {now / 1e6:.2f} s: " + ", ".join(
            f"{name}: {here[name]} and {there[name]}" for name in here if here[name] != there[name]
        )


@pytest.fixture
def make_twins(make_gate) -> Callable[..., Gate]:
    """Makes learned gates whose controller is both forms at once, asked every 10 ms unless told otherwise."""

    def make(every_scan: bool = True):
        gate = make_gate(every_scan)
        kept = gate.controller.state()
        gate.controller = Twins()
        gate.controller.restore(kept)
        return gate

    return make


def _acts() -> ModuleType:
    """The search of the file beside this one: anything people, devices and obstacles can do, in any order."""
    spec = importlib.util.spec_from_file_location("acts_of_the_search", Path(__file__).with_name("test_search.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_they_agree_over_a_whole_life(make_fresh) -> None:
    """From the works on: jog, learning, a whole cycle, a beam, an obstacle, the stop, power away and back."""
    gate = make_fresh(every_scan=True)
    gate.controller = Twins()
    gate.run(1.0)
    gate.write({"slow speed": 35, "leaves fitted": "2", "drive kind": "linear ram", "opens first": "active"})
    gate.ask("jog", "active", "open")
    gate.run(1.0)
    gate.ask("jog", "active", "release")
    gate.run(1.0)
    gate.ask("learn")
    gate.until(lambda: gate.message.startswith("learning finished"), 400.0)
    gate.write({"auto-close": "on", "auto-close after": 5, "electric lock": "fitted", "yard light": "on"})
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
    gate.trip("stop circuit")
    gate.run(1.0)
    gate.clear("stop circuit")
    gate.tap("open button")
    gate.run(4.0)
    gate.scans_when_dead = True
    gate.supply_v = 5.0
    gate.run(1.0)
    gate.supply_v = 27.0
    gate.run(2.0)
    gate.on_battery = True
    gate.tap("close button")
    gate.run(5.0)
    gate.supply_v = 20.0
    gate.run(55.0)
    gate.on_battery, gate.supply_v = False, 27.0
    gate.run(5.0)
    assert gate.state == "closed"
    assert gate.controller.panel() == gate.controller.readable.panel()
    assert len(gate.controller.states) >= 14


@pytest.mark.slow
def test_they_agree_whatever_is_done(make_twins) -> None:
    """Everything the search does, to a gate that is asked when due and to one asked every 10 ms; both are both."""
    search = type("Forms", (_acts().Gate,), {"make": staticmethod(lambda every_scan=False: make_twins(every_scan))})
    case = search.TestCase
    case.settings = settings(
        max_examples=10,
        stateful_step_count=20,
        deadline=None,
        derandomize=True,
        suppress_health_check=list(HealthCheck),
    )
    case("runTest").runTest()


def test_the_comparison_sees_a_short_way_that_is_too_short(make_twins) -> None:
    """Seeded bug: a short way that takes no notice of its watches parts from the readable form at once."""

    class TooShort(Twins):
        def _is_due(self, now: Us, inputs: Inputs) -> bool:
            watches, self._answer = self._answer, Scan(self._answer.outputs, self._answer.wake, ())
            due = super()._is_due(now, inputs)
            self._answer = watches
            return due

    gate = make_twins()
    kept = gate.controller.state()
    gate.controller = TooShort()
    gate.controller.restore(kept)
    gate.tap("open button")
    with pytest.raises(AssertionError, match="opening"):
        gate.run(30.0)


# the two machines


def test_both_machines_walk_the_same_ways() -> None:
    """Every trigger in every state, also those it has no row for: same state after, or the same words of refusal."""
    fast, slow = GateMachine(), ChartMachine()
    for state in State:
        for trigger in (*TRIGGERS, "no such trigger"):
            told = []
            for machine in (fast, slow):
                machine.restore(state)
                try:
                    machine.fire(trigger)
                    told.append(machine.state)
                except ControllerError as error:
                    told.append(str(error))
                    assert machine.state is state
            assert told[0] == told[1]


@pytest.mark.parametrize("make", [GateMachine, ChartMachine])
def test_whoever_listens_hears_of_each_row_that_is_taken(make) -> None:
    """Its trigger and where it was taken; of a refused trigger nobody hears."""
    machine, heard = make(), []
    machine.told = lambda trigger, state: heard.append((trigger, state))
    machine.fire("power returns")
    with pytest.raises(ControllerError):
        machine.fire("go open")
    machine.fire("check is done")
    assert heard == [("power returns", State.NO_POWER), ("check is done", State.SELF_CHECK)]


def test_both_machines_on_a_long_walk() -> None:
    """Ten thousand steps at random, never put back in between."""
    draw = random.Random(5)
    fast, slow = GateMachine(), ChartMachine()
    seen = set()
    for _ in range(10_000):
        ways = [trigger for trigger, sources, _ in ROWS if fast.state in sources]
        onwards = [way for way in ways if way not in ("power fails", "stop opens")]
        trigger = draw.choice(onwards if onwards and draw.random() < 0.95 else ways)
        fast.fire(trigger)
        slow.fire(trigger)
        assert fast.state is slow.state
        seen.add(fast.state)
    assert seen == set(State)


def test_the_table_of_numbers_is_the_rows() -> None:
    """Each row is in it, and nothing else is: numbers back to words give the rows again."""
    ways = {
        (trigger, STATES[state], STATES[target])
        for state, row in enumerate(TABLE)
        for trigger, target in zip(TRIGGERS, row, strict=True)
        if target >= 0
    }
    assert ways == {(trigger, source, target) for trigger, sources, target in ROWS for source in sources}
    assert len(TABLE) == len(STATES)
    assert {len(row) for row in TABLE} == {len(TRIGGERS)}
    assert all(type(target) is int and -1 <= target < len(STATES) for row in TABLE for target in row)
    assert STATES[0] is State.NO_POWER


def test_the_table_alone_moves_many_gates_at_once() -> None:
    """The seam: an array of states, an array of triggers, one look-up; a thousand gates go where each alone goes."""
    draw = np.random.default_rng(5)
    table, count = np.array(TABLE), 1000
    states = np.zeros(count, dtype=int)
    gates = [GateMachine() for _ in range(count)]
    for _ in range(60):
        triggers = draw.integers(len(TRIGGERS), size=count)
        targets = table[states, triggers]
        states = np.where(targets == NO_WAY, states, targets)
        for gate, trigger, target in zip(gates, triggers, targets, strict=True):
            if target == NO_WAY:
                with pytest.raises(ControllerError):
                    gate.fire(TRIGGERS[trigger])
            else:
                gate.fire(TRIGGERS[trigger])
        assert [gate.state for gate in gates] == [STATES[number] for number in states]
    assert len(set(states)) > 5


def test_what_counts_of_a_memory_is_everything_but_readings(make_twins) -> None:
    """A changed part of the memory is seen, however deep; a reading is not; what was kept stays."""
    memory = make_twins().controller._memory
    before = remembered(memory)
    memory.at += 10_000
    memory.guard_volts = [1.0] * 5
    memory.leaves[0].kept_position += 3
    assert remembered(memory) == before
    for change in (
        lambda: memory.leaves[1].opening_load.__setitem__(7, 3.0),
        lambda: setattr(memory.leaves[0].move, "start_count", 77),
        lambda: memory.timers.__setitem__("dwell", 5),
        lambda: setattr(memory.wish, "by", "somebody"),
        lambda: setattr(memory, "note_count", memory.note_count + 1),
    ):
        before = remembered(memory)
        change()
        assert remembered(memory) != before
