"""The contract of a store of attempts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True, slots=True)
class Attempt:
    """One graded attempt, in base types."""

    trainee: str
    job: str
    seed: int
    mode: str
    """`practice` or `assessed`."""
    began: str
    """Date and time, ISO 8601 with zone."""
    grade: Mapping[str, object]
    """The grade as base types: features and findings with the version of the model, so that it can be regraded."""
    journal_digest: str
    """Of the journal it was graded from."""


class RecordStore(Protocol):
    """Where attempts go and where reports over many of them come from."""

    def add(self, attempt: Attempt) -> None:
        """Keep an attempt. Keeping the same one twice keeps it once."""
        ...

    def attempts(self, trainee: str = "", job: str = "") -> tuple[Attempt, ...]:
        """Attempts of a trainee, of a job, or all, oldest first."""
        ...
