"""What somebody may believe of the cause after all that was found out, and what each step there was worth.

Bayes over the causes of a site's table. A repair changes the gate: what it would have mended is believed mended, and
what is read from then on is read anew.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Final

import numpy as np
from numpy.typing import NDArray

from sim.bench.fault_sweep import Column
from sim.faults.catalogue import FAULTS
from sim.units import Us
from sim.world.actions import CATALOGUE, Action
from sim.world.history import Entry, History
from trainer.diagnosis.classes import Shown, alike
from trainer.diagnosis.costs import minutes
from trainer.diagnosis.observing import Found, Observation, observations
from trainer.diagnosis.priors import NOTHING
from trainer.diagnosis.site_table import NOT_NOW, SiteTable, parts_of
from trainer.diagnosis.table import Probabilities, gains, uncertainty

REPAIRS: Final = frozenset(name for name, kind in CATALOGUE.items() if kind.group == "repair") | {
    "set",
    "swap motor leads",
    "remove bridge",
}
"""Acts that may mend something."""

NAMES_IT: Final = ("what", "setting", "leaf", "guard")
"""Arguments of a repair that say of what."""


@dataclass(frozen=True, slots=True)
class Made:
    """A measurement that was made, and what it was worth when it was chosen."""

    line: int
    at: Us
    columns: tuple[Column, ...]
    """What of the table was read by it; an operation of the gate shows several."""
    information_bit: float
    """Expected fall of the uncertainty about the cause [bit]."""
    best_bit: float
    """The most that any measurement that may be made would have been expected to tell then [bit]."""
    best: Column
    """The one that would; what was made itself where none was better."""
    told_bit: float
    """What it did tell: the fall of the uncertainty [bit]; negative where it came as a surprise."""
    minutes: float


@dataclass(frozen=True, slots=True)
class Repaired:
    """A repair, or what was meant for one, and what spoke for it."""

    line: int
    at: Us
    act: str
    causes: tuple[str, ...]
    """Causes that it mends, by the catalogue; empty where it mends none of this site's."""
    belief: float
    """Probability that one of them was there, when it was made."""


@dataclass(frozen=True, slots=True)
class Course:
    """A history followed step by step."""

    belief: Probabilities
    """At the end; shape (causes,)."""
    made: tuple[Made, ...]
    repaired: tuple[Repaired, ...]
    known: frozenset[int]
    """Columns that were read since the last repair."""


def follow(
    table: SiteTable,
    history: History,
    found: Found,
    may: NDArray[np.bool_] | None = None,
    until: int | None = None,
    worth_of: Callable[[Probabilities], Probabilities] | None = None,
) -> Course:
    """Belief after a history, up to an instant [µs] where one is given, and the worth of each step.

    `may`: which measurements may be made at all, shape (columns,). `worth_of`: what every measurement is expected to
    tell at a belief [bit], for whoever keeps that: a history that grows asks the same again.
    """
    worth_at = worth_of if worth_of is not None else partial(gains, table.table)
    places = {column: index for index, column in enumerate(table.columns)}
    steps: list[tuple[int, int, Observation | Entry]] = [
        *((each.at, 0, each) for each in observations(history, found, places)),
        *((each.at, 1, each) for each in history.entries if each.action.kind in REPAIRS),
    ]
    allowed = np.ones(len(table.columns), dtype=bool) if may is None else may
    belief, read = table.prior, _Read(table)
    made: list[Made] = []
    repaired: list[Repaired] = []
    for at, _, step in sorted(steps, key=lambda each: each[:2]):
        if until is not None and at > until:
            break
        if isinstance(step, Observation):
            worth = worth_at(belief)
            index = places[step.column]
            after = read.believe(belief, index, step.text)
            told = uncertainty(belief) - uncertainty(after)
            may_tell = np.where(allowed, worth, 0.0)
            first = int(np.argmax(may_tell))
            best = step.column if may_tell[first] <= worth[index] else table.columns[first]
            one = Made(
                step.line,
                step.at,
                (step.column,),
                float(worth[index]),
                float(may_tell[first]),
                best,
                told,
                minutes(step.column),
            )
            if made and made[-1].line == step.line and made[-1].at == step.at:
                one = _together(made.pop(), one)
            made.append(one)
            belief = after
        else:
            one_repair = _repair(table, belief, step)
            if one_repair is None:
                continue
            repaired.append(one_repair)
            belief, read = _mended(belief, step.action, table.causes), _Read(table)
    return Course(belief, tuple(made), tuple(repaired), frozenset(read.known))


def _repair(table: SiteTable, belief: Probabilities, step: Entry) -> Repaired | None:
    """What spoke for a repair; None where an act that may mend something mends nothing here."""
    causes = mends(table.causes, step.action)
    if not causes and CATALOGUE[step.action.kind].group != "repair":
        return None
    share = float(sum(belief[cause] for cause in causes))
    names = tuple(dict.fromkeys(table.causes[cause].removesuffix(NOT_NOW) for cause in causes))
    return Repaired(step.line, step.at, step.action.kind, names, share)


def _together(first: Made, then: Made) -> Made:
    """Two readings of one act: it was worth what they are together, and cost its time once."""
    both_bit = first.information_bit + then.information_bit
    return replace(
        first,
        columns=first.columns + then.columns,
        information_bit=both_bit,
        best_bit=max(first.best_bit, both_bit),
        best=first.best if first.best_bit > both_bit else first.columns[0],
        told_bit=first.told_bit + then.told_bit,
        minutes=max(first.minutes, then.minutes),
    )


class _Read:
    """What was read since the last repair: the same again tells nothing new."""

    def __init__(self, table: SiteTable) -> None:
        self._table = table
        self.known: dict[int, list[str]] = {}

    def believe(self, belief: Probabilities, index: int, text: str) -> Probabilities:
        """The belief after a reading."""
        before, unit = self.known.setdefault(index, []), self._table.units[index]
        if any(alike(Shown.of(text), Shown.of(each), unit) for each in before):
            return belief
        before.append(text)
        likely = self._table.likelihood(index, text)
        if likely is None:
            return belief
        likely = belief * likely
        after: Probabilities = likely / likely.sum()
        return after


def mends(causes: Sequence[str], act: Action) -> tuple[int, ...]:
    """Which causes an act mends, by the repair that the catalogue gives for each: the same verb on the same thing."""
    return tuple(index for index, name in enumerate(causes) if any(_is_mended(part, act) for part in parts_of(name)))


def _is_mended(cause: str, act: Action) -> bool:
    if cause == NOTHING:
        return False
    return any(
        step.kind == act.kind and all(_same(act.arguments.get(key), step.arguments.get(key)) for key in NAMES_IT)
        for step in FAULTS[cause].repair
    )


def _same(one: object, other: object) -> bool:
    return str(one).strip().lower() == str(other).strip().lower()


def _mended(belief: Probabilities, act: Action, causes: Sequence[str]) -> Probabilities:
    """What was mended is nothing any more; of two, the other is left."""
    after = belief.copy()
    places = {name: index for index, name in enumerate(causes)}
    for cause in mends(causes, act):
        left = [part for part in parts_of(causes[cause]) if not _is_mended(part, act)]
        after[cause] -= belief[cause]
        after[places[left[0] if left else NOTHING]] += belief[cause]
    return after
