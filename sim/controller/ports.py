"""What crosses the controller's terminals, and nothing else does.

A controller is anything with `scan(now, inputs) -> Scan` and `panel() -> Panel`. It sees voltages, currents
through its own shunts, pulse counts, radio words and what is typed at its service panel; it commands two
bridges and four switched outputs. It never sees an angle, an obstacle or a fault, never waits, never asks the
time. It is scanned at instants on the 10 ms grid: when its `wake` is due, when one of its `watches` holds,
when an input voltage moved across a threshold, when a radio word or a request arrived. Scanning it more often
must change nothing; a test compares both.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import Enum
from typing import Final, Literal, NamedTuple, Protocol

from sim.units import Us

GUARD_TERMINALS: Final = ("outer beam", "inner beam", "active edge", "inactive edge", "stop circuit")
"""Guard inputs in the order of `Inputs.guard_v`. Beams and stop circuit are loops that are closed when clear
(about 0 V) and open when tripped or broken (about 24 V). Edges are 8.2 kΩ lines behind an 8.2 kΩ pull-up to
3.3 V (facts C62): about 1.65 V clear, 0 V pressed or shorted, 3.3 V broken."""

COMMAND_TERMINALS: Final = (
    "open button",
    "close button",
    "step button",
    "key switch",
    "timer contact",
    "pedestrian button",
    "emergency contact",
)
"""Command inputs in the order of `Inputs.command_v`: normally open contacts to common behind a pull-up, about
24 V idle and 0 V pressed. Key switch, and open and close buttons, are hold-to-run when the sheet says so."""

LIMIT_TERMINALS: Final = ("active open limit", "active closed limit", "inactive open limit", "inactive closed limit")
"""Limit switch inputs in the order of `Inputs.limit_v`, on boards that have them: contacts to common behind a
pull-up, about 24 V open and 0 V closed."""

CONTACT_THRESHOLD_V: Final = 12.0
"""A 24 V contact input reads closed below this [V]."""

EDGE_PULL_UP_V: Final = 3.3
"""Supply of the pull-up behind an edge's input [V]."""

EDGE_PULL_UP_OHM: Final = 8200.0
"""Pull-up behind an edge's input [Ω]; the line's own end resistor is nominally the same (facts C62)."""


FEED_SENSE_V: Final = 3.3
"""What the contact of the takeover relay switches to its input: the logic's own supply [V]."""

FEED_THRESHOLD_V: Final = FEED_SENSE_V / 2.0
"""Below this the battery feeds the board [V]."""


CLOCK_FULL_V: Final = 3.0
"""The reserve of the board's clock while there is power [V]. CP, no source."""

CLOCK_STOPS_V: Final = 2.0
"""Below this the clock has stopped [V]. CP, no source."""


@dataclass(frozen=True, slots=True)
class RadioWord:
    """One press (or release) of a transmitter as the receiver decoded it."""

    serial: str
    button: int
    counter: int
    pressed: bool
    fixed: bool = False
    """Whether it is the same word at every press: a code of the old kind, that anybody can copy."""


@dataclass(frozen=True, slots=True)
class Request:
    """Something done at the controller's service panel.

    kinds: `set` (name, value) · `jog` (name `active|inactive`, value `open|close|release`) · `learn` ·
    `enrol` (name: holder, value: function) · `delete transmitter` (name: holder) · `delete all transmitters` ·
    `reset to defaults` · `seal` (name) · `unseal` (name, value: reason) · `acknowledge` · `set clock` (value: day,
    month and time, as `21 June 10:03`).
    """

    kind: str
    name: str = ""
    value: str | int | float | bool = ""


