"""Who says at the front desk what to practise next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from trainer.records.attempts import graded_attempts
from trainer.records.learning import learning_record
from trainer.records.next_job import Choice, Next, next_job


@dataclass(frozen=True, slots=True)
class Coach:
    """Reads the record of one trainee when asked."""

    folder: Path
    """Where attempts are kept."""
    who: str = ""
    """Whose record it is; '' for whoever works here."""

    def next(self, jobs: Sequence[Choice]) -> Next | None:
        """What to practise next, from today's record; None where no job names its family.

        An attempt that can't be read doesn't count, and keeps nobody from the front desk: `gudgeon record` names it.
        """
        attempts, _unread = graded_attempts(self.folder, {job.name: job for job in jobs})
        return next_job(learning_record(attempts, self.who, datetime.now(UTC)), jobs)
