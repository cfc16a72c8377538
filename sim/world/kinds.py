"""What an entry of the catalogue of actions says about itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sim.units import Us

Value = str | int | float | bool
Group = Literal[
    "survey",
    "isolation",
    "mechanics",
    "sheet",
    "controls",
    "wiring",
    "repair",
    "bodies",
    "instruments",
    "access",
    "record",
    "time",
]


@dataclass(frozen=True, slots=True)
class Argument:
    """One argument of an action."""

    name: str
    type: type
    help: str
    choices: tuple[str, ...] = ()
    least: float | None = None
    most: float | None = None
    default: Value | None = None
    """None: must be given."""


@dataclass(frozen=True, slots=True)
class Kind:
    """An entry of the catalogue."""

    name: str
    group: Group
    help: str
    """What it does, in words for a person."""
    takes: Us
    """Plausible simulated time [µs]. CP, no source."""
    effect: Literal["start", "end"] = "end"
    arguments: tuple[Argument, ...] = ()
    caution: str = ""
    """Shown the moment before, where real work would hurt someone."""
    varies: bool = False
    """Whether its time hangs on its arguments; `takes` is only usual then."""
