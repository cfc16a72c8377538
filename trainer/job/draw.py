"""What a seed decides: which outcome of each draw a session gets. The outcome is held in memory and never written.

Each draw is a function of (seed, job title, draw name) alone, so that adding a draw leaves the others unchanged.
Seed 0 is the first pass: every draw has its `first` outcome.
"""

from __future__ import annotations

import hashlib
import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from sim.site import Site, with_changes
from trainer.job.models import Arrival, Choice, Draw, Job, SheetValue


@dataclass(frozen=True, slots=True)
class Resolved:
    """A job with everything decided. What was drawn stays out of its text, so that no log can hold it."""

    job: Job = field(repr=False)
    seed: int
    site: Site = field(repr=False)
    arrival: Arrival = field(repr=False)
    values: Mapping[str, SheetValue] = field(repr=False)
    """Names that a solution may use between angle brackets."""
    solution: str | None = field(repr=False, default=None)
    """File of the reference solution: the last outcome that names one, else the job's."""


def outcome(draw: Draw, seed: int, title: str) -> int:
    """Which outcome a seed gives one draw."""
    if seed == 0:
        return draw.first
    digest = hashlib.sha256(f"{seed}\0{title}\0{draw.name}".encode()).digest()
    return int.from_bytes(digest[:8], "big") % len(draw.one_of)


def resolve(job: Job, seed: int) -> Resolved:
    """The job as this seed decides it. Raises ScenarioError if an outcome doesn't fit the site."""
    return resolved_with(job, seed, tuple(draw.one_of[outcome(draw, seed, job.title)] for draw in job.draw))


def every_outcome(job: Job) -> Iterator[tuple[int, ...]]:
    """Every combination of outcomes, as positions in each draw's list."""
    return itertools.product(*(range(len(draw.one_of)) for draw in job.draw))


def resolved_with(job: Job, seed: int, chosen: tuple[Choice, ...]) -> Resolved:
    """The job with these outcomes, one for each draw."""
    changes: dict[str, Any] = {}
    arrival = job.arrival
    values: dict[str, SheetValue] = {}
    solution = job.solution
    for picked in chosen:
        changes.update(picked.site)
        values.update(picked.values)
        solution = picked.solution or solution
        if picked.arrival is not None:
            arrival = merged(arrival, picked.arrival)
    site = with_changes(job.base_site, changes, "the drawn site") if changes else job.base_site
    return Resolved(job, seed, site, arrival, MappingProxyType(values), solution)


def merged(base: Arrival, over: Arrival) -> Arrival:
    """`base` with the keys that stand in `over`; single settings of the sheet and single angles are kept apart."""
    update: dict[str, Any] = {key: getattr(over, key) for key in over.model_fields_set}
    if "sheet" in update:
        update["sheet"] = {**base.sheet, **over.sheet}
    if "angles_deg" in update:
        given = over.angles_deg.model_fields_set
        update["angles_deg"] = base.angles_deg.model_copy(
            update={name: getattr(over.angles_deg, name) for name in given}
        )
    return base.model_copy(update=update)
