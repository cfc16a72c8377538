"""Search for a sequence of acts that breaks what the controller promises on its terminals."""

from __future__ import annotations

import copy
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule

from sim.controller import ReferenceController
from sim.controller.ports import COMMAND_TERMINALS, Drive

GUARDS = ("outer beam", "inner beam", "active edge", "inactive edge", "stop circuit")
CONTROLS = COMMAND_TERMINALS
SHEETS = st.fixed_dictionaries(
    {
        "auto-close": st.sampled_from(("on", "off")),
        "auto-close after": st.just(5),
        "auto-close after a passage": st.sampled_from((0, 2)),
        "outer beam": st.sampled_from(("reopen", "hold")),
        "inner beam": st.sampled_from(("hold", "reopen", "back off", "halt")),
        "active edge": st.sampled_from(("back off", "reopen")),
        "inactive edge": st.sampled_from(("reopen", "back off")),
        "electric lock": st.sampled_from(("not fitted", "fitted")),
        "key switch": st.sampled_from(("open", "hold-to-run open")),
        "open and close buttons": st.sampled_from(("a press is enough", "hold-to-run")),
        "hold-to-run after a failed test": st.sampled_from(("not allowed", "allowed")),
        "warning before moving": st.sampled_from((0, 1)),
        "guard test": st.sampled_from(("on", "off")),
        "leaf delay, opening": st.sampled_from((0, 3)),
        "leaf delay, closing": st.sampled_from((0, 6)),
        "slow zone before stop": st.sampled_from((5, 40)),
        "seating push": st.sampled_from((0, 2)),
        "yard light": st.sampled_from(("off", "on")),
        "obstacle retries": st.sampled_from((0, 1)),
    }
)
"""Sheets that differ in everything that changes what the gate does, at the ends of their ranges."""

CHANGES = (("run speed", 60), ("auto-close", "on"), ("auto-close", "off"))


class Watchdog:
    """Looks at every instant of a gate for what must never be."""

    def __init__(self) -> None:
        self.closing_for = 0
        self.last_way = [0, 0]
        self.idle_for = [1000, 1000]
        self.dead_for = 1000

    def look(self, gate) -> None:
        sheet = gate.controller.panel().settings
        tripped = any(sheet[name] == "reopen" and self._is_tripped(gate, name) for name in GUARDS[:4])
        by_hand = gate.state in ("jog",)
        self.closing_for = self.closing_for + 1 if tripped and gate.closes() and not by_hand else 0
        assert self.closing_for <= 1, "drives closing while a reopening guard is tripped"
        for leaf, duty in enumerate(gate.duties):
            way = (duty > 0) - (duty < 0)
            if way and way == -self.last_way[leaf]:
                assert self.idle_for[leaf] >= 20, "driven the other way without a pause"
            self.idle_for[leaf] = 0 if way else self.idle_for[leaf] + 1
            self.last_way[leaf] = way or self.last_way[leaf]
        if "stop circuit" in gate.tripped and gate.state != "backing off":
            assert gate.duties == (0.0, 0.0), f"driven with the stop circuit open: {gate.state}"
        if gate.supply_v < 16.0:
            assert gate.duties == (0.0, 0.0), "driven without power"

    @staticmethod
    def _is_tripped(gate, name: str) -> bool:
        return name in gate.tripped or (name.endswith("edge") and gate.edge_ohms.get(name, 8200.0) < 5000.0)


def put_right(gate) -> None:
    """Take every obstacle away, clear every guard, let every control go."""
    gate.tripped.clear()
    gate.pressed.clear()
    gate.edge_ohms.clear()
    for leaf in gate.leaves:
        leaf.blocked_below, leaf.blocked_above = -1e9, 1e9
    gate.run(0.1)


DISTURBANCES = (*GUARDS, *GUARDS, *CONTROLS, "clear", "clear", "power", "in the way")


def disturb(gate, what: str) -> None:
    """Do something to a gate, and leave it so."""
    if what in GUARDS:
        gate.trip(what)
    elif what in CONTROLS:
        gate.press(what)
    elif what == "power":
        gate.scans_when_dead = True
        gate.supply_v = 9.0
        gate.run(0.1)
        gate.supply_v = 27.0
    elif what == "in the way":
        for leaf in gate.leaves:
            leaf.blocked_below = leaf.position - 5.0
            leaf.blocked_above = leaf.position + 5.0
    else:
        gate.tripped.clear()


