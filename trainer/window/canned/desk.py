"""A front desk with a few made-up jobs."""

from __future__ import annotations

from collections.abc import Sequence

from sim.errors import Refused
from trainer.window.canned.session import CannedSession
from trainer.window.doors import JobCard, Mode

CARDS = (
    JobCard(
        "meet-the-gate",
        "Meet the gate",
        "learner",
        5,
        best=96.0,
        about="A healthy gate, nothing to set: say what each guard will do, then see it.",
        family="first steps",
    ),
    JobCard(
        "first-run",
        "First run",
        "learner",
        45,
        unfinished=True,
        about="A new two-leaf gate on its first day: survey, sheet, directions, guards, travel, force, hand-over.",
        family="commissioning from bare",
    ),
    JobCard(
        "opens-again",
        "It closes, then opens again",
        "working",
        25,
        best=61.5,
        about="The carter says it is worst in the morning. Find what reverses it, and prove it.",
        family="guards",
    ),
    JobCard(
        "after-the-storm",
        "After the storm",
        "senior",
        40,
        about="One leaf stands open and nobody remembers who released it.",
        family="weather",
    ),
)


class CannedDesk:
    """Answers as a desk does."""

    def __init__(self, cards: Sequence[JobCard] = CARDS) -> None:
        self.cards = cards
        self.started: list[tuple[str, str, int]] = []
        self.session: CannedSession | None = None

    def jobs(self) -> Sequence[JobCard]:
        """The made-up jobs."""
        return self.cards

    def start(self, name: str, mode: Mode, seed: int) -> CannedSession:
        """Any job opens the same gate."""
        if name == "after-the-storm":
            raise Refused("The site file of ‘After the storm’ could not be read.")
        self.started.append((name, mode, seed))
        self.session = CannedSession(mode, seed)
        return self.session

    def resume(self, name: str) -> CannedSession:
        """Any unfinished job opens the same gate."""
        self.started.append((name, "resume", -1))
        self.session = CannedSession()
        return self.session
