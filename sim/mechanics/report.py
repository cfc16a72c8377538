"""Why the plant stopped."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from sim.units import Us


class Reason(Enum):
    """Why a run ended."""

    REACHED = "reached"
    WATCH = "watch"
    """One of the controller's watches held, at a scan instant."""
    CONTACT = "contact"
    """Something was touched or left, or an edge pressed or let go."""


@dataclass(frozen=True, slots=True)
class StopReport:
    """Where and why a run ended."""

    time: Us
    reason: Reason
    culprit: str
    """Who or what, in words; empty when the time was simply reached."""