@dataclass(frozen=True, slots=True)
class Inputs:
    """Everything a controller can read at one scan. Tuples of two are (active leaf, inactive leaf)."""

    supply_v: float
    """Board supply [V]; the board has power at all only above `BOARD_MINIMUM_V`."""
    guard_v: tuple[float, ...]
    command_v: tuple[float, ...]
    motor_a: tuple[float, float]
    """Motor current through the board's shunts [A], sign as driven (positive when it drives the commanded way)."""
    counts: tuple[int, int]
    """Pulse counters of the motors' encoders; up when the motor turns in the board's opening sense. They stand still
    where no encoder is fitted."""
    quiet_us: tuple[int, int]
    """Time since each counter last changed [µs]."""
    radio: tuple[RadioWord, ...] = ()
    requests: tuple[Request, ...] = ()
    feed_v: float = FEED_SENSE_V
    """Contact of the board's own takeover relay [V]: `FEED_SENSE_V` while the power supply feeds the board, 0 while
    its battery does."""
    clock_v: float = CLOCK_FULL_V
    """What was left in the reserve that keeps the clock going without power, when power came last [V]."""
    limit_v: tuple[float, ...] = ()
    """Limit switch inputs; empty where none is wired to the board."""

    board_c: float = 20.0
    """The board's own temperature, to whole degrees [°C]."""


BOARD_MINIMUM_V: Final = 16.0
"""Below this the board has no power: outputs drop, and power-up follows when the supply is back [V]. CP."""


@dataclass(frozen=True, slots=True)
class Drive:
    """What the controller asks of one leaf's bridge."""

    duty: float = 0.0
    """Target duty, −1 (closing sense) to +1 (opening sense); the bridge slews to it."""
    slew_per_s: float = 2.0
    """How fast the bridge moves its duty to the target [1/s]. Zero targets are reached by the slew as well."""
    limit_a: float = 8.0
    """Current limit of the power stage [A]."""
    brake: bool = False
    """Drop the duty at once instead of slewing (safety stop), motor shorted through the bridge."""


@dataclass(frozen=True, slots=True)
class Outputs:
    """What the controller drives."""

    active: Drive = Drive()
    inactive: Drive = Drive()
    lamp: bool = False
    emitter_supply: bool = True
    """Switched supply of the beam emitters; dropped for the guard test."""
    yard_light: bool = False
    lock: bool = False

    @property
    def drives(self) -> tuple[Drive, Drive]:
        """(active, inactive), in the order every array keeps."""
        return (self.active, self.inactive)


class Watched(Enum):
    """What a watch may look at; the kernel checks it at scan instants while nothing else wakes the controller."""

    COUNT_AT_LEAST = "count at least"
    COUNT_AT_MOST = "count at most"
    CURRENT_AT_LEAST = "current at least"
    """Magnitude of the motor current [A]."""
    CURRENT_AT_MOST = "current at most"
    """Magnitude of the motor current [A]."""
    CURRENT_ABOVE_TABLE = "current above table"
    """Magnitude of the motor current [A] above `table[bin]`, bin = (count − table_start) // table_pitch, clamped."""
    STALLED_FOR = "stalled for"
    """`quiet_us` at least the threshold [µs]."""
    SUPPLY_AT_MOST = "supply at most"
    """Board supply [V]."""


@dataclass(frozen=True, slots=True)
class Watch:
    """A condition on the controller's own terminals that should wake it."""

    what: Watched
    leaf: Literal[0, 1] = 0
    threshold: float = 0.0
    table: tuple[float, ...] = ()
    table_start: int = 0
    table_pitch: int = 1


@dataclass(frozen=True, slots=True)
class Scan:
    """A controller's answer: what it drives, when it must be asked again at the latest, what should wake it."""

    outputs: Outputs
    wake: Us | None = None
    """Latest next scan [µs], on the 10 ms grid; None: only inputs, requests and watches wake it."""
    watches: tuple[Watch, ...] | None = None
    """None: declares no watches and is scanned every 10 ms."""


@dataclass(frozen=True, slots=True)
class InputLine:
    """One line of *why it is not moving*: an input as the controller reads it, in words."""

    name: str
    reads: str
    """E.g. `open (24.1 V)`, `closed`, `8.2 kΩ, clear`."""
    meaning: str
    """E.g. `keeps the gate still`, `not used`."""
    blocks: bool


