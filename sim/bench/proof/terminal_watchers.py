"""Watchers of what is promised at the terminals, whatever the controller is: who may be driven when.

Each knows the sheet that is in force, reads the terminals by itself, and asks the controller nothing.
"""

from __future__ import annotations

from typing import ClassVar, Final

from sim.bench.proof.watching import Glance, Watcher
from sim.controller.ports import GUARD_TERMINALS
from sim.units import LEAVES, from_seconds

BEAMS: Final = GUARD_TERMINALS[:2]
EDGES: Final = GUARD_TERMINALS[2:4]
STOP: Final = GUARD_TERMINALS[4]

OPEN_SHARE: Final = 0.97
SHUT_SHARE: Final = 0.03
"""A leaf beyond these shares of its travel is at its stop."""

RESTED: Final = from_seconds(1.0)
"""Leaves that were not driven for this long rest; shorter is a pause within a movement [µs]. Common practice."""


def _has_shut(glance: Glance) -> bool:
    """Whether a closing that ends here came to its end, and was not interrupted just before it."""
    return max(glance.shares) <= SHUT_SHARE and not glance.tripped and not glance.given


def _are_open(glance: Glance) -> bool:
    return min(glance.shares) >= OPEN_SHARE


def _names(names: frozenset[str]) -> str:
    return ", ".join(sorted(names))


class ClosingPastGuard(Watcher):
    """The first of all promises."""

    name: ClassVar = "never drives closing while a reopening guard is tripped"
    promise: ClassVar = (
        "From the scan on in which a guard that reopens reads other than clear, no leaf is driven closing."
    )
    source: ClassVar = "Facts 2.2; design, the guard reaction *reopen*"

    def see(self, glance: Glance) -> str | None:
        """A closing drive while one of them is not clear."""
        bad = glance.tripped & self.reacting("reopen")
        return f"a leaf is driven closing while {_names(bad)} is tripped" if bad and -1 in glance.ways else None


class StopBeats(Watcher):
    """The stop circuit comes first, except that a contact is freed."""

    name: ClassVar = "stop beats everything within one scan"
    promise: ClassVar = (
        "From the scan on in which the stop circuit reads open no leaf is driven; after a contact a leaf may be "
        "driven away from what it touched, for at most 1.5 s. An edge that is pressed again while the leaves go "
        "apart tells of the same contact."
    )
    source: ClassVar = "Facts 2.2; design, the reactions *halt* and *back off*"

    RELIEF: Final = from_seconds(1.5)
    """Longest that a contact may be freed after the stop circuit opened [µs]. Common practice, no source."""
    REMEMBERED: Final = from_seconds(6.0)
    """How long after it a contact may still have to be freed [µs]. Common practice, no source."""

    seen: tuple[bool, int, int, tuple[int, int], tuple[int, int], bool] = (False, 0, 0, (0, 0), (0, 0), False)
    """(stop is open, relief may last until, contact counts until, ways at the contact, ways at the last instant,
    whether something was touched at the last instant)"""

    def see(self, glance: Glance) -> str | None:
        """A drive while it is open that frees no contact."""
        was_open, relief, contact, touched, ways, was_touching = self.seen
        touching = glance.pushed or bool(glance.tripped & frozenset(EDGES))
        if touching:
            go_apart = contact > glance.at and -1 in touched and -1 not in ways and not glance.pushed
            if not was_touching and any(ways) and not go_apart:  # a new one, also while an older is remembered
                touched = ways
            contact = glance.at + self.REMEMBERED
        is_open = glance.powered and STOP in glance.tripped
        if is_open and not was_open:
            relief = glance.at + self.RELIEF if contact > glance.at else 0
        self.seen = (is_open, relief, contact, touched, glance.ways, touching)
        if not is_open or not any(glance.ways):
            return None
        for leaf, driven, before in zip(LEAVES, glance.ways, touched, strict=True):
            if driven and (glance.at > relief or driven == before):
                return f"the {leaf} leaf is driven while the stop circuit is open, and frees nothing"
        return None


class DeadStands(Watcher):
    """A supply that sags is no reason to move."""

    name: ClassVar = "nothing is driven while the board has no power"
    promise: ClassVar = (
        "In a scan that reads a supply too low for the board, and until it is back, nothing is driven."
    )
    source: ClassVar = "Facts 2.3; design, power"

    def see(self, glance: Glance) -> str | None:
        """A drive without it."""
        return "a leaf is driven though the board has no power" if any(glance.ways) and not glance.powered else None


