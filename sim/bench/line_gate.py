"""A small linear gate for searching and for plays: duty in; counts, currents and input voltages out.

It knows nothing of angles, masses or copper. Each leaf is a number of counts between two stops; whatever stands in
its way stops it and takes all the current that the limit allows. That is enough to bring a controller into every
state it has, and far quicker than `sim.world` can. It says nothing of forces; it says who is driven when.

Any `Controller` can be fitted. It is asked as the world asks it, when it is due, or at every scan. Stretches of time
in which neither a leaf nor the controller can do anything new are skipped, to the same bits as stepped.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Final, NamedTuple

from sim.bench import keeping
from sim.bench.line_leaf import LineLeaf
from sim.bench.line_watches import free, holds
from sim.controller.ports import (
    BOARD_MINIMUM_V,
    CLOCK_FULL_V,
    COMMAND_TERMINALS,
    FEED_SENSE_V,
    GUARD_TERMINALS,
    Controller,
    Headline,
    Inputs,
    Outputs,
    RadioWord,
    Request,
    Scan,
    headline_of,
)
from sim.controller.reference import ReferenceController
from sim.errors import ActionError, ControllerError, nearest_right
from sim.units import SCAN, Us, clock_text, from_seconds

REACTION: Final = 100_000
"""A beam's receiver reacts to its emitter this late [µs]."""

SUPPLY_V: Final = 27.3
"""Board supply when there is power [V]."""

OFF: Final = Outputs(emitter_supply=False)
"""What a board without power drives."""

_UNREAD: Final = Inputs(0.0, (), (), (0.0, 0.0), (0, 0), (0, 0))
"""Terminals that nobody has looked at yet."""

_LONG_AGO: Final = -10_000_000


class KeptGate(NamedTuple):
    """A line gate at an instant."""

    fields: tuple[Any, ...]
    tripped: frozenset[str]
    pressed: frozenset[str]
    leaves: tuple[tuple[float, ...], ...]
    controller: keeping.Kept


_TERMINALS: Final = ("supply_v", "on_battery", "clock_v", "board_c")
_KEPT: Final = (
    *("now", *_TERMINALS, "outputs", "scan", "words"),
    *("read", "_powered", "_emitters", "_emitters_were", "_since"),
)
"""Fields that are kept as they are: numbers and things that never change."""


