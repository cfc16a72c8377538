"""How a simulated trainee chooses what to measure next. All of them draw the right conclusion from what they read:
they differ in what they look at, and in nothing else.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from random import Random
from types import MappingProxyType
from typing import Final

import numpy as np

from sim.bench.fault_sweep import Column
from sim.world.history import History
from trainer.diagnosis.reckoner import Reckoner

LEAST_SHARE: Final = 0.01
"""A cause less likely than this share of the likeliest is out of the race for whoever splits in half."""

Search = Callable[[Reckoner, History, frozenset[Column], Random], Column | None]
"""The next measurement, None where nothing is left: engine, what was found out, what was tried, dice."""


def greedy(engine: Reckoner, history: History, tried: frozenset[Column], _dice: Random) -> Column | None:
    """Most expected information for a minute."""
    return next((column for column, _bits, _minutes in engine.ranked(history) if column not in tried), None)


def half_split(engine: Reckoner, history: History, tried: frozenset[Column], _dice: Random) -> Column | None:
    """What parts the causes that are left most evenly, each as likely as the next, whatever it costs."""
    course = engine.course(history)
    left = course.belief > LEAST_SHARE * course.belief.max()
    worth = engine.worth(left / left.sum())
    options = [
        (-worth[index], index)
        for index, column in enumerate(engine.table.columns)
        if engine.allowed[index] and column not in tried and index not in course.known and worth[index] > 1e-6
    ]
    return engine.table.columns[min(options)[1]] if options else None


def at_random(engine: Reckoner, _history: History, tried: frozenset[Column], dice: Random) -> Column | None:
    """Anything that can be measured here."""
    allowed = np.flatnonzero(engine.allowed)
    options = [column for index in allowed if (column := engine.table.columns[index]) not in tried]
    return dice.choice(options) if options else None


SEARCHES: Final[Mapping[str, Search]] = MappingProxyType(
    {"greedy by information": greedy, "half-split": half_split, "random": at_random}
)
