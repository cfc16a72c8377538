"""A small linear gate for the controller's plays: duty in, counts, currents and guard voltages out.

It knows nothing of angles. Each leaf is a number of counts between two stops, driven at a speed in proportion to its
duty; whatever stands in its way stops it and takes all the current that the limit allows.
"""

from __future__ import annotations

import copy
from collections.abc import Callable
from dataclasses import dataclass, field

import pytest

from sim.controller import ReferenceController
from sim.controller.ports import (
    BOARD_MINIMUM_V,
    COMMAND_TERMINALS,
    GUARD_TERMINALS,
    Inputs,
    Outputs,
    RadioWord,
    Request,
    Scan,
    Watch,
    Watched,
)
from sim.controller.reference import sentences
from sim.units import SCAN, Us

FULL_SPEED = 200.0
"""Counts per second at full duty."""

RUNNING_A = 2.0
"""Motor current of a leaf that moves freely [A]."""

REACTION = 100_000
"""A beam's receiver reacts to its emitter this late [µs]."""


@dataclass
class FakeLeaf:
    """One leaf: where it is, what stands in its way."""

    position: float = 0.0
    travel: float = 1000.0
    offset: int = 0
    """Counter reading at the closed stop."""
    sign: int = 1
    """−1 when the motor leads are exchanged; the encoder turns with the motor."""
    connected: bool = True
    released: bool = False
    blocked_below: float = -1e9
    blocked_above: float = 1e9
    duty: float = 0.0
    current: float = 0.0
    shown: int = 0
    quiet: int = 10_000_000

    def step(self, target: float, slew: float, limit: float, brake: bool) -> None:
        """10 ms of movement."""
        change = slew * 0.01
        self.duty = 0.0 if brake else self.duty + max(-change, min(change, target - self.duty))
        if abs(self.duty) < 1e-9:
            self.duty = 0.0
        before = self.position
        if self.connected:
            self.position += self.sign * self.duty * FULL_SPEED * 0.01
        low, high = max(0.0, self.blocked_below), min(self.travel, self.blocked_above)
        if self.released:
            low, high = -1e9, 1e9
        if self.position < low <= before or (self.position < before and before < low):
            self.position = min(before, low)
        if self.position > high >= before or (self.position > before and before > high):
            self.position = max(before, high)
        moved = self.position != before
        way = 1.0 if target >= 0 else -1.0
        strength = RUNNING_A if moved else min(limit, 20.0 * abs(self.duty))
        self.current = way * (1 if self.duty * way > 0 else -1) * strength if self.duty and self.connected else 0.0
        self.current = abs(self.current)
        count = self.offset + int(self.position // 1)
        self.quiet = 0 if count != self.shown else self.quiet + SCAN
        self.shown = count


@dataclass
class FakeGate:
    """Two leaves, five guards, five controls, and a host that scans when it is due or every 10 ms."""

    every_scan: bool = False
    controller: ReferenceController = field(default_factory=ReferenceController)
    leaves: tuple[FakeLeaf, FakeLeaf] = field(default_factory=lambda: (FakeLeaf(), FakeLeaf()))
    now: int = 0
    supply_v: float = 27.3
    tripped: set[str] = field(default_factory=set)
    deaf: set[str] = field(default_factory=set)
    """Beams that don't follow their emitter's supply."""
    edge_ohms: dict[str, float] = field(default_factory=dict)
    pressed: set[str] = field(default_factory=set)
    outputs: Outputs = field(default_factory=lambda: Outputs(emitter_supply=False))
    scan: Scan | None = None
    scans: int = 0
    trace: list[tuple[int, Outputs]] = field(default_factory=list)
    scans_when_dead: bool = False
    """Whether the host asks the controller even when the supply is too low."""
    on_step: list[Callable[[FakeGate], None]] = field(default_factory=list)
    _emitters_since: int = -10_000_000
    _emitters_were: bool = False
    _emitters: bool = False
    _powered: bool = False
    _read: object = None
    _radio: list[RadioWord] = field(default_factory=list)
    _requests: list[Request] = field(default_factory=list)
    _told: int = 0
    _began: int = 0

    # -- what people do --------------------------------------------------------------------------------

    def press(self, name: str) -> None:
        assert name in COMMAND_TERMINALS
        self.pressed.add(name)

    def release(self, name: str) -> None:
        self.pressed.discard(name)

    def tap(self, name: str) -> None:
        """Press for a tenth of a second."""
        self.press(name)
        self.run(0.1)
        self.release(name)
        self.run(0.05)

    def trip(self, name: str) -> None:
        assert name in GUARD_TERMINALS
        self.tripped.add(name)

    def clear(self, name: str) -> None:
        self.tripped.discard(name)

    def ask(self, kind: str, name: str = "", value: str | float | bool = "") -> str:
        """Do something at the service panel; returns its answer."""
        self._requests.append(Request(kind, name, value))
        self.run(0.02)
        return self.controller.panel().answer

    def write(self, settings: dict[str, str | float]) -> None:
        """Set settings. Every one must be accepted."""
        for name, value in settings.items():
            answer = self.ask("set", name, value)
            assert answer.startswith("done"), answer

    def send(self, serial: str, button: int, counter: int) -> None:
        """A press and release of a transmitter."""
        self._radio.append(RadioWord(serial, button, counter, True))
        self.run(0.1)
        self._radio.append(RadioWord(serial, button, counter, False))
        self.run(0.02)

    # -- time ------------------------------------------------------------------------------------------

    def run(self, seconds: float) -> None:
        end = self.now + round(seconds * 1e6)
        while self.now < end:
            self._step()

    def until(self, done: Callable[[], bool], at_most: float = 120.0) -> None:
        end = self.now + round(at_most * 1e6)
        while not done():
            assert self.now < end, f"still {self.state} ({self.message}) after {at_most} s"
            self._step()

    def until_state(self, state: str, at_most: float = 120.0) -> None:
        self.until(lambda: self.state == state, at_most)

    def rests(self) -> bool:
        """Nothing is driven, nothing is under way."""
        return self.state in (
            "open",
            "closed",
            "part way open",
            "open for pedestrians",
            "at rest",
            "position unknown",
        )

    # -- what one sees ---------------------------------------------------------------------------------

    @property
    def state(self) -> str:
        return self.controller.panel().state

    @property
    def message(self) -> str:
        return self.controller.panel().message

    @property
    def duties(self) -> tuple[float, float]:
        return self.outputs.active.duty, self.outputs.inactive.duty

    @property
    def positions(self) -> tuple[int, int]:
        return round(self.leaves[0].position), round(self.leaves[1].position)

    def mark(self) -> None:
        """The play begins here: `story` tells from now on, with times from now."""
        self._told = len(sentences(self.controller))
        self._began = self.now

    def story(self) -> list[tuple[float, str]]:
        """(seconds since the mark, sentence) of the controller's log since the mark."""
        log = self.controller.panel().log[self._told :]
        return [(round((at - self._began) / 1e6, 2), text) for at, text in log]

    def plot(self) -> list[str]:
        """The sentences alone."""
        return [text for _, text in self.story()]

    def closes(self) -> bool:
        return min(self.duties) < 0.0

    def opens(self) -> bool:
        return max(self.duties) > 0.0

    # -- the machinery ---------------------------------------------------------------------------------

    def inputs(self) -> Inputs:
        return Inputs(
            self.supply_v,
            tuple(self._guard_volts(name) for name in GUARD_TERMINALS),
            tuple(0.2 if name in self.pressed else 24.1 for name in COMMAND_TERMINALS),
            (self.leaves[0].current, self.leaves[1].current),
            (self.leaves[0].shown, self.leaves[1].shown),
            (self.leaves[0].quiet, self.leaves[1].quiet),
            tuple(self._radio),
            tuple(self._requests),
        )

    def _guard_volts(self, name: str) -> float:
        if name.endswith("edge"):
            ohms = 0.0 if name in self.tripped else self.edge_ohms.get(name, 8200.0)
            return 3.3 * ohms / (ohms + 8200.0)
        is_open = name in self.tripped or (name.endswith("beam") and name not in self.deaf and self._is_dark())
        return 24.1 if is_open else 0.1

    def _is_dark(self) -> bool:
        follows = self._emitters if self.now - self._emitters_since >= REACTION else self._emitters_were
        return not follows

    def _step(self) -> None:
        """10 ms: the leaves move, then the controller is asked if it is due."""
        self.now += SCAN
        for leaf, drive in zip(self.leaves, (self.outputs.active, self.outputs.inactive), strict=True):
            leaf.step(drive.duty, drive.slew_per_s, drive.limit_a, drive.brake)
        inputs = self.inputs()
        if inputs.supply_v <= BOARD_MINIMUM_V:
            answer = self.controller.scan(Us(self.now), inputs).outputs if self.scans_when_dead else None
            self._powered = False
            self._apply(answer or Outputs(emitter_supply=False))
            self.scan = None
        elif not self._powered or self._is_due(inputs):
            if not self._powered:
                self._powered = True
                self.controller.power_up(Us(self.now))
            self.scan = self.controller.scan(Us(self.now), inputs)
            self.scans += 1
            self._apply(self.scan.outputs)
        self._read = (inputs.guard_v, inputs.command_v)
        self._radio, self._requests = [], []
        for look in self.on_step:
            look(self)

    def _is_due(self, inputs: Inputs) -> bool:
        scan = self.scan
        if self.every_scan or scan is None or scan.watches is None or inputs.radio or inputs.requests:
            return True
        if scan.wake is not None and self.now >= scan.wake:
            return True
        if (inputs.guard_v, inputs.command_v) != self._read:
            return True
        return any(_holds(watch, inputs) for watch in scan.watches)

    def _apply(self, outputs: Outputs) -> None:
        if outputs.emitter_supply != self._emitters:
            self._emitters_were, self._emitters = self._emitters, outputs.emitter_supply
            self._emitters_since = self.now
        if outputs != self.outputs:
            self.trace.append((self.now, outputs))
        self.outputs = outputs


def _holds(watch: Watch, inputs: Inputs) -> bool:
    leaf, current = watch.leaf, abs(inputs.motor_a[watch.leaf])
    if watch.what is Watched.CURRENT_ABOVE_TABLE:
        place = max(0, min(len(watch.table) - 1, (inputs.counts[leaf] - watch.table_start) // watch.table_pitch))
        return current > watch.table[place]
    value = {
        Watched.COUNT_AT_LEAST: inputs.counts[leaf],
        Watched.COUNT_AT_MOST: -inputs.counts[leaf],
        Watched.CURRENT_AT_LEAST: current,
        Watched.STALLED_FOR: inputs.quiet_us[leaf],
        Watched.SUPPLY_AT_MOST: -inputs.supply_v,
    }[watch.what]
    falls = watch.what in (Watched.COUNT_AT_MOST, Watched.SUPPLY_AT_MOST)
    return value >= (-watch.threshold if falls else watch.threshold)


SLOW_SPEED = 35
"""Of these gates [%]: without a train behind them they move as fast as they are driven."""


def new_gate(every_scan: bool = False) -> FakeGate:
    """A gate as it leaves the works: power on for a second, nothing stated, both leaves half open."""
    gate = FakeGate(every_scan)
    for leaf, position, offset in zip(gate.leaves, (500.0, 500.0), (40, -7), strict=True):
        leaf.position, leaf.offset, leaf.shown = position, offset, offset + int(position)
    gate.run(1.0)
    gate.write({"slow speed": SLOW_SPEED})
    gate.mark()
    return gate


def stated(gate: FakeGate) -> FakeGate:
    """The sheet says what is there; every guard is."""
    gate.write({"leaves fitted": "2", "drive kind": "linear ram", "opens first": "active"})
    gate.mark()
    return gate


_LEARNED: dict[bool, FakeGate] = {}


def learned_gate(every_scan: bool = False) -> FakeGate:
    """A gate that has learned its travel and stands shut."""
    if every_scan not in _LEARNED:
        gate = stated(new_gate(every_scan))
        gate.ask("learn")
        gate.until(lambda: gate.message.startswith("learning finished"), 400.0)
        gate.run(1.0)
        gate.mark()
        _LEARNED[every_scan] = gate
    return copy.deepcopy(_LEARNED[every_scan])


@pytest.fixture
def fresh() -> FakeGate:
    """A gate as it leaves the works."""
    return new_gate()


@pytest.fixture
def ready() -> FakeGate:
    """A gate whose sheet is filled in; nothing learned yet."""
    return stated(new_gate())


@pytest.fixture
def gate() -> FakeGate:
    """A gate that has learned and stands shut."""
    return learned_gate()


@pytest.fixture
def make_gate() -> Callable[..., FakeGate]:
    """Makes learned gates: `make_gate(every_scan=True)`."""
    return learned_gate


@pytest.fixture
def make_fresh() -> Callable[..., FakeGate]:
    """Makes gates as they leave the works."""
    return new_gate