class PauseBetween(Watcher):
    """Bridges and drives need it, and so does whoever stands there."""

    name: ClassVar = "never driven the other way without a pause"
    promise: ClassVar = "Between a drive one way and a drive the other way a leaf is not driven for at least 0.2 s."
    source: ClassVar = "Common practice, no source"

    PAUSE: Final = from_seconds(0.2)

    seen: tuple[tuple[int, int], ...] = ((0, 0), (0, 0))
    """Per leaf: (the way it was driven last, until when not the other way)."""

    def see(self, glance: Glance) -> str | None:
        """A drive the other way too soon."""
        broken, leaves = None, []
        for leaf, driven, (last, until) in zip(LEAVES, glance.ways, self.seen, strict=True):
            if driven and last == -driven and (until == 0 or glance.at < until):
                broken = f"the {leaf} leaf is driven the other way without a pause"
            if driven:
                leaves.append((driven, 0))
            else:
                leaves.append((last, until or (glance.at + self.PAUSE if last else 0)))
        self.seen = tuple(leaves)
        return broken


class OnlyByCommand(Watcher):
    """After a halt and after a loss of power everything waits for somebody."""

    name: ClassVar = "never moves after a halt or a power return until a command is given again"
    promise: ClassVar = (
        "After power came, and after the stop circuit closed, no leaf is driven until a control was pressed anew, a "
        "transmitter was pressed, or it was asked for at the panel; what was held all the time, or given while the "
        "stop was open, doesn't count."
    )
    source: ClassVar = "Facts 2.3: no unexpected start; design, commands"

    seen: tuple[bool, bool, int] = (False, False, 0)
    """(a command is needed, stop is open, a contact may still be freed until)"""

    def see(self, glance: Glance) -> str | None:
        """A drive that nobody asked for since."""
        needed, was_open, relief = self.seen
        is_open = glance.powered and STOP in glance.tripped
        if not glance.powered:
            needed, relief = True, 0
        elif is_open:
            needed = True
            relief = relief if was_open else glance.at + StopBeats.RELIEF
        elif glance.given and not was_open:
            needed = False
        self.seen = (needed, is_open, relief)
        if needed and not is_open and any(glance.ways) and glance.at > relief:
            return "a leaf is driven though no command was given since the halt or the power return"
        return None


class NoCloseAfterHalt(Watcher):
    """Auto-close is for a gate that opened as it should."""

    name: ClassVar = "auto-close never after a halt, and never when it is off"
    promise: ClassVar = (
        "From rest a leaf is driven closing without a command only if auto-close is on, and the movement before was "
        "not ended by a command, by the stop circuit, by a guard that halts or backs off, by an obstacle while "
        "opening, or by a loss of power."
    )
    source: ClassVar = "Design, auto-close"

    seen: tuple[bool, bool, int, tuple[int, int], bool] = (False, False, 0, (0, 0), False)
    """(halted, a command came since it stood, rests from, ways at the last instant, pushed at the last instant)"""

    def see(self, glance: Glance) -> str | None:
        """A closing start by itself that must not be."""
        halted, asked, rests, ways, pushed = self.seen
        broken = None
        if any(glance.ways) and not any(ways):
            by_itself = -1 in glance.ways and not (asked or glance.given) and rests and glance.at >= rests
            if by_itself and (halted or self.sheet.get("auto-close") != "on"):
                broken = "closes by itself after a halt" if halted else "closes by itself though auto-close is off"
        elif any(ways) and not any(glance.ways):
            rests = glance.at + RESTED
            closes = glance.given == {"close button"}
            asked = closes
            halted = halted or self._is_halt(glance, ways, pushed) or bool(glance.given and not closes)
        elif glance.given and not any(glance.ways):
            asked, halted = True, False
        if not glance.powered:
            asked, halted = False, True
        self.seen = (halted, asked, rests, glance.ways, glance.pushed)
        return broken

    def _is_halt(self, glance: Glance, ways: tuple[int, int], pushed: bool) -> bool:
        met = 1 in ways and pushed and not _are_open(glance)
        return met or STOP in glance.tripped or bool(glance.tripped & self.reacting("halt", "back off"))


class WarnedBefore(Watcher):
    """Somebody may stand there."""

    name: ClassVar = "the lamp warns before every start from rest"
    promise: ClassVar = (
        "When the leaves begin to be driven from rest, the lamp has been on for the whole warning time; a reversal "
        "of an interrupted closing and a movement under a held control wait for none."
    )
    source: ClassVar = "Common practice, no source; design, signals and *what never waits*"

    seen: tuple[int, bool, bool, bool] = (0, False, False, False)
    """(warned from, 0 while the lamp is off; driven; drove closing last; that closing was interrupted)"""

    def see(self, glance: Glance) -> str | None:
        """A start without it."""
        warned, was_driven, closed, interrupted = self.seen
        driven, broken = any(glance.ways), None
        if driven and not was_driven:
            free = interrupted and 1 in glance.ways
            by_hand = bool(self.held & glance.pressed)
            if not (warned and glance.at >= warned) and not free and not by_hand:
                broken = "leaves are driven from rest without the whole warning"
        if driven:
            closed, interrupted = -1 in glance.ways, False
        elif was_driven:
            interrupted = closed and not _has_shut(glance)
        if not glance.powered or STOP in glance.tripped:
            interrupted = False
        if not glance.lamp:
            warned = 0
        elif not warned:
            warned = glance.at + from_seconds(self.number("warning before moving"))
        self.seen = (warned, driven, closed, interrupted)
        return broken


