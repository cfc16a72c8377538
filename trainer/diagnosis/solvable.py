"""Whether what is hidden in a job can be found with what the job allows, and how long somebody who reckons takes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from sim.bench.fault_seen import EYES
from sim.bench.fault_sweep import Column
from sim.errors import Refused
from sim.faults.catalogue import FAULTS
from sim.world.actions import Action
from trainer.diagnosis.policy import course, expected, way
from trainer.diagnosis.reckoner import act_of
from trainer.diagnosis.site_table import BOTH, GRAVE, MILD, NOT_NOW, SiteTable
from trainer.job import Job
from trainer.session.van import Van

ALWAYS: Final = ("press", "read status and log")
"""Acts that no job can do without, if it is to be told by looking at all."""

May = Callable[[Action], bool]
"""Whether an act may be done in a job, with what is in its bag."""


@dataclass(frozen=True, slots=True)
class Worth:
    """What finding one cause takes."""

    cause: str
    """The hidden fault, or two together."""
    alike: tuple[str, ...]
    """Other causes that nothing allowed tells from it."""
    own: bool
    """Whether its own measurement, by the catalogue, is allowed: it may tell what no common reading does."""
    steps: int
    """Measurements of somebody who takes the best next each time."""
    minutes: float

    @property
    def solvable(self) -> bool:
        """Whether what is allowed can tell it at all."""
        return not self.alike or self.own


def allowed_in(job: Job) -> May:
    """What a job allows, with what is in the bag."""
    van = Van(None if isinstance(job.tools, str) else frozenset(job.tools))

    def may(act: Action) -> bool:
        if not job.allows(act.kind):
            return False
        try:
            van.check(act)
        except Refused:
            return False
        return True

    return may


def columns_of(table: SiteTable, may: May) -> tuple[int, ...]:
    """Which measurements of a table a job allows."""
    return tuple(index for index, column in enumerate(table.columns) if is_allowed(column, may))


def is_allowed(column: Column, may: May) -> bool:
    """Whether a measurement may be made where these acts may be done."""
    kind, given = act_of(column)
    return (column[1] == EYES and kind in ALWAYS) or may(Action(kind, given))


def worth(table: SiteTable, hidden: Sequence[tuple[str, float]], may: May) -> tuple[Worth, ...]:
    """Of faults that are there together (name, how grave): two are one cause, of more each is looked at by itself.

    Raises KeyError for a fault that isn't in the table.
    """
    if len(hidden) == 2:
        first, second = sorted((name for name, _ in hidden), key=table.causes.index)
        share = min(share for _, share in hidden)
        return (_worth(table.with_pairs(), first + BOTH + second, share, may),)
    return tuple(_worth(table, name, share, may) for name, share in hidden)


def on_average(table: SiteTable, may: May) -> tuple[float, float]:
    """Measurements and minutes of somebody who takes the best next each time, over every cause of the table at its
    graver, as often as each occurs; where a job allows these acts."""
    allowed = list(columns_of(table, may))
    reads, cost = table.classed[:, 0, :][:, allowed], table.table.minutes[allowed]
    return expected(course(reads, cost, table.prior), cost, table.prior)


def _worth(table: SiteTable, cause: str, share: float, may: May) -> Worth:
    if cause not in table.causes:
        raise KeyError(cause)
    allowed = list(columns_of(table, may))
    draw = 0 if share >= (GRAVE + MILD) / 2 else 1
    reads, cost = table.classed[:, draw, :][:, allowed], table.table.minutes[allowed]
    row = table.causes.index(cause)
    same = (reads == reads[row]).all(axis=1)
    alike = [name for name, is_same in zip(table.causes, same, strict=True) if is_same and name != cause]
    told = way(reads, cost, table.prior, row) if allowed else ()
    return Worth(
        cause,
        tuple(dict.fromkeys(name.removesuffix(NOT_NOW) for name in alike if name.removesuffix(NOT_NOW) != cause)),
        all(_own(part, may) for part in cause.split(BOTH)),
        len(told),
        float(np.sum(cost[list(told)])),
    )


def _own(fault: str, may: May) -> bool:
    """Whether every act of a fault's own measurement is allowed."""
    return all(may(Action(each.kind, each.arguments)) for each in FAULTS[fault].reference.steps)
