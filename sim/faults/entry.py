"""What a fault tells of itself: the one fact it changes, how it is found, mended and mistaken, what is dangerous."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, Literal, TypeAlias

from sim.faults.edit import Edit, Ground
from sim.wiring.netlist import Undo, in_turn

Family: TypeAlias = Literal[
    "supply and wiring",
    "motor and drive",
    "mechanics",
    "guards",
    "access and radio",
    "settings",
    "surroundings",
    "commissioning",
]

Signal: TypeAlias = Literal[
    "active leaf angle",
    "inactive leaf angle",
    "air temperature",
    "active winding temperature",
    "inactive winding temperature",
    "rain",
    "wind",
    "hour",
    "movement",
]
"""What may bring an intermittent fault on."""


@dataclass(frozen=True, slots=True)
class Step:
    """One ordinary action, as the catalogue of actions knows it."""

    kind: str
    arguments: Mapping[str, str | int | float | bool] = field(default_factory=lambda: MappingProxyType({}))


def step(kind: str, **arguments: str | int | float | bool) -> Step:
    """A step in one line."""
    return Step(kind, MappingProxyType(dict(arguments)))


@dataclass(frozen=True, slots=True)
class Band:
    """Where a reading lies: a range of numbers, or one of some words that stand in what is shown."""

    least: float | None = None
    most: float | None = None
    words: tuple[str, ...] = ()
    unit: str = ""

    def holds(self, value: float | None, text: str) -> bool:
        """Whether a reading lies in it; a reading without a number lies in no range."""
        if self.words:
            return any(word in text for word in self.words)
        if value is None or value != value:
            return False
        return (self.least is None or value >= self.least) and (self.most is None or value <= self.most)


@dataclass(frozen=True, slots=True)
class Reference:
    """The measurement that tells this fault from a healthy gate: ordinary actions, the last of which reads."""

    steps: tuple[Step, ...]
    healthy: Band
    faulty: Band
    figure: Literal["value", "least", "most"] = "value"
    """Of an instrument left in place: what it shows now, or the least or most since it was placed."""
    note: str = ""
    """Where the bands come from when they are not those of the trade's practice."""


@dataclass(frozen=True, slots=True)
class WrongRepair:
    """What is tempting, and what it hides."""

    steps: tuple[Step, ...]
    hides: str


@dataclass(frozen=True, slots=True)
class Trigger:
    """What brings an intermittent fault on: a named signal beyond a threshold, with hysteresis."""

    signal: Signal
    above: float | None = None
    below: float | None = None
    hysteresis: float = 0.0
    dwell_s: float = 0.0
    """How long it must hold before the fault comes [s]; drawn up to this from the seed."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault of the catalogue."""

    name: str
    """In words; its identity."""
    family: Family
    customer: str
    """What the customer says."""
    seen: str
    """What the technician sees."""
    fact: str
    """The one physical fact it changes, in words."""
    edits: tuple[Edit, ...]
    reference: Reference
    repair: tuple[Step, ...]
    """The right repair."""
    wrong: tuple[WrongRepair, ...]
    verification: str
    """How one makes sure that it is mended."""
    trap: str
    """What is dangerous about it."""
    source: str
    """Where figures and symptoms come from."""
    trigger: Trigger | None = None
    variant: Mapping[str, Any] = field(default_factory=lambda: MappingProxyType({}))
    """Site keys in which the bench differs for this fault: another drive, say."""
    operates: bool = True
    """Whether it can affect how the gate works; then it shows in a quantity its edit did not set."""
    shows: tuple[Step, ...] = ()
    """Actions under which it shows; empty: an ordinary opening and closing."""

    def apply(self, ground: Ground, share: float = 1.0) -> Undo:
        """Make it so, as grave as `share` says (0 mild to 1 grave). Returns its undo.

        Raises Refused, nothing changed, if the gate has no such part.
        """
        undos: list[Undo] = []
        try:
            for edit in self.edits:
                undos.append(edit.apply(ground, share))  # noqa: PERF401 - what was done must be known when one fails
        except Exception:
            in_turn(*undos)()
            raise
        return in_turn(*undos)