class Gate(RuleBasedStateMachine):
    """Anything people, devices and obstacles can do, in any order, on a lazy gate and on its every-scan twin."""

    make = None

    @initialize(sheet=SHEETS)
    def begin(self, sheet) -> None:
        self.twins = (type(self).make(), type(self).make(every_scan=True))
        self.dogs = (Watchdog(), Watchdog())
        self.counters = {"a": 10}
        for gate, dog in zip(self.twins, self.dogs, strict=True):
            gate.write(sheet)
            gate.ask("enrol", "somebody", "step")
            gate.send("a", 1, 10)
            gate.on_step.append(dog.look)

    def both(self, act) -> None:
        for gate in self.twins:
            act(gate)
            gate.run(0.05)

    @rule(seconds=st.sampled_from((0.05, 0.3, 1.0, 3.0, 9.0)))
    def wait(self, seconds: float) -> None:
        self.both(lambda gate: gate.run(seconds))

    @rule(name=st.sampled_from(CONTROLS), seconds=st.sampled_from((0.05, 2.0, 6.0)))
    def command(self, name: str, seconds: float) -> None:
        def act(gate) -> None:
            gate.press(name)
            gate.run(0.1)
            gate.release(name)
            gate.run(seconds)

        self.both(act)

    @rule(name=st.sampled_from(CONTROLS))
    def hold(self, name: str) -> None:
        self.both(lambda gate: gate.press(name))

    @rule(name=st.sampled_from(CONTROLS))
    def let_go(self, name: str) -> None:
        self.both(lambda gate: gate.release(name))

    @rule(
        name=st.sampled_from(("open button", "close button", "step button")),
        tenths=st.integers(0, 90),
        disturbances=st.lists(
            st.tuples(st.sampled_from(DISTURBANCES), st.sampled_from((0.02, 0.3, 1.2, 4.0))), max_size=3
        ),
    )
    def set_off(self, name: str, tenths: int, disturbances) -> None:
        """Put everything right, give a command, let the movement come some way, and disturb it."""

        def act(gate) -> None:
            put_right(gate)
            if gate.controller.panel().travel == (None, None):
                gate.run(5.0)
                gate.ask("learn")
                gate.run(95.0)
            gate.tap(name)
            gate.run(1.3 + tenths / 10)
            for what, seconds in disturbances:
                disturb(gate, what)
                gate.run(seconds)

        self.both(act)

    @rule(name=st.sampled_from(GUARDS), seconds=st.sampled_from((0.02, 0.2, 1.0, 4.0)))
    def touch(self, name: str, seconds: float) -> None:
        def act(gate) -> None:
            gate.trip(name)
            gate.run(seconds)
            gate.clear(name)
            gate.run(seconds)

        self.both(act)

    @rule(first=st.sampled_from(GUARDS), second=st.sampled_from(GUARDS), after=st.sampled_from((0.02, 0.2, 0.5, 1.5)))
    def touch_two(self, first: str, second: str, after: float) -> None:
        def act(gate) -> None:
            gate.trip(first)
            gate.run(after)
            gate.trip(second)
            gate.run(0.5)
            gate.tripped.clear()
            gate.run(after)

        self.both(act)

    @rule(name=st.sampled_from(GUARDS))
    def trip(self, name: str) -> None:
        self.both(lambda gate: gate.trip(name))

    @rule()
    def clear(self) -> None:
        self.both(lambda gate: gate.tripped.clear())

    @rule(name=st.sampled_from(GUARDS[2:4]), ohms=st.sampled_from((0.0, 4100.0, 8200.0, 16400.0, 1e9)))
    def edge_line(self, name: str, ohms: float) -> None:
        self.both(lambda gate: gate.edge_ohms.__setitem__(name, ohms))

    @rule(name=st.sampled_from(GUARDS[:2]), deaf=st.booleans())
    def emitter(self, name: str, deaf: bool) -> None:
        self.both(lambda gate: gate.deaf.add(name) if deaf else gate.deaf.discard(name))

    @rule(leaf=st.sampled_from((0, 1)), at=st.sampled_from((0.0, 20.0, 300.0, 700.0)), below=st.booleans())
    def obstacle(self, leaf: int, at: float, below: bool) -> None:
        def act(gate) -> None:
            setattr(gate.leaves[leaf], "blocked_below" if below else "blocked_above", at if below else 1000.0 - at)

        self.both(act)

    @rule()
    def take_away(self) -> None:
        self.both(put_right)

    @rule(leaf=st.sampled_from(("active", "inactive")), way=st.sampled_from(("open", "close", "release")))
    def jog(self, leaf: str, way: str) -> None:
        self.both(lambda gate: gate.ask("jog", leaf, way))

    @rule(setting=st.sampled_from(CHANGES))
    def write(self, setting) -> None:
        self.both(lambda gate: gate.ask("set", *setting))

    @rule(ahead=st.sampled_from((0, 1, 3, 40)))
    def radio(self, ahead: int) -> None:
        self.counters["a"] += ahead
        self.both(lambda gate: gate.send("a", 1, self.counters["a"]))

    @rule(seconds=st.sampled_from((0.02, 0.5)), asks=st.booleans())
    def power_cut(self, seconds: float, asks: bool) -> None:
        def act(gate) -> None:
            gate.scans_when_dead = asks
            gate.supply_v = 4.0
            gate.run(seconds)
            gate.supply_v = 27.0
            gate.run(0.02)
            assert gate.duties == (0.0, 0.0)

        self.both(act)

    @precondition(lambda self: self.twins[0].rests())
    @rule(seconds=st.integers(0, 80))
    def learn(self, seconds: int) -> None:
        def act(gate) -> None:
            put_right(gate)
            gate.ask("learn")
            gate.run(seconds)

        self.both(act)

    @rule()
    def keyframe(self) -> None:
        gate = self.twins[0]
        kept = copy.deepcopy(gate.controller.state())
        gate.controller.restore(kept)
        assert gate.controller.state() == kept

    def teardown(self) -> None:
        if not hasattr(self, "twins"):
            return
        lazy, eager = self.twins
        assert lazy.trace == eager.trace
        assert lazy.controller.state() == eager.controller.state()
        assert lazy.controller.panel() == eager.controller.panel()


