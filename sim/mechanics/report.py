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
    MARK = "mark"
    """A leaf stands where somebody waits for it, at a scan instant; the controller's own watches weren't asked."""
    CONTACT = "contact"
    """Something was touched or left, or an edge pressed or let go."""


@dataclass(frozen=True, slots=True)
class StopReport:
    """Where and why a run ended."""

    time: Us
    reason: Reason
    culprit: str
    """Who or what, in words; empty when the time was simply reached."""