@dataclass(frozen=True, slots=True)
class Happening:
    """Something the controller took note of, as data; its sentence stands in the panel's log."""

    number: int
    """Counted from 1 since the controller was built, so that a reader knows what is new."""
    at: Us
    kind: Literal[
        "power",  # what: board; detail: in words
        "command",  # what: open, close, halt, ...; detail: who gave it
        "refused",  # what: the command or request; detail: why
        "guard",  # what: the guard; detail: how it reads now
        "guard test",  # what: the guard; detail: passed, tripped, or how it failed
        "movement",  # what: the new state; detail: why
        "obstacle",  # what: the leaf; detail: what was met and what follows
        "learning",  # what: travel learning or learned load; detail: begun, finished, ended early, ...
        "sheet",  # what: the setting or request; detail: what it is now
        "transmitter",  # what: the holder; detail
    ]
    what: str
    detail: str


class HeardWord(NamedTuple):
    """A radio word as the panel lists it."""

    holder: str
    """Who carries the transmitter, empty when it is not enrolled."""
    step: int
    """How far its counter was ahead of the last good one; 0 for a fixed code and for a stranger."""
    verdict: str
    """`accepted`, `enrolled`, `too far ahead`, `an old word`, `not enrolled`."""


class Counter(NamedTuple):
    """How often something happened, as the panel lists it."""

    name: str
    since_visit: int
    """Since the sheet was sealed last."""
    in_all: int


class Enrolled(NamedTuple):
    """One button in the memory, as a controller gives it away for keeping."""

    serial: str
    button: int
    holder: str
    function: str
    fixed: bool = False


class SheetWarning(NamedTuple):
    """Something on the sheet that is allowed and looks wrong."""

    settings: tuple[str, ...]
    """Names of the settings that make it so together; a change of one of them can end it."""
    reason: str
    """One sentence: what will happen, and what is usual instead."""


@dataclass(frozen=True, slots=True)
class Panel:
    """What the controller shows on its own display: state and reasons in plain words, never the cause."""

    state: str
    message: str
    waits_for: tuple[str, ...] = ()
    inputs: tuple[InputLine, ...] = ()
    settings: dict[str, str | int | float | bool] = field(default_factory=dict)
    travel: tuple[int | None, int | None] = (None, None)
    """Learned travel of each leaf [counts]."""
    transmitters: tuple[tuple[str, str], ...] = ()
    """(holder, function) of each enrolled transmitter."""
    heard: tuple[HeardWord, ...] = ()
    """The last radio words, newest last."""
    log: tuple[tuple[Us, str], ...] = ()
    """The controller's own event log, newest last."""
    sealed: bool = False
    locked: str = ""
    """Why the sheet can't be changed now, empty if it can."""
    answer: str = ""
    """What the panel answered to the last request."""
    accepted: bool = True
    """Whether the last request was accepted."""
    happenings: tuple[Happening, ...] = ()
    """The same notes as the log, as data, newest last."""
    learned: str = ""
    """At what temperature the load was learned, and what that means today; empty if there is nothing to say."""
    counters: tuple[Counter, ...] = ()
    counted: str = ""
    """The same in words, with when the sheet was sealed last by the board's own clock."""
    dates: tuple[str, ...] = ()
    """What the board's own clock showed at each line of the log, as `21 June, 10:03:18` or `clock not set`; empty
    of a controller that has no clock."""
    warnings: tuple[SheetWarning, ...] = ()
    """What of the sheet is allowed and looks wrong."""


class Headline(NamedTuple):
    """What of a panel the world looks at after every scan."""

    state: str
    message: str
    travel: tuple[int | None, int | None]


class Controller(Protocol):
    """The contract of a controller, ours or a stranger's."""

    def scan(self, now: Us, inputs: Inputs) -> Scan:
        """Read the terminals as they are before this scan's outputs take effect; answer without waiting.

        Called by `sim.world.host` at scan instants only. Powered boards only: at power-up a new controller
        is not built; `power_up` is called instead.
        """
        ...

    def power_up(self, now: Us) -> None:
        """The board has power again: volatile state is gone, stored settings remain."""
        ...

    def panel(self) -> Panel:
        """What the display shows now. A pure look."""
        ...


def headline_of(controller: Controller) -> Callable[[], Headline]:
    """What tells a controller's headline: its own `headline()` where it has one, which is quicker, else its panel."""
    own: Callable[[], Headline] | None = getattr(controller, "headline", None)
    if own is not None:
        return own

    def read() -> Headline:
        panel = controller.panel()
        return Headline(panel.state, panel.message, panel.travel)

    return read
