"""The contract of a diagnosis engine."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from sim.world.history import History
from trainer.diagnosis.belief import Made, Repaired


@dataclass(frozen=True, slots=True)
class Measurement:
    """Something a person can do to learn more: an act of the catalogue, what it tells and what it costs."""

    kind: str
    arguments: Mapping[str, str | int | float | bool]
    information_bit: float
    """Expected fall of the uncertainty about the cause [bit]."""
    minutes: float
    """Simulated time it takes [min], from how the gate stands now."""
    danger: str = ""
    """What to heed while it is made; empty where there is nothing."""


class DiagnosisEngine(Protocol):
    """What a session asks for hints and what grading asks for the worth of each measurement."""

    def candidates(self, history: History, until: int | None = None) -> Mapping[str, float]:
        """Probability of every cause, `no fault` included, given what was read and seen; sums to 1."""
        ...

    def measurements(self, history: History) -> tuple[Measurement, ...]:
        """What can be done now, the best expected information per minute first."""
        ...

    def made(self, history: History) -> tuple[Made, ...]:
        """What each measurement that was made was worth when it was chosen, against the best there was."""
        ...

    def repaired(self, history: History) -> tuple[Repaired, ...]:
        """What spoke for each repair when it was made."""
        ...

    def hint(self, history: History, level: int) -> str:
        """A hint of rising strength, 1 to 4; never the cause. Empty when there is nothing to add."""
        ...
