"""What the window asks of the rooms below: a desk with jobs, and a session to work in. Nothing else comes in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, Protocol

from sim.units import Us

if TYPE_CHECKING:
    # Looked at by the checker only: the first frame must not wait for the rooms behind these names.
    from trainer.session.view import Reply, View

Mode = Literal["practice", "assessed"]


@dataclass(frozen=True, slots=True)
class JobCard:
    """One job as the front desk lists it."""

    name: str
    title: str
    grade: str
    minutes: float
    best: float | None = None
    """Best score so far, of 100; None before the first finished attempt."""
    unfinished: bool = False
    about: str = ""
    """One or two sentences: what is asked."""
    draw: int = 0
    """What is drawn next: 0, the job as it is taught, until it was finished once."""
    family: str = ""
    """What it is about; empty for a job that doesn't say."""


class WorkSession(Protocol):
    """A running job as the window uses it; `trainer.session.Session` is one, `CannedSession` another."""

    def do(self, kind: str, arguments: Mapping[str, object] | None = None) -> Reply:
        """Do an action of the catalogue."""
        ...

    def tick(self, wall_s: float) -> None:
        """Let wall time pass [s]; called once a frame."""
        ...

    def observe(self) -> View:
        """Everything to be drawn; called once a frame."""
        ...

    def pause(self, on: bool) -> None:
        """Hold simulated time, or let it go on."""
        ...

    def set_pace(self, pace: float) -> None:
        """How fast simulated time passes."""
        ...

    def look_at(self, when: Us | None) -> None:
        """Show a past instant [µs since arrival]; None: back to now."""
        ...

    def go_on_from(self, when: Us) -> Reply:
        """Go on from a past instant [µs since arrival]."""
        ...

    def release_all(self) -> None:
        """Let go of everything held."""
        ...

    def finish(self) -> None:
        """End the attempt as it stands: what was done is graded."""
        ...

    def close(self) -> None:
        """Leave the session; it can be resumed."""
        ...


class Desk(Protocol):
    """Where jobs are chosen."""

    def jobs(self) -> Sequence[JobCard]:
        """All jobs, in the order to be done in."""
        ...

    def start(self, name: str, mode: Mode, seed: int) -> WorkSession:
        """Begin a job anew. Raises GudgeonError with a sentence for the person when it can't."""
        ...

    def resume(self, name: str) -> WorkSession:
        """Go on with the unfinished attempt at a job. Raises GudgeonError when it can't."""
        ...
