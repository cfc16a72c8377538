"""Everything the controller remembers, as one tree of plain data.

What outlives an instant is here and nowhere else. The part that survives a loss of power is marked; the rest is
cleared by `power_lost`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from sim.controller.calendar import NOT_SET
from sim.controller.machine import State
from sim.controller.records import Counts, Note, Radio
from sim.controller.settings import Value, defaults
from sim.said import said


class Phase(Enum):
    """Where one leaf is in its own movement."""

    IDLE = "idle"
    WAITING = "waiting"
    """For its delay, or for the other leaf."""
    MOVING = "moving"
    PAUSED = "paused"
    """Stopped before the lap until the other leaf is home."""
    SEATING = "seating"
    DONE = "done"


class Goal(Enum):
    """What ends one leaf's movement."""

    STOP = "stop"
    """The stop where it was learned."""
    COUNT = "count"
    """A count."""
    SEEK = "seek"
    """The first thing that stops it, slowly."""
    HAND = "hand"
    """Whoever holds the control."""


class Wait(Enum):
    """What a waiting leaf needs of the other, beside its own delay."""

    NOTHING = "nothing"
    LEAD = "lead"
    """The other is ahead of it, or clear of the lap."""
    CLEAR = "clear"
    """The other is clear of the lap."""
    HOME = "home"
    """The other is shut."""
    STANDS = "stands"
    """The other has come to its end, wherever that is."""


@dataclass
class Move:
    """One leaf's movement."""

    phase: Phase = Phase.IDLE
    direction: int = 0
    """+1 opening, −1 closing."""
    goal: Goal = Goal.HAND
    wait: Wait = Wait.NOTHING
    other_at: int = 0
    """For LEAD and CLEAR: the other leaf's counter reading from which on this one may start."""
    start_at: int = 0
    """Not before this instant [µs]."""
    start_count: int = 0
    target: int = 0
    """Where a movement to a count ends [counts]."""
    slow: bool = False
    holds_before_lap: bool = False
    then_closes: bool = False
    """This leaf only makes room; it closes afterwards."""
    frees: bool = False
    """It takes the load off something that the leaf has met."""
    effort_a: float = 0.0
    """Current limit [A]."""
    slew_per_s: float = 2.0
    arms_at: int = 0
    """From here on stall and effort are judged [µs]."""
    armed: bool = False
    over_until: int = 0
    """While an excess of effort is being confirmed: when it is looked at again [µs]."""
    seats_until: int = 0


@dataclass
class Reckoned:
    """What is reckoned of the movement of a leaf that nothing counts, from the last instant at which it changed."""

    at: int = 0
    """That instant [µs]."""
    count: float = 0.0
    """The counter it would have had then [counts]."""
    duty: float = 0.0
    """Where the bridge's duty stood then by its slew."""
    target: float = 0.0
    """Where it has gone to since, by `slew_per_s`, or has dropped at once by the brake."""
    slew_per_s: float = 0.0
    brake: bool = False
    strength: float = 1.0
    """The supply as a share of the rated one."""
    way: int = 1
    """The way it was driven last: +1 opening, −1 closing."""
    run_s: float = 0.0
    """How long the movement under way had been driven then [s]."""
    duty_s: float = 0.0
    """Its duty times `strength`, summed over that time [s]."""
    looks_at: int = -1
    """When the current is looked at first [µs], −1 once that is done."""
    flowed: bool = False
    """Current flowed when it was."""
    held_a: float = 0.0
    """What a mains motor took then, while it hardly turned [A]."""
    sign: str = ""
    """Why the leaf may stand: `held`, `limit` or `dead`; empty while it runs."""
    since: int = 0
    """Since when the sign is there [µs]."""
    stood: list[float] = field(default_factory=lambda: [0.0, 0.0, 0.0])
    """count, run_s and duty_s at that instant."""
    came_from: int = 0
    """The stop at which the movement began: +1 open, −1 closed, 0 neither."""
    left: bool = False
    """It is off the limit switch that it was driven away from."""
    bin: int = -1
    """Bin of the learned load from which on the limit of effort is what it is, −1 while effort is not judged."""