@pytest.fixture
def search(make_gate):
    """The search, on gates of this room's own making."""
    return type("Search", (Gate,), {"make": staticmethod(make_gate)})


class _Blind(ReferenceController):
    """A controller with a bug: it doesn't see the outer beam."""

    def scan(self, now, inputs):
        return super().scan(now, replace(inputs, guard_v=(0.1, *inputs.guard_v[1:])))


class _Hasty(ReferenceController):
    """A controller with a bug: it drives the other way without a pause."""

    def scan(self, now, inputs):
        scan = super().scan(now, inputs)
        if self.panel().state == "reversing":
            return replace(scan, outputs=replace(scan.outputs, active=Drive(1.0), inactive=Drive(1.0)))
        return scan


class _Deaf(ReferenceController):
    """A controller with a bug: it doesn't hear the stop circuit."""

    def scan(self, now, inputs):
        return super().scan(now, replace(inputs, guard_v=(*inputs.guard_v[:4], 0.1)))


@pytest.mark.parametrize(
    ("wrong", "guard", "breaks"),
    [
        (_Blind, "outer beam", "drives closing while a reopening guard is tripped"),
        (_Hasty, "outer beam", "driven the other way without a pause"),
        (_Deaf, "stop circuit", "driven with the stop circuit open"),
    ],
)
def test_watchdog_sees_a_controller_that_is_wrong(make_gate, wrong, guard: str, breaks: str) -> None:
    """Each promise can be broken, and is then found: a watch that can't bite is no watch."""
    gate = make_gate()
    gate.write({"guard test": "off"})
    kept = gate.controller.state()
    gate.controller = wrong()
    gate.controller.restore(kept)
    gate.on_step.append(Watchdog().look)
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.run(5.0)
    gate.trip(guard)
    with pytest.raises(AssertionError, match=breaks):
        gate.run(3.0)


FIRST = (*GUARDS, *CONTROLS, "power", "in the way")
THEN = ("stop circuit", "outer beam", "active edge", "power", "step button")


@pytest.mark.parametrize("then", THEN)
@pytest.mark.parametrize("command", ["open button", "close button"])
def test_two_disturbances_along_a_movement(make_gate, command: str, then: str) -> None:
    """Every pair of disturbances, each 1.3 s of a movement: no promise broken, and what was held is let go."""
    gate = make_gate()
    gate.write({"inner beam": "back off", "inactive edge": "reopen", "auto-close": "on", "electric lock": "fitted"})
    if command == "close button":
        gate.tap("open button")
        gate.until_state("open, waiting to close")
    gate.tap(command)
    while gate.state not in ("open, waiting to close", "closed"):
        for first in FIRST:
            branch = copy.deepcopy(gate)
            branch.on_step.append(Watchdog().look)
            disturb(branch, first)
            branch.run(0.3)
            disturb(branch, then)
            branch.run(1.0)
            branch.tripped.clear()
            branch.pressed.clear()
            branch.run(6.0)
        gate.run(1.3)


@pytest.mark.slow
def test_no_sequence_breaks_a_promise(search) -> None:
    """No acts in any order drive closing past a reopening guard, reverse without a pause, or part the twins."""
    case = search.TestCase
    case.settings = settings(
        max_examples=60,
        stateful_step_count=30,
        deadline=None,
        derandomize=True,
        suppress_health_check=list(HealthCheck),
    )
    case("runTest").runTest()
