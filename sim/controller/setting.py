"""What a setting is: a row of the sheet that describes itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

Value = str | int | float | bool
"""What a setting may hold; base types only."""

NOT_STATED: Final = "not stated"
"""A fact about the site that nobody has written down yet."""

NOT_FITTED: Final = "not fitted"
"""Declares that no such device is there."""

BEAM_PAIR: Final = "beam pair"
CONTACT_EDGE: Final = "contact edge"
"""A safety edge without a resistor: a loop that is closed while nobody presses it."""

Outdates = Literal["", "load", "travel"]


@dataclass(frozen=True, slots=True)
class Setting:
    """One row of the sheet."""

    name: str
    group: str
    default: Value
    help: str
    """One sentence: what it does, and what goes wrong when it is wrong."""
    unit: str = ""
    choices: tuple[str, ...] = ()
    least: float | None = None
    most: float | None = None
    step: float | None = None
    outdates: Outdates = ""
    """What a change makes worthless: the learned load, or the learned travel and with it everything learned."""


def choice(name: str, group: str, default: str, choices: str, help: str, outdates: Outdates = "") -> Setting:
    """One of several words, written with strokes between them."""
    return Setting(name, group, default, help, choices=tuple(choices.split("|")), outdates=outdates)


def amount(
    name: str,
    group: str,
    default: float,
    unit: str,
    limits: tuple[float, float, float],
    help: str,
    outdates: Outdates = "",
) -> Setting:
    """A number in a unit, with (least, most, step)."""
    least, most, step = limits
    return Setting(name, group, default, help, unit, (), least, most, step, outdates)
