"""One scan in which something is due: the instant, the terminals, the memory, and the verbs every room uses."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

from sim.controller import counters, log, timers, wording
from sim.controller.machine import Moved, State
from sim.controller.memory import Leaf, Memory, Move
from sim.controller.ports import Inputs
from sim.controller.sheet import Sheet, first_leaf, leaves, number, word
from sim.units import Us

BRAKE_S: Final = 0.3
"""How long the brake is held after a stop, and the pause before a leaf is driven the other way [s]. CP."""


@dataclass
class Turn:
    """Made anew for each due scan; nothing of it outlives the instant."""

    now: Us
    inputs: Inputs
    memory: Memory
    machine: Moved
    commands: list[tuple[str, str]] = field(default_factory=list)
    """(what, by whom) that were given at this scan."""

    @property
    def sheet(self) -> Sheet:
        """The sheet as written."""
        return self.memory.sheet

    @property
    def state(self) -> State:
        """What the gate does now."""
        return self.memory.state

    @property
    def leaves(self) -> tuple[int, ...]:
        """Leaves that are there, by index."""
        return leaves(self.memory.sheet)

    @property
    def first(self) -> int:
        """The leaf that opens first and closes last."""
        return first_leaf(self.memory.sheet)

    @property
    def second(self) -> int | None:
        """The leaf that opens last and closes first, None on a gate with one leaf."""
        return 1 - self.first if len(self.leaves) == 2 else None

    def leaf(self, index: int) -> Leaf:
        """What is known of a leaf."""
        return self.memory.leaves[index]

    def move(self, index: int) -> Move:
        """The movement of a leaf."""
        return self.memory.leaves[index].move

    def position(self, index: int) -> int:
        """Counts from the closed stop."""
        return self.inputs.counts[index] - self.memory.leaves[index].origin

    def fire(self, trigger: str) -> None:
        """Take a row of the table."""
        self.machine.fire(trigger)
        self.memory.state = self.machine.state

    def say(self, message: str) -> None:
        """What the panel shows from now on."""
        self.memory.message = message

    def note(self, kind: str, what: str, detail: str = "") -> None:
        """Take note in the event log."""
        log.add(self.memory, self.now, kind, what, detail)
        if kind == "obstacle":
            counters.add(self.memory, "obstacles")

    def refuse(self, what: str, why: str) -> None:
        """Say and note that something asked for is not done."""
        self.say(wording.refused(what, why))
        self.note("refused", what, why)

    def start_timer(self, name: str, seconds: float) -> None:
        """Have `name` due in `seconds` [s]."""
        timers.start(self.memory.timers, name, self.now, seconds)

    def stop_timer(self, name: str) -> None:
        """Forget a deadline."""
        timers.stop(self.memory.timers, name)

    def take_timer(self, name: str) -> bool:
        """Whether `name` is due; once."""
        return timers.take(self.memory.timers, name, self.now)

    def timer_runs(self, name: str) -> bool:
        """Whether a deadline is set."""
        return timers.running(self.memory.timers, name)

    def pulse_lock(self) -> None:
        """Drive the lock for its time, whenever a leaf may be about to open from shut."""
        if word(self.sheet, "electric lock") == "fitted":
            self.start_timer("lock pulse", number(self.sheet, "lock pulse"))

    def let_go(self, *, brake: bool) -> None:
        """Drive nothing from this scan on; with the brake, or softly by the slew."""
        for leaf in self.memory.leaves:
            leaf.move = Move()
            leaf.stroke = []
        self.memory.brakes = brake
        self.stop_timer("sample")
        self.stop_timer("run-time limit")
        self.start_timer("brake", BRAKE_S)
