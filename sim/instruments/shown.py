"""What an instrument shows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Flag = Literal["floating", "over range", "live circuit", "wrong function", "hazard"]
"""`floating`: nothing joins the two places, what stands there means nothing. `over range`: more than it can show.
`live circuit`: resistance asked of a circuit that is fed, so that the figure is worthless. `hazard`: a misuse that
hurts people with a lesser instrument."""


@dataclass(frozen=True, slots=True)
class Shown:
    """One reading: to the instrument's resolution, with its noise."""

    value: float | None
    """In `unit`; None when there is nothing to give."""
    unit: str
    text: str
    """As the display has it, unit included."""
    flags: tuple[Flag, ...] = ()
