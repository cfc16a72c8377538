"""What the window asks of the rooms below: a desk with jobs, and a session to work in. Nothing else comes in."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, Protocol

from sim.units import Us

if TYPE_CHECKING:
    # Looked at by the checker only: the first frame must not wait for the rooms behind these names.
    from trainer.session.view import Reply, View
    from trainer.session.worth import WorthView

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


class SiteCard(Protocol):
    """A site to choose for a free yard."""

    @property
    def path(self) -> str:
        """Its file."""
        ...

    @property
    def name(self) -> str:
        """What the place is called."""
        ...

    @property
    def setting(self) -> str:
        """What kind of place it is; or why the file can't be used."""
        ...

    @property
    def usable(self) -> bool:
        """Whether it can be chosen."""
        ...


class FaultCard(Protocol):
    """A fault to choose for a free yard."""

    @property
    def name(self) -> str:
        """As the catalogue calls it."""
        ...

    @property
    def family(self) -> str:
        """Which part of the gate it is of."""
        ...

    @property
    def customer(self) -> str:
        """What a customer says of it."""
        ...


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

    def worth(self) -> WorthView | None:
        """What each step of an attempt that has ended was worth, or how it stands with it; asked now and then."""
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

    def sites(self) -> Sequence[SiteCard]:
        """Every site that is shipped."""
        ...

    def site(self, file: str) -> SiteCard:
        """The site in a file. Raises GudgeonError with a sentence for the person when it can't be used."""
        ...

    def faults(self, site: str) -> Iterator[FaultCard]:
        """The faults that the gate of a site can have; each takes a moment. Raises GudgeonError."""
        ...

    def start_yard(
        self, site: str, faults: Sequence[tuple[str, float]], commissioned: bool, seed: int
    ) -> WorkSession:
        """A free yard with these faults (name, how grave from 0 to 1). Raises GudgeonError if it can't be."""
        ...

    def yard_left(self) -> str:
        """The place of a free yard that can be gone on with; empty if there is none."""
        ...

    def resume_yard(self) -> WorkSession:
        """Go on in that one. Raises GudgeonError when it can't."""
        ...


class DrillCard(Protocol):
    """A drill as the front desk lists it."""

    @property
    def path(self) -> str:
        """Its file."""
        ...

    @property
    def title(self) -> str:
        """What it is called."""
        ...

    @property
    def job(self) -> str:
        """The job that it is a drill of."""
        ...

    @property
    def minutes(self) -> float:
        """How long it should take [min]."""
        ...

    @property
    def about(self) -> str:
        """The customer's words; or why the file can't be used."""
        ...

    @property
    def usable(self) -> bool:
        """Whether it can be begun."""
        ...

    @property
    def unfinished(self) -> bool:
        """Whether an attempt at it was left and can be gone on with."""
        ...


class NextJob(Protocol):
    """What to practise next."""

    @property
    def family(self) -> str:
        """The kind of job."""
        ...

    @property
    def job(self) -> str:
        """Name of a job of that kind."""
        ...

    @property
    def title(self) -> str:
        """What that job is called."""
        ...

    @property
    def why(self) -> str:
        """Why this one, in one sentence."""
        ...


class Coach(Protocol):
    """Whoever knows what the person has done."""

    def next(self, jobs: Sequence[JobCard]) -> NextJob | None:
        """What to practise next of these; None where there is nothing to say."""
        ...


class DrillShelf(Protocol):
    """Where an instructor takes drills from."""

    def drills(self) -> Sequence[DrillCard]:
        """Every drill there is."""
        ...

    def start(self, file: str, say: Callable[[str], None]) -> WorkSession:
        """Begin a drill; what its instructor says goes to `say`. Raises GudgeonError when it can't be."""
        ...

    def resume(self, file: str, say: Callable[[str], None]) -> WorkSession:
        """Go on with the unfinished attempt at a drill. Raises GudgeonError when it can't be."""
        ...
