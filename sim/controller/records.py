"""What the controller keeps on record: transmitters and the words it heard, notes of its log, counts."""

from __future__ import annotations

from dataclasses import dataclass, field

from sim.controller.calendar import NOT_SET


@dataclass
class Transmitter:
    """One enrolled button."""

    serial: str
    button: int
    holder: str
    function: str
    fixed: bool = False
    """It sends the same word every time, and that was enrolled."""


@dataclass
class Heard:
    """A radio word that came, see `ports.HeardWord`."""

    holder: str
    step: int
    verdict: str


@dataclass
class Radio:
    """Enrolled buttons and what is known of each transmitter's counter. Kept without power."""

    buttons: list[Transmitter] = field(default_factory=list)
    counters: dict[str, int] = field(default_factory=dict)
    pending: dict[str, int] = field(default_factory=dict)
    """First of two consecutive words of a transmitter that was far ahead."""
    heard: list[Heard] = field(default_factory=list)
    """The last words, newest last."""
    enrolling: list[str] = field(default_factory=list)
    """Holder and function while a press is awaited, else empty."""


@dataclass
class Note:
    """One happening, see `ports.Happening`."""

    number: int
    at: int
    kind: str
    what: str
    detail: str
    clock: int = NOT_SET
    """What the board's clock read [s since the year began]."""


@dataclass
class Counts:
    """How often something happened."""

    movements: int = 0
    obstacles: int = 0
    guard_trips: int = 0