@dataclass
class LineGate:
    """Two leaves, the guards and controls of the terminals, and a host that asks when it is due or every 10 ms."""

    every_scan: bool = False
    controller: Controller = field(default_factory=ReferenceController)
    leaves: tuple[LineLeaf, LineLeaf] = field(default_factory=lambda: (LineLeaf(), LineLeaf()))
    now: int = 0
    """[µs]"""
    supply_v: float = SUPPLY_V
    on_battery: bool = False
    """Whether the board's takeover relay has the battery feed it."""
    clock_v: float = CLOCK_FULL_V
    board_c: float = 20.0
    """Temperature of the board [°C]."""
    """What the reserve of the board's clock has left whenever power comes [V]."""
    tripped: set[str] = field(default_factory=set)
    """Guards that are tripped."""
    deaf: set[str] = field(default_factory=set)
    """Beams that don't follow their emitter's supply."""
    edge_ohms: dict[str, float] = field(default_factory=dict)
    """Edge lines that aren't 8.2 kΩ when clear [Ω]."""
    pressed: set[str] = field(default_factory=set)
    """Controls that are pressed."""
    outputs: Outputs = OFF
    held: Outputs = OFF
    """What was driven up to the last step, under which the currents were read."""
    scan: Scan | None = None
    """The controller's last answer."""
    scans: int = 0
    """How often the controller was asked."""
    trace: list[tuple[int, Outputs]] = field(default_factory=list)
    """(instant, outputs) whenever they changed."""
    words: int = 0
    """Counter of the transmitter's last word."""
    scans_when_dead: bool = False
    """Whether the host asks the controller at steps at which the supply is too low."""
    on_step: list[Callable[[Any], None]] = field(default_factory=list)
    """Called with the gate after every 10 ms; nothing is skipped then."""
    marks: tuple[float, ...] = ()
    """Places in either leaf's travel that no skip passes over, in rising order [counts]."""
    _since: int = _LONG_AGO
    """When the emitter supply changed last [µs]."""
    _emitters_were: bool = False
    _emitters: bool = False
    _powered: bool = False
    _radio: list[RadioWord] = field(default_factory=list)
    _requests: list[Request] = field(default_factory=list)
    read: Inputs = _UNREAD
    """The terminals at the last step."""
    _steady: bool = False
    """Whether a skip may follow the last step: it changed no output."""

    # -- what people do --------------------------------------------------------------------------------

    def press(self, name: str) -> None:
        """Press a control and hold it."""
        self.pressed.add(_known(name, COMMAND_TERMINALS, "control"))

    def release(self, name: str) -> None:
        """Let a control go."""
        self.pressed.discard(name)

    def trip(self, name: str) -> None:
        """Trip a guard and leave it so."""
        self.tripped.add(_known(name, GUARD_TERMINALS, "guard"))

    def clear(self, name: str) -> None:
        """Clear a guard."""
        self.tripped.discard(name)

    def ask(self, kind: str, name: str = "", value: str | float | bool = "") -> str:
        """Do something at the service panel; returns its answer."""
        self.request(kind, name, value)
        self.run(0.02)
        return self.controller.panel().answer

    def request(self, kind: str, name: str = "", value: str | float | bool = "") -> None:
        """Do something at the service panel; the controller reads it at the next scan."""
        self._requests.append(Request(kind, name, value))

    def write(self, settings: dict[str, str | float]) -> None:
        """Set settings. Raises ControllerError for one that isn't accepted."""
        for name, value in settings.items():
            answer = self.ask("set", name, value)
            if not answer.startswith("done"):
                raise ControllerError(f"'{name}' can't be set to '{value}': {answer}")

    def hear(self, word: RadioWord) -> None:
        """The receiver decoded a radio word; the controller hears of it at the next scan."""
        self._radio.append(word)

    def press_transmitter(self, serial: str) -> None:
        """Button 1 of the one transmitter there is: its next word."""
        self.words += 1
        self.hear(RadioWord(serial, 1, self.words, True))

    def send(self, serial: str, button: int, counter: int) -> None:
        """A press and release of a transmitter."""
        self.hear(RadioWord(serial, button, counter, True))
        self.run(0.1)
        self.hear(RadioWord(serial, button, counter, False))
        self.run(0.02)

    # -- time ------------------------------------------------------------------------------------------

    def run(self, seconds: float) -> None:
        """Let time pass."""
        end = self.now + from_seconds(seconds)
        while self.now < end:
            self.advance(end)

    def until(self, done: Callable[[], bool], at_most: float = 120.0) -> None:
        """Let time pass until something is true; asked every 10 ms. ControllerError after `at_most` [s] without."""
        end = self.now + from_seconds(at_most)
        while not done():
            self._late(end, at_most)
            self.step()

    def until_shown(self, done: Callable[[Headline], bool], at_most: float = 120.0) -> None:
        """Let time pass until the panel shows something; ControllerError after `at_most` [s] without."""
        end = self.now + from_seconds(at_most)
        while not done(self.headline):
            self._late(end, at_most)
            self.advance(end)

    def _late(self, end: int, at_most: float) -> None:
        if self.now >= end:
            shown = self.headline
            raise ControllerError(
                f"at {clock_text(self.now)} the gate is still '{shown.state}' ({shown.message}) after {at_most:g} s"
            )

    def advance(self, end: int) -> None:
        """One step, and on to just before the next that can bring anything, but not past `end` [µs]."""
        self.step()
        if self.now < end:
            self.skip(end)

    # -- what one sees ---------------------------------------------------------------------------------

    @property
    def headline(self) -> Headline:
        """The first lines of the controller's panel."""
        return headline_of(self.controller)()

    @property
    def state(self) -> str:
        """The state that the panel shows."""
        return self.headline.state

    @property
    def message(self) -> str:
        """The message that the panel shows."""
        return self.headline.message

    @property
    def powered(self) -> bool:
        """Whether the board has power."""
        return self._powered

    @property
    def duties(self) -> tuple[float, float]:
        """What is asked of the leaves' bridges."""
        return self.outputs.active.duty, self.outputs.inactive.duty

    @property
    def positions(self) -> tuple[int, int]:
        """Where the leaves are [counts from the closed stop]."""
        return round(self.leaves[0].position), round(self.leaves[1].position)

    @property
    def dark(self) -> bool:
        """Whether the beams' receivers see no emitter now."""
        follows = self._emitters if self.now - self._since >= REACTION else self._emitters_were
        return not follows

    # -- keeping ---------------------------------------------------------------------------------------

    def keep(self) -> KeptGate:
        """All that decides what comes, as plain data. Beams that are deaf, odd edges and the trace are not in it."""
        return KeptGate(
            tuple([getattr(self, name) for name in _KEPT]),
            frozenset(self.tripped),
            frozenset(self.pressed),
            (self.leaves[0].keep(), self.leaves[1].keep()),
            keeping.keep(self.controller),
        )

    def restore(self, kept: KeptGate) -> None:
        """Be as when `kept` was taken, from this gate or one with the same controller; the trace begins anew."""
        for name, value in zip(_KEPT, kept.fields, strict=True):
            setattr(self, name, value)
        self.tripped, self.pressed = set(kept.tripped), set(kept.pressed)
        for leaf, state in zip(self.leaves, kept.leaves, strict=True):
            leaf.restore(state)
        keeping.restore(self.controller, kept.controller)
        self._radio, self._requests, self.trace, self._steady = [], [], [], False

    # -- the machinery ---------------------------------------------------------------------------------

    def inputs(self) -> Inputs:
        """The terminals as they are now."""
        active, inactive = self.leaves
        return Inputs(
            self.supply_v,
            tuple([self._guard_volts(name) for name in GUARD_TERMINALS]),
            tuple([0.2 if name in self.pressed else 24.1 for name in COMMAND_TERMINALS]),
            (active.current, inactive.current),
            (active.shown, inactive.shown),
            (active.quiet, inactive.quiet),
            tuple(self._radio),
            tuple(self._requests),
            feed_v=0.0 if self.on_battery else FEED_SENSE_V,
            clock_v=self.clock_v,
            board_c=self.board_c,
        )

    def _guard_volts(self, name: str) -> float:
        if name.endswith("edge"):
            ohms = 0.0 if name in self.tripped else self.edge_ohms.get(name, 8200.0)
            return 3.3 * ohms / (ohms + 8200.0)
        is_open = name in self.tripped or (name.endswith("beam") and name not in self.deaf and self.dark)
        return 24.1 if is_open else 0.1

    def step(self) -> None:
        """10 ms: the leaves move, then the controller is asked if it is due."""
        self.now += SCAN
        before = self.held = self.outputs
        self.leaves[0].step(before.active)
        self.leaves[1].step(before.inactive)
        inputs = self.inputs()
        if inputs.supply_v <= BOARD_MINIMUM_V:
            answer = self.controller.scan(Us(self.now), inputs).outputs if self.scans_when_dead else None
            self._powered = False
            self._apply(answer or OFF)
            self.scan = None
        elif not self._powered or self._is_due(inputs):
            if not self._powered:
                self._powered = True
                self.controller.power_up(Us(self.now))
            self.scan = self.controller.scan(Us(self.now), inputs)
            self.scans += 1
            self._apply(self.scan.outputs)
        self.read = inputs
        self._steady = self.outputs is before or self.outputs == before
        self._radio, self._requests = [], []
        for look in self.on_step:
            look(self)

    def _is_due(self, inputs: Inputs) -> bool:
        scan = self.scan
        if self.every_scan or scan is None or scan.watches is None or inputs.radio or inputs.requests:
            return True
        if scan.wake is not None and self.now >= scan.wake:
            return True
        read = self.read
        if (inputs.guard_v, inputs.command_v, inputs.feed_v) != (read.guard_v, read.command_v, read.feed_v):
            return True
        return any(holds(watch, inputs) for watch in scan.watches)

    def _apply(self, outputs: Outputs) -> None:
        if outputs.emitter_supply != self._emitters:
            self._emitters_were, self._emitters = self._emitters, outputs.emitter_supply
            self._since = self.now
        if outputs != self.outputs:
            self.trace.append((self.now, outputs))
        self.outputs = outputs

    # -- skipping --------------------------------------------------------------------------------------

    def skip(self, end: int) -> None:
        """Pass over the steps before `end` [µs] that surely change nothing but counts along a steady run.

        Only straight after a step: whoever did something to the gate has it step first.
        """
        inputs, scan = self.read, self.scan
        if not self._steady or self.every_scan or self.on_step:
            return
        room: float = (end - self.now) // SCAN
        if scan is None:
            if self._powered:
                return
        elif scan.watches is None or any(holds(watch, inputs) for watch in scan.watches):
            return
        elif scan.wake is not None:
            room = min(room, -(-(scan.wake - self.now) // SCAN) - 1)
        watches = (scan.watches or ()) if scan is not None else ()
        if self.now - self._since < REACTION:
            room = min(room, -(-(self._since + REACTION - self.now) // SCAN) - 1)
        drives = (self.outputs.active, self.outputs.inactive)
        for index, (leaf, drive) in enumerate(zip(self.leaves, drives, strict=True)):
            if room < 1:
                return
            room = min(room, leaf.room(drive, *free(leaf, index, watches, self.marks)))
        if room >= 1:
            for leaf in self.leaves:
                leaf.go(int(room))
            self.now += int(room) * SCAN


def _known(name: str, names: tuple[str, ...], kind: str) -> str:
    if name not in names:
        raise ActionError(f"there is no {kind} '{name}'{nearest_right(name, names)}")
    return name
