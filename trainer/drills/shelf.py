"""The drills that are shipped, to be chosen from and begun with a person at work."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from sim.errors import ScenarioError
from trainer.drills.person import PersonAtWork
from trainer.drills.run import begin, kept_as, resume
from trainer.job import load_drill, scenarios_folder
from trainer.session.desk import Desk


@dataclass(frozen=True, slots=True)
class DrillCard:
    """A drill to choose."""

    path: str
    title: str
    job: str
    """The job that it is a drill of."""
    minutes: float
    about: str
    """The customer's words; or why the file can't be used."""
    usable: bool = True
    unfinished: bool = False
    """Whether an attempt at it was left and can be gone on with."""


class ClosedWithIt(PersonAtWork):
    """A person at work in a drill that nobody outside waits for: leaving the window closes its session."""

    def close(self) -> None:
        """Let go of everything held and close the journal."""
        self.session.close()


@dataclass(frozen=True, slots=True)
class Shelf:
    """Lists drills and begins them; attempts are kept by the desk, apart from those of the jobs."""

    desk: Desk
    folder: Path | None = None
    """Where the drill files lie; those that are shipped without one."""

    def drills(self) -> list[DrillCard]:
        """Every drill, by title. One that can't be read says why."""
        folder = self.folder or scenarios_folder() / "drills"
        return sorted(map(self._card, folder.glob("*.yaml")), key=lambda card: card.title)

    def start(self, file: str, say: Callable[[str], None]) -> PersonAtWork:
        """Begin the drill in a file; what the instructor says goes to `say`.

        Raises ScenarioError if the file can't be used, ScriptFailed for a step nobody can carry out.
        """
        session, instructor = begin(load_drill(file), self.desk)
        return ClosedWithIt(session, instructor, say)

    def resume(self, file: str, say: Callable[[str], None]) -> PersonAtWork:
        """Go on with the newest unfinished attempt at the drill in a file.

        Raises ScenarioError if the file can't be used, JournalError if there is no such attempt or it belongs to
        another drill, job or physics by now.
        """
        session, instructor = resume(load_drill(file), self.desk)
        return ClosedWithIt(session, instructor, say, goes_on=True)

    def _card(self, path: Path) -> DrillCard:
        try:
            drill = load_drill(path)
        except ScenarioError as error:
            return DrillCard(str(path), path.stem, "", 0, str(error), usable=False)
        job, unfinished = drill.job, self.desk.left(kept_as(path)) is not None
        return DrillCard(str(path), drill.title, job.title, job.minutes, job.brief.strip(), unfinished=unfinished)
