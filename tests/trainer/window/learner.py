"""What is said of a made-up learner: what to practise next, what an instructor overruled, what a college asks for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trainer.session.lookback import CompetenceView, OverruledView, RulingView
from trainer.window.doors import JobCard


@dataclass(frozen=True)
class Following:
    """What a made-up coach says."""

    family: str = "guards"
    job: str = "opens-again"
    title: str = "It closes, then opens again"
    why: str = "Due today."


class Coach:
    """Somebody who always says the same."""

    def next(self, jobs: Sequence[JobCard]) -> Following:
        return Following()


OVERRULED = OverruledView(
    71.0,
    "developing",
    (
        RulingView(
            "A guard was left bridged", "failed", "passed", None, "T. Marsh", "The link was out; I saw it.",
            "2026-05-04T09:30:00+00:00",
        ),
        RulingView(
            "Mud on the lens", "", "failed", 3.0, "T. Marsh", "Left as it was.", "2026-05-04T09:40:00+00:00"
        ),
    ),
)  # fmt: skip

COMPETENCES = (
    CompetenceView("Proves what protects", "Trips every guard.", "shown", "Passed: Guards proved."),
    CompetenceView("Measures force", "Reads it three times.", "not asked", "This job asked for nothing of it."),
)