class TestedBefore(Watcher):
    """A beam that is dead must not be found by whoever stands in it."""

    __test__ = False

    name: ClassVar = "beams are tested before every start from rest"
    promise: ClassVar = (
        "Between the last rest and a start from rest the beams' emitter supply was dropped; not where the test is "
        "off, a beam was tripped meanwhile, a guard that held is clear again, an interrupted closing reopens, or a "
        "key is held."
    )
    source: ClassVar = "Facts 2.2; design, guard test"

    seen: tuple[bool, bool, int, tuple[int, int]] = (False, False, 0, (0, 0))
    """(tested, needs no test, rests from, ways at the last instant)"""

    def see(self, glance: Glance) -> str | None:
        """A start without it."""
        tested, free, rests, ways = self.seen
        beams = self.reacting("reopen", "hold", "back off", "halt") & frozenset(BEAMS)
        driven, broken = any(glance.ways), None
        if driven and not any(ways):
            by_hand = bool(self.held & glance.pressed)
            is_start = glance.at >= rests and not free and not by_hand
            if is_start and beams and self.sheet.get("guard test") != "off" and not tested:
                broken = "leaves are driven from rest, and no beam was tested"
        if driven:
            tested, free = False, False
        elif any(ways):
            rests = glance.at + RESTED
            held = bool(glance.tripped & self.reacting("hold"))
            free = held or (-1 in ways and not _has_shut(glance))
        if not driven and not glance.emitters:
            tested = True
        elif not driven and glance.tripped & beams and glance.powered:
            free = free or not tested
        if not glance.powered:
            tested, free = False, False
        self.seen = (tested, free, rests, glance.ways)
        return broken


class HeldToRun(Watcher):
    """Whoever holds the control sees the gate; whoever lets it go saw something."""

    name: ClassVar = "hold-to-run stops within one scan when it is let go"
    promise: ClassVar = (
        "A movement that began under a held control is driven no longer in the scan that reads it let go."
    )
    source: ClassVar = "Facts 2.1; design, hold-to-run"

    seen: tuple[bool, frozenset[str], frozenset[str]] = (False, frozenset(), frozenset())
    """(driven, what was given last, controls under which the movement began)"""

    def see(self, glance: Glance) -> str | None:
        """A drive that goes on."""
        was_driven, last, under = self.seen
        driven = any(glance.ways)
        last = glance.given or last
        if driven and not was_driven:
            under = self.held & last & glance.pressed
        self.seen = (driven, last, under if driven else frozenset())
        let_go = driven and bool(under) and not under & glance.pressed
        return "leaves are driven on though the control was let go" if let_go else None


class LapKept(Watcher):
    """On the gate, not at the terminals: where the leaves really are."""

    name: ClassVar = "no leaf is driven into the other at the cover strip"
    promise: ClassVar = (
        "While the leaf that opens first is within 15 % of its travel from shut, the other is not driven opening "
        "ahead of it, nor it closing behind the other; ahead is 5 % of the travel. Promised where no power was lost."
    )
    source: ClassVar = "Design, leaf order"

    STRIP: Final = 0.15
    AHEAD: Final = 0.05

    seen: bool = True
    """Promised still: power was never lost."""

    def see(self, glance: Glance) -> str | None:
        """A drive that makes them clash."""
        self.seen = self.seen and glance.powered
        first = 1 if self.sheet.get("opens first") == "inactive" else 0
        place, other = glance.shares[first], glance.shares[1 - first]
        if not self.seen or self.sheet.get("leaves fitted") == "1":
            return None
        if (
            place < self.STRIP
            and other > place + self.AHEAD
            and (glance.ways[first] < 0 or glance.ways[1 - first] > 0)
        ):
            return "a leaf is driven into the other at the cover strip"
        return None


WATCHERS: Final[tuple[type[Watcher], ...]] = (
    ClosingPastGuard,
    StopBeats,
    DeadStands,
    PauseBetween,
    OnlyByCommand,
    NoCloseAfterHalt,
    WarnedBefore,
    TestedBefore,
    HeldToRun,
    LapKept,
)
"""Every watcher there is."""