@dataclass
class Leaf:
    """What is known of one leaf."""

    # kept without power
    travel: int = 0
    """Learned travel [counts], 0 if not learned."""
    opening_load: list[float] = field(default_factory=list)
    """Learned current [A] over the travel, one entry a bin from the closed stop."""
    closing_load: list[float] = field(default_factory=list)
    kept_position: int = 0
    """Where it rested last, in counts from the closed stop."""
    runs: list[list[int]] = field(default_factory=list)
    """From when to when its motor was driven within the last cycle of its duty [µs]."""
    longest_run: int = 0
    """The longest run to a learned stop since learning [µs]."""
    driven_since: int = -1
    """Since when its motor is driven [µs], −1 when it isn't."""
    timed: dict[str, list[float]] = field(default_factory=dict)
    """`slow`, `opening`, `closing`: [seconds, duty times seconds] of a whole run, where time tells the position."""
    at_stop: int = 0
    """The stop that it was last seen to reach and has not left: +1 open, −1 closed; where nothing counts."""
    doubt: float = 0.0
    """How far the reckoned position may be off [counts]."""
    # lost without power
    origin: int = 0
    """Counter reading at the closed stop [counts]."""
    move: Move = field(default_factory=Move)
    reckoned: Reckoned = field(default_factory=Reckoned)
    stroke: list[float] = field(default_factory=list)
    """Largest current in each bin of the stroke under way [A]."""
    new_opening_load: list[float] = field(default_factory=list)
    new_closing_load: list[float] = field(default_factory=list)


@dataclass
class Wish:
    """The movement that was asked for, from the first question to its end."""

    what: str = ""
    """A command that asks for a movement, or `learn`."""
    by: str = ""
    """Who gave it, in words."""
    by_itself: bool = False
    """Auto-close asked for it."""
    reaction: bool = False
    """Nobody asked: it follows from a guard or an obstacle."""

    def cause(self) -> str:
        """Why the gate moves, to follow the name of the movement."""
        return said("after {cause}" if self.reaction else "by {cause}", cause=self.by)


@dataclass
class GuardTest:
    """The test of the beams before a start."""

    dropped: bool = False
    """The emitter supply is off now."""
    tested: list[int] = field(default_factory=list)
    """Which guards take part, by index."""
    failed: dict[str, str] = field(default_factory=dict)
    """Guard: how it failed in this test."""


@dataclass
class Seek:
    """One slow run of a stop-finding sequence: a leaf, a way, and whether it only makes room."""

    leaf: int = 0
    direction: int = 0
    makes_room: bool = False


@dataclass
class Learning:
    """Progress of travel learning or of a finding run."""

    seeks: list[Seek] = field(default_factory=list)
    """Still to do, the first one under way."""
    seeks_in_all: int = 0
    under_way: bool = False
    open_count: list[int] = field(default_factory=lambda: [0, 0])
    """Counter reading at each leaf's open stop."""
    other_start: int = 0
    """Counter of the other leaf when the run began."""
    strokes: int = 0
    """Working strokes finished; two make a cycle."""


