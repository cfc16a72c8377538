"""The engine: a site's table, how the gate was found, and what may be used there."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from sim.bench.fault_seen import CYCLED, EYES, LIVE, RADIO, SHEET, TRIPPED, TRIPS
from sim.bench.fault_sweep import STATES, Column
from sim.instruments.shelf import SHELF
from sim.world.actions import CATALOGUE
from sim.world.history import History
from trainer.diagnosis import hints
from trainer.diagnosis.belief import REPAIRS, Course, Made, Repaired, follow
from trainer.diagnosis.costs import minutes
from trainer.diagnosis.engine import Measurement
from trainer.diagnosis.observing import Found, state_now
from trainer.diagnosis.site_table import NOT_NOW, SiteTable
from trainer.diagnosis.table import Probabilities, gains

Act = tuple[str, Mapping[str, str | int | float | bool]]

NOTHING_BIT: Final = 1e-9
"""Below this a measurement tells nothing [bit]."""

MOST_KEPT: Final = 1000
"""Beliefs of which the worth of all measurements is kept; each is some kilobytes."""

MEASURED: Final = ("instrument", "function", "at", "against")

CAUTIONS: Final = MappingProxyType(
    {(each.name, function.name): function.caution for each in (new() for new in SHELF) for function in each.functions}
)
"""What each function of an instrument says is to be heeded."""


@dataclass(frozen=True)
class Reckoner:
    """A diagnosis engine for one gate."""

    table: SiteTable
    found: Found
    may: Callable[[Column], bool] = lambda _: True
    """Whether a measurement may be made here at all: what is allowed, and what is in the bag."""

    @cached_property
    def allowed(self) -> NDArray[np.bool_]:
        """Which columns may be measured; shape (columns,)."""
        return np.array([self.may(column) for column in self.table.columns], dtype=bool)

    def course(self, history: History, until: int | None = None) -> Course:
        """A history followed step by step."""
        return follow(self.table, history, self.found, self.allowed, until, self.worth)

    def worth(self, belief: Probabilities) -> Probabilities:
        """What every measurement is expected to tell at a belief [bit], shape (columns,). It is kept: whoever asks
        after each act asks for the same beliefs again, and one costs some milliseconds."""
        return self._kept_worth(belief.tobytes())

    @cached_property
    def _kept_worth(self) -> Callable[[bytes], Probabilities]:
        @lru_cache(maxsize=MOST_KEPT)
        def worth(raw: bytes) -> Probabilities:
            return gains(self.table.table, np.frombuffer(raw))

        return worth

    def candidates(self, history: History, until: int | None = None) -> Mapping[str, float]:
        """Probability of every cause given what was read and seen, up to an instant [µs] where one is given."""
        told: dict[str, float] = {}
        for name, share in zip(self.table.causes, self.course(history, until).belief, strict=True):
            cause = name.removesuffix(NOT_NOW)
            told[cause] = told.get(cause, 0.0) + float(share)
        return MappingProxyType(told)

    def measurements(self, history: History) -> tuple[Measurement, ...]:
        """What can be done now, the best expected information per minute first."""
        return tuple(
            Measurement(*act_of(column), bits, spent, _danger(column)) for column, bits, spent in self.ranked(history)
        )

    def ranked(self, history: History) -> tuple[tuple[Column, float, float], ...]:
        """(measurement, expected information [bit], minutes) of all that tells anything now, the best first."""
        now = self.course(history)
        worth = self.worth(now.belief)
        state = state_now(history, self.found)
        done = now.known | {self.table.at(column) for column in _tried(history)}
        left = [
            (column, float(worth[index]), minutes(column, state))
            for index, column in enumerate(self.table.columns)
            if self.allowed[index] and worth[index] > NOTHING_BIT and index not in done
        ]
        return tuple(sorted(left, key=lambda each: -each[1] / each[2]))

    def made(self, history: History) -> tuple[Made, ...]:
        """What each measurement that was made was worth when it was chosen."""
        return self.course(history).made

    def repaired(self, history: History) -> tuple[Repaired, ...]:
        """What spoke for each repair when it was made."""
        return self.course(history).repaired

    def hint(self, history: History, level: int) -> str:
        """A hint of rising strength, 1 to 4; never the cause. Empty when no measurement tells anything more.

        Raises ValueError for another level.
        """
        if not 1 <= level <= hints.STRONGEST:
            raise ValueError(level)
        now = self.course(history)
        if level == 1:
            return hints.good(len({each.line for each in now.made}))
        if level == 2:
            return hints.which_side(hints.side(self.table.causes, now.belief))
        ranked = self.ranked(history)
        if not ranked:
            return ""
        if max(bits for _, bits, _ in ranked) < hints.LITTLE_BIT:
            return hints.enough()
        return hints.which_place(ranked[0][0]) if level == 3 else hints.which_measurement(ranked[0][0])


def act_of(column: Column) -> Act:
    """The act of the catalogue that makes a measurement, or begins it."""
    state, instrument, function, at, against = column
    if instrument != EYES:
        kind = "place instrument" if state == CYCLED else "measure"
        return kind, {"instrument": instrument, "function": function, "at": at, "against": against}
    if function == TRIPPED:
        return TRIPS[at][0], {"guard": at}
    if function == RADIO:
        return "press transmitter", {"transmitter": at}
    if function == SHEET:
        return "read status and log", {}
    return "press", {"control": "open button" if function == "opening" else "close button"}


def _danger(column: Column) -> str:
    """What is to be heeded: of the instrument, or of a gate that is asked to move."""
    if column[1] != EYES:
        return CAUTIONS.get((column[1], column[2]), "")
    return CATALOGUE[act_of(column)[0]].caution


def _tried(history: History) -> Iterable[Column]:
    """What was done for a look and need not have left a reading: a guard tripped by hand, a place measured at; since
    the last repair."""
    last = max((entry.at for entry in history.entries if entry.action.kind in REPAIRS), default=0)
    for entry in history.entries:
        if entry.at < last:
            continue
        guard = entry.action.arguments.get("guard")
        if isinstance(guard, str) and guard in TRIPS and entry.action.kind == TRIPS[guard][0]:
            yield (LIVE, EYES, TRIPPED, guard, "")
        if entry.action.kind in ("measure", "place instrument"):
            instrument, function, at, against = (str(entry.action[key]) for key in MEASURED)
            yield from ((state, instrument, function, at, against) for state in STATES)
