"""The linear gate of the bench with what a play needs: taps, stories, a gate that has learned its travel."""

from __future__ import annotations

import copy
from collections.abc import Callable
from dataclasses import dataclass, field, replace

import pytest

from sim.bench.line_gate import LineGate
from sim.bench.line_leaf import LineLeaf
from sim.controller.ports import Inputs, Scan
from sim.controller.readable import ReadableController
from sim.controller.reference import ReferenceController, sentences
from sim.units import Us


@dataclass
class PlayedGate(LineGate):
    """A linear gate whose controller's log is told as a story."""

    _told: int = 0
    _began: int = 0

    def tap(self, name: str) -> None:
        """Press for a tenth of a second."""
        self.press(name)
        self.run(0.1)
        self.release(name)
        self.run(0.05)

    def until_state(self, state: str, at_most: float = 120.0) -> None:
        self.until_shown(lambda shown: shown.state == state, at_most)

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


class Forms(ReferenceController):
    """The short way, and the readable form on the same inputs; looked at after every scan."""

    def __init__(self) -> None:
        super().__init__()
        self.readable = ReadableController()

    def power_up(self, now: Us) -> None:
        super().power_up(now)
        self.readable.power_up(now)

    def know_time(self, now: Us, second: int) -> None:
        super().know_time(now, second)
        self.readable.know_time(now, second)

    def restore(self, state) -> None:
        super().restore(state)
        self.readable.restore(state)

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        short, whole = super().scan(now, inputs), self.readable.scan(now, inputs)
        assert self._memory == self.readable._memory, f"at {now / 1e6:.2f} s, {self._memory.state.value}"
        assert short == whole, f"at {now / 1e6:.2f} s, {self._memory.state.value}"
        return short


@pytest.fixture
def forms() -> type[ReferenceController]:
    """A controller that is both forms at once, and fails where they differ."""
    return Forms


SLOW_SPEED = 35
"""Of these gates [%]: without a train behind them they move as fast as they are driven."""


def new_gate(every_scan: bool = False, leaf: type[LineLeaf] = LineLeaf) -> PlayedGate:
    """A gate as it leaves the works: power on for a second, nothing stated, both leaves half open."""
    gate = PlayedGate(every_scan, leaves=(leaf(), leaf()))
    for leaf, position, offset in zip(gate.leaves, (500.0, 500.0), (40, -7), strict=True):
        leaf.position, leaf.offset, leaf.shown = position, offset, offset + int(position)
    gate.run(1.0)
    gate.write({"slow speed": SLOW_SPEED})
    gate.mark()
    return gate


def stated(gate: PlayedGate) -> PlayedGate:
    """The sheet says what is there; every guard is."""
    gate.write({"leaves fitted": "2", "drive kind": "linear ram", "opens first": "active"})
    gate.mark()
    return gate


_LEARNED: dict[bool, PlayedGate] = {}


def learned_gate(every_scan: bool = False) -> PlayedGate:
    """A gate that has learned its travel and stands shut."""
    if every_scan not in _LEARNED:
        gate = stated(new_gate(every_scan))
        gate.ask("learn")
        gate.until_shown(lambda shown: shown.message.startswith("learning finished"), 400.0)
        gate.run(1.0)
        gate.mark()
        _LEARNED[every_scan] = gate
    return copy.deepcopy(_LEARNED[every_scan])


IN_LEAD = "in the motor lead"


@dataclass
class Switches:
    """Where the four limit switches of a gate are [counts from the closed stop], and which of them lie."""

    wiring: str
    at: list[tuple[float, float]] = field(default_factory=lambda: [(0.0, 1000.0), (0.0, 1000.0)])
    stuck: dict[tuple[int, int], bool] = field(default_factory=dict)
    """(leaf, way) of a switch that always reads reached, or never does."""

    def move(self, gate, leaf: int, low: float) -> None:
        """Have a leaf's closed switch somewhere else; one in the lead stops it there."""
        self.at[leaf] = (low, self.at[leaf][1])
        if self.wiring == IN_LEAD:
            gate.leaves[leaf].blocked_below = low

    def is_reached(self, gate, leaf: int, way: int) -> bool:
        low, high = self.at[leaf]
        place = gate.leaves[leaf].position
        return self.stuck.get((leaf, way), place >= high if way > 0 else place <= low)

    def volts(self, gate) -> tuple[float, ...]:
        opens = self.wiring.endswith("open when reached")
        reached = [self.is_reached(gate, leaf, way) for leaf in (0, 1) for way in (1, -1)]
        return tuple([24.1 if there is opens else 0.1 for there in reached])

    def amps(self, gate) -> tuple[float, float]:
        """In the lead a switch that is reached takes the current of the way it ends."""
        one, other = [
            0.0 if leaf.duty and self.is_reached(gate, index, 1 if leaf.duty > 0 else -1) else leaf.current
            for index, leaf in enumerate(gate.leaves)
        ]
        return one, other


@dataclass
class SwitchedGate(PlayedGate):
    """A gate whose leaves nobody counts; limit switches tell where their stops are."""

    switches: Switches | None = None

    def inputs(self) -> Inputs:
        seen = super().inputs()
        if self.switches is None:
            return seen
        if self.switches.wiring == IN_LEAD:
            return replace(seen, motor_a=self.switches.amps(self))
        return replace(seen, limit_v=self.switches.volts(self))


_SWITCHED: dict[tuple[str, bool], SwitchedGate] = {}


def switched_gate(wiring: str, learns: bool = True) -> SwitchedGate:
    """A gate with limit switches in a wiring, as the sheet has it; it has learned, or both leaves are half open."""
    if (wiring, learns) not in _SWITCHED:
        gate = SwitchedGate(switches=Switches(wiring))
        for leaf in gate.leaves:
            leaf.position, leaf.shown = 500.0, 500
        gate.run(1.0)
        gate.write({"slow speed": SLOW_SPEED, "position sensing": "limit switches", "limit switches": wiring})
        stated(gate)
        if learns:
            gate.ask("learn")
            gate.until_shown(lambda shown: shown.message.startswith("learning finished"), 400.0)
            gate.run(1.0)
            gate.mark()
        _SWITCHED[wiring, learns] = gate
    return copy.deepcopy(_SWITCHED[wiring, learns])


@pytest.fixture
def make_switched() -> Callable[..., SwitchedGate]:
    """Makes gates with limit switches: `make_switched(wiring, learns=False)`."""
    return switched_gate


@pytest.fixture
def fresh() -> PlayedGate:
    """A gate as it leaves the works."""
    return new_gate()


@pytest.fixture
def ready() -> PlayedGate:
    """A gate whose sheet is filled in; nothing learned yet."""
    return stated(new_gate())


@pytest.fixture
def gate() -> PlayedGate:
    """A gate that has learned and stands shut."""
    return learned_gate()


@pytest.fixture
def make_gate() -> Callable[..., PlayedGate]:
    """Makes learned gates: `make_gate(every_scan=True)`."""
    return learned_gate


@pytest.fixture
def make_fresh() -> Callable[..., PlayedGate]:
    """Makes gates as they leave the works."""
    return new_gate