@dataclass
class Memory:
    """All of it."""

    # kept without power
    sheet: dict[str, Value] = field(default_factory=defaults)
    learned: bool = False
    load_strokes_due: int = 0
    """Whole strokes still needed until an outdated load table is renewed."""
    load_c: dict[str, float] = field(default_factory=dict)
    """Temperature of the board when the load was learned [°C], by `opening` and `closing`."""
    doubt: str = ""
    """Why the learned travel may not fit any more, see `doubt`."""
    counted: Counts = field(default_factory=Counts)
    counted_since: Counts = field(default_factory=Counts)
    """Since the sheet was sealed last."""
    visited: str = ""
    """When it was sealed last, in words; empty if it never was."""
    position_kept: bool = False
    """The kept positions were written at rest."""
    sealed_by: str = ""
    radio: Radio = field(default_factory=Radio)
    clock_ahead: int = NOT_SET
    """How far the clock is ahead of the instants of scans [µs], see `calendar`."""
    clock_stopped: bool = False
    """It was set, and stood still for want of power."""
    failed_tests: dict[str, str] = field(default_factory=dict)
    """Guard: how its last test failed, until it passes one."""
    notes: list[Note] = field(default_factory=list)
    note_count: int = 0
    leaves: list[Leaf] = field(default_factory=lambda: [Leaf(), Leaf()])
    # lost without power
    state: State = State.NO_POWER
    fresh: bool = True
    """No terminal was read since power came."""
    position_known: bool = False
    guards: list[str] = field(default_factory=list)
    guard_volts: list[float] = field(default_factory=list)
    command_volts: list[float] = field(default_factory=list)
    supply_v: float = 0.0
    limit_volts: list[float] = field(default_factory=list)
    limits: list[bool] = field(default_factory=list)
    """Which limit switches on the board are reached."""
    rests_until: int = -1
    """From when on the motors have rested enough for what was refused [µs], −1 if nothing was."""
    board_c: float = 20.0
    """[°C]"""
    new_load_c: dict[str, float] = field(default_factory=dict)
    met_at: dict[str, int] = field(default_factory=dict)
    """The leaf that met something last, and where [counts from the closed stop]."""
    ailments: list[str] = field(default_factory=list)
    """What the self-check found that keeps the gate still."""
    on_battery: bool = False
    battery_low: bool = False
    """Confirmed; it stays so until the power supply feeds again."""
    of_itself: str = ""
    """What the sheet has the gate do once it rests, for want of power: `open`, `close` or nothing."""
    pressed: list[bool] = field(default_factory=list)
    let_go_at: list[int] = field(default_factory=list)
    """When each control was let go last [µs]."""
    held_over: list[str] = field(default_factory=list)
    """Controls that were held through a halt, a power return or a refusal."""
    timers: dict[str, int] = field(default_factory=dict)
    at: int = -1
    """When something was last due [µs]."""
    wake: int = -1
    """When something is due at the latest [µs], −1 for never."""
    wish: Wish = field(default_factory=Wish)
    after_stop: Wish = field(default_factory=Wish)
    """What to ask for once the leaves stand."""
    way: int = 0
    """The way the gate moved last: +1 opening, −1 closing, 0 never."""
    interrupted: int = 0
    """The way that a hold guard interrupted."""
    pedestrian: bool = False
    """The opening under way, or the one it rests in, is for the first leaf alone."""
    brakes: bool = False
    """Stopping by the brake, not by the slew."""
    contact: bool = False
    """A leaf touched something; until it has gone back a little, a halt comes after that."""
    touching: list[int] = field(default_factory=list)
    """Leaves that may press on what was touched."""
    spared: list[int] = field(default_factory=list)
    """Edges that were pressed when the gate began to free what it touched; they may stay pressed for a while."""
    relief: bool = False
    """The back-off under way was cut down to taking the load off."""
    whole_stroke: bool = False
    """The movement under way began at one stop of every leaf and goes to the other."""
    test: GuardTest = field(default_factory=GuardTest)
    learning: Learning = field(default_factory=Learning)
    waits_for_command: bool = True
    """Auto-close is cancelled until a new command."""
    passed: bool = False
    """A beam was passed while the gate waited to close."""
    tries: int = 0
    """Closings in a row that met something."""
    message: str = ""
    answer: str = ""
    accepted: bool = True


KEPT = (
    "sheet",
    "learned",
    "load_strokes_due",
    "load_c",
    "doubt",
    "counted",
    "counted_since",
    "visited",
    "position_kept",
    "sealed_by",
    "radio",
    "clock_ahead",
    "clock_stopped",
    "failed_tests",
    "notes",
    "note_count",
    "leaves",
)
"""Fields of the memory that survive a loss of power."""


KEPT_OF_LEAF = (
    "travel",
    "opening_load",
    "closing_load",
    "kept_position",
    "runs",
    "longest_run",
    "timed",
    "at_stop",
    "doubt",
)
"""Fields of a leaf that survive it."""


def power_lost(memory: Memory) -> Memory:
    """What is left of a memory after its power went: the kept part, everything else as new."""
    kept = Memory(**{name: getattr(memory, name) for name in KEPT})
    kept.leaves = [Leaf(**{name: getattr(leaf, name) for name in KEPT_OF_LEAF}) for leaf in memory.leaves]
    if not memory.position_kept:
        for leaf in kept.leaves:
            leaf.at_stop = 0
    kept.radio.pending = {}
    kept.radio.enrolling = []
    return kept
