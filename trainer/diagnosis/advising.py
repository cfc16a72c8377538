"""Who answers a trainee that asks for a hint, and a debrief that asks for worth: the engine, once the table of the
gate is there.

A table that isn't kept yet is made by another process, so that neither the gate nor the window waits; whoever asks
meanwhile is told to ask again, and is charged nothing for it.
"""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path

from sim.said import said
from sim.site import load_site
from sim.world.history import History
from trainer.diagnosis.keeping import Tables
from trainer.diagnosis.observing import Found
from trainer.diagnosis.reckoner import Reckoner
from trainer.diagnosis.site_table import SiteTable, Told
from trainer.diagnosis.solvable import allowed_in, is_allowed
from trainer.diagnosis.weighing import weighed
from trainer.job import Resolved
from trainer.job.models import Failed
from trainer.session.worth import Standing, WorthView

WORK = "from pathlib import Path; import sys; from trainer.diagnosis.advising import work; work(Path(sys.argv[1]))"
"""What the other process runs."""


@dataclass(slots=True)
class Advice:
    """Hints for one attempt at a job, and what its steps were worth."""

    resolved: Resolved
    tables: Tables = field(default_factory=lambda: Tables(heard=_unheard))
    _engine: Reckoner | None = None
    _worker: subprocess.Popen[bytes] | None = None

    def unready(self) -> str:
        """Why no hint can be given yet, in a sentence; empty when one can."""
        standing = self.standing()
        if standing == "being worked out":
            return said("hints for this gate are being worked out, which takes a minute or two; ask again then")
        if standing == "can't be worked out":
            return said("hints for this gate can't be worked out; `gudgeon check --deep` of the job's file says why")
        return ""

    def standing(self, begin: bool = True) -> Standing:
        """How it stands with the table; `begin`: have it made by another process where it isn't kept. Without, one
        that isn't there is told as if it were being worked out."""
        if self._engine is not None:
            return "there"
        ended = self._worker is not None and self._worker.poll() is not None
        if self._worker is not None and not ended:
            return "being worked out"
        table = self.tables.find(self.resolved.job.base_site)
        if table is not None:
            self._engine = self._reckoner(table)
            return "there"
        if ended:
            return "can't be worked out"
        if begin:
            self._have_it_made()
        return "being worked out"

    def make(self, told: Told) -> None:
        """Make the table here and now where it isn't kept, which takes a minute or two; told how far it is.

        Raises CannotLearn where the gate can't run.
        """
        self._engine = self._reckoner(self.tables.get(self.resolved.job.base_site, told))

    def _reckoner(self, table: SiteTable) -> Reckoner:
        pairs = any(len(each) > 1 for each in _failing(self.resolved))
        may = allowed_in(self.resolved.job)
        found = self.resolved.arrival
        return Reckoner(
            table.with_pairs() if pairs else table,
            Found.of(self.resolved.site, found.mains == "on", found.battery_linked),
            lambda column: is_allowed(column, may),
        )

    def hint(self, history: History, level: int) -> str:
        """A hint of rising strength, from 1; empty when there is nothing to add. Only after `unready` was empty."""
        assert self._engine is not None
        return self._engine.hint(history, level)

    def worth(self, history: History) -> WorthView:
        """What each step of an attempt was worth. Only after `standing` was `there`."""
        assert self._engine is not None
        return weighed(self._engine, history)

    def _have_it_made(self) -> None:
        """Begin with the table in another process."""
        where = {**os.environ, "PYTHONPATH": os.pathsep.join(each for each in sys.path if each)}
        command = [sys.executable, "-c", WORK, str(_site_file(self.resolved))]
        nothing = subprocess.DEVNULL
        self._worker = subprocess.Popen(command, env=where, stdin=nothing, stdout=nothing, stderr=nothing)


def work(site: Path) -> None:
    """Make and keep the table of a site, without haste. What the other process does."""
    from sim.kernel import compiler

    if hasattr(os, "nice"):
        os.nice(10)
    compiler.load()
    Tables(heard=_unheard).get(load_site(site))


def _unheard(_sentence: str) -> None:
    """A damaged table is made anew, and a trainee needs no word of it."""


def _site_file(resolved: Resolved) -> Path:
    """The file of the job's site: in the folder `sites` beside the job's folder, or beside the job itself."""
    folder = resolved.job.path.parent
    beside = folder.parent / "sites" / resolved.job.site
    return beside if beside.is_file() else folder / resolved.job.site


def _failing(resolved: Resolved) -> list[tuple[Failed, ...]]:
    """What each outcome of the job's draws has fail; the job's own arrival among them."""
    drawn = [choice.arrival for draw in resolved.job.draw for choice in draw.one_of]
    return [each.faults for each in (resolved.job.arrival, *drawn) if each is not None]
