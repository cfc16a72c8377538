"""What a session is given from above: the job as plain data, and who grades it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal, Protocol

from trainer.session.van import Van

if TYPE_CHECKING:
    from pathlib import Path

    from sim.units import Us
    from sim.world.actions import Action
    from sim.world.history import History
    from trainer.session.acceptance import Judged
    from trainer.session.view import DebriefView
    from trainer.session.worth import Standing, WorthView

Mode = Literal["practice", "assessed"]


@dataclass(frozen=True, slots=True)
class Assignment:
    """What the session needs to know of a job: plain data, nothing of the hidden draw."""

    name: str
    title: str
    grade: str
    minutes: float
    brief: str
    points: tuple[str, ...]
    acceptance: tuple[str, ...]
    steps: tuple[tuple[str, str], ...]
    """(sentence, name of the check that does it)."""
    questions: tuple[tuple[str, tuple[str, ...]], ...]
    allowed: frozenset[str]
    cautions: tuple[str, ...]
    mode: Mode
    seed: int
    solution: Callable[[], tuple[Action, ...]] = tuple
    """The acts of the job's own solution for this draw; asked when the job has ended, and never before."""
    graded: bool = True
    """False in a free yard: nothing is asked, handed over or judged."""
    otherwise: Callable[[History], Mapping[str, Callable[[Us], History]]] = lambda _history: {}
    """Of each fault the gate was found with, the same acts up to an instant on a gate without it; asked at the end,
    never before."""
    van: Van = field(default_factory=Van)
    """Instruments and spare parts that are there."""
    adviser: Adviser | None = None
    """Who answers whoever asks for a hint; None where nobody does."""


class Adviser(Protocol):
    """Hints, never the cause; and at the end what each step was worth. Handed in from the floor above."""

    def unready(self) -> str:
        """Why no hint can be given yet, in a sentence; empty when one can."""
        ...

    def hint(self, history: History, level: int) -> str:
        """A hint of rising strength, from 1; empty when there is nothing to add."""
        ...

    def standing(self, begin: bool = True) -> Standing:
        """How it stands with what worth is reckoned by; `begin`: have it worked out where it isn't there. Without,
        what isn't there is told as if it were being worked out."""
        ...

    def worth(self, history: History) -> WorthView:
        """What each step was worth. Only after `standing` was `there`."""
        ...


class Judge(Protocol):
    """Grading, handed in from the floor above."""

    def stands(self, history: History, assignment: Assignment) -> Judged:
        """Each check of the acceptance, the guide's steps, and which force readings count, as things stand."""
        ...

    def debrief(self, history: History, assignment: Assignment, folder: Path) -> DebriefView:
        """The graded result at the end, with what an instructor overruled in the folder it is kept in."""
        ...

    def kept(self, history: History, assignment: Assignment) -> dict[str, object]:
        """The graded result with its features, in base types, to be kept beside the journal."""
        ...
