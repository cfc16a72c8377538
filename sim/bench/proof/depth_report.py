"""How far a search to a depth goes, and what it tells when it is done."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import Final, NamedTuple

from sim.controller.machine import ROWS
from sim.units import clock_text

TABLE: Final = tuple((trigger, source.value, to.value) for trigger, sources, to in ROWS for source in sources)
"""(trigger, from, to) of every row of the reference controller's table, in words."""

LEADS_TO: Final = {(trigger, source): to for trigger, source, to in TABLE}


@dataclass(frozen=True, slots=True)
class Bounds:
    """How far to go. The search ends at whichever comes first."""

    depth: int = 5
    """Moves away from the undisturbed cycle."""
    time_counts: bool = True
    """Whether letting time pass is a move like any other. If not, time passes as often as it likes, after the last
    act as well, and the depth counts acts alone: a stronger statement, and a far larger search."""
    at_once: int = 2
    """Most things that are out of the ordinary at a time: a guard tripped, a control held, something in the way, no
    power."""
    situations: int = 1_000_000
    seconds: float = 1e9
    """Wall time [s]. A search that it ends is not the same on another machine; `finished` says how deep it was."""


class Told(NamedTuple):
    """One line of a run."""

    at: int
    """Since the search's gate stood ready [µs]."""
    said: str


@dataclass(frozen=True, slots=True)
class Counterexample:
    """A run that breaks a promise. The first that was found, and so with the fewest moves away from the cycle."""

    promise: str
    said: str
    """What broke, in words."""
    at: int
    """Since the search's gate stood ready [µs]."""
    depth: int
    """Moves away from the undisturbed cycle."""
    lines: tuple[Told, ...]

    def in_words(self) -> str:
        """All of it as plain sentences with their times."""
        told = [f"  {clock_text(line.at)}  {line.said}" for line in self.lines]
        return "\n".join([f"{self.promise}: broken", *told, f"  {clock_text(self.at)}  {self.said}"])


@dataclass(slots=True)
class Report:
    """What a search saw."""

    finished: int = -1
    """So many moves, in every order, were made from every situation of the undisturbed cycle; −1: not even that."""
    closed: bool = False
    """Nothing new was left to reach: it is finished to any depth."""
    reached: list[int] = field(default_factory=list)
    """How many situations were new at each depth; the first are those of the undisturbed cycle."""
    moves: int = 0
    """How many moves were made."""
    scans: int = 0
    """How often the controller was asked."""
    seconds: float = 0.0
    """Wall time [s]."""
    processor_s: float = 0.0
    """Time on the processor [s]; what to compare where other programs run as well."""
    states: Counter[str] = field(default_factory=Counter)
    """States the panel showed, in how many situations each."""
    transitions: Counter[tuple[str, str, str]] = field(default_factory=Counter)
    """(trigger, from, to) of the reference controller's table, how often each was taken."""
    found: list[Counterexample] = field(default_factory=list)
    """The shortest run for each promise that was broken."""

    @property
    def never(self) -> list[tuple[str, str, str]]:
        """Rows of the reference controller's table that were never taken."""
        return [row for row in TABLE if row not in self.transitions]

    @property
    def situations(self) -> int:
        """All situations reached."""
        return sum(self.reached)
