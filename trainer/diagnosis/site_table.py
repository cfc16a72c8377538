"""The table of one site: every fault that it can have against every reading that can be taken there.

Made of the single-fault sweep, at a grave and a mild share of each fault, so that a cause which reads one thing when
mild and another when grave leaves room for both. A fault that comes and goes stands there twice: as it is when it is
there, and as a sound gate while it is away.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from sim.bench.fault_readings import gate
from sim.bench.fault_sweep import Column, Sweep, sweep
from sim.errors import Refused
from sim.faults.catalogue import FAULTS
from sim.faults.entry import Fault
from sim.instruments.shelf import SHELF
from sim.site import Site
from sim.world.world import World
from trainer.diagnosis.classes import Shown, alike, between, classes
from trainer.diagnosis.costs import minutes
from trainer.diagnosis.priors import NOTHING, prior
from trainer.diagnosis.table import DOUBT, Probabilities, Table

GRAVE: Final = 1.0
MILD: Final = 0.3
"""Shares at which each fault is looked at; what lies between reads in between."""

AWAY: Final = 0.5
"""How often a fault that comes and goes is away when somebody looks. Common practice, no source."""

IN_BETWEEN: Final = 0.5
"""How well a reading fits a cause that reads less when mild and more when grave, against one that reads just so."""

AT_A_TIME: Final = 21
"""Faults swept between two words of progress: what every sweep begins with is dear, and people want to see it go."""

BOTH: Final = " + "
"""Between two faults that are there together."""

OF_TWO: Final = 0.5
"""Where two may be there together, the share of calls with a fault at which there are. Common practice, no source."""

NOT_NOW: Final = ", not now"
"""Behind a fault that comes and goes, while it is away."""

Told = Callable[[int, int], None]
"""Told how many parts are done and how many there are."""


@dataclass(frozen=True)
class SiteTable:
    """Causes, readings and what can be told apart, for one site."""

    causes: tuple[str, ...]
    """`no fault` first."""
    columns: tuple[Column, ...]
    """(state, instrument, function, at, against) of each measurement that tells anything."""
    units: tuple[str, ...]
    texts: tuple[str, ...]
    """Everything that is shown anywhere, once."""
    shown: NDArray[np.int64]
    """Place in `texts`; shape (causes, 2, columns): as grave as can be, and mild."""
    classed: NDArray[np.int64]
    """Class of what is shown; same shape."""

    @cached_property
    def table(self) -> Table:
        """Probabilities of every class, and minutes from a gate that is live and at rest."""
        count = int(self.classed.max(initial=0)) + 1
        given = np.zeros((len(self.causes), len(self.columns), count))
        rows, columns = np.ogrid[: len(self.causes), : len(self.columns)]
        for draw in (0, 1):
            np.add.at(given, (rows, columns, self.classed[:, draw, :]), 0.5)
        cost = {" · ".join(part for part in each if part): minutes(each) for each in self.columns}
        return Table.of(self.causes, cost, given)

    @cached_property
    def prior(self) -> Probabilities:
        """Belief before anything was read; two together as likely as the product of their rates."""
        single = [name for name in self.causes if BOTH not in name]
        faults = [name for name in single if not name.endswith(NOT_NOW)]
        told = dict(zip(faults, prior(faults, {name: FAULTS[name].family for name in faults[1:]}), strict=True))
        alone = np.array([told[name.removesuffix(NOT_NOW)] * _share(name, single) for name in single])
        if len(single) == len(self.causes):
            return alone
        two = np.array([np.prod([told[part] for part in parts_of(name)]) for name in self.causes[len(single) :]])
        fault = 1.0 - told[NOTHING]
        alone = np.where(np.array(single) == NOTHING, alone, alone * (1.0 - OF_TWO))
        answer: Probabilities = np.concatenate((alone, two / two.sum() * fault * OF_TWO))
        return answer

    @cached_property
    def _places(self) -> dict[Column, int]:
        return {column: index for index, column in enumerate(self.columns)}

    def at(self, column: Column) -> int | None:
        """Where a measurement stands, None when it tells nothing; probes the other way round are another one."""
        return self._places.get(column)

    def with_pairs(self) -> SiteTable:
        """The same table with every two causes together besides. Where one alone reads as sound, both read what the
        other does; where neither does, one of the two hides the other, and either may.

        That is reckoned and not simulated: two faults that act on each other may read otherwise.
        """
        count = sum(not name.endswith(NOT_NOW) for name in self.causes)
        one, other = np.triu_indices(count - 1, 1)
        one, other = one + 1, other + 1

        def both(values: NDArray[np.int64]) -> NDArray[np.int64]:
            grave = np.where(self.classed[one, 0] != self.classed[0, 0], values[one, 0], values[other, 0])
            mild = np.where(self.classed[other, 1] != self.classed[0, 1], values[other, 1], values[one, 1])
            return np.concatenate((values, np.stack((grave, mild), axis=1)))

        names = tuple(self.causes[a] + BOTH + self.causes[b] for a, b in zip(one, other, strict=True))
        return replace(
            self,
            causes=(*self.causes, *names),
            shown=both(self.shown),
            classed=both(self.classed),
        )

    def likelihood(self, index: int, text: str) -> Probabilities | None:
        """P(reading | cause) of what somebody read, for every cause; None where no cause reads anything like it."""
        reading, unit = Shown.of(text), self.units[index]
        mine = self.shown[:, :, index]
        known = {int(each): Shown.of(self.texts[each]) for each in np.unique(mine)}
        fits = {each: alike(reading, shown, unit) for each, shown in known.items()}
        near = np.vectorize(fits.__getitem__, otypes=[bool])(mine)
        answer = near.mean(axis=1)
        ends = {(int(draws[0]), int(draws[1])) for draws in mine[answer == 0.0]}
        room = {pair for pair in ends if between(reading, known[pair[0]], known[pair[1]])}
        if room:
            is_between = np.array([(int(draws[0]), int(draws[1])) in room for draws in mine])
            answer = np.where((answer == 0.0) & is_between, IN_BETWEEN, answer)
        if not answer.any():
            return None
        blurred: Probabilities = (1.0 - DOUBT) * answer + DOUBT / int(self.table.classes[index])
        return blurred


def parts_of(cause: str) -> tuple[str, ...]:
    """The faults that a cause is made of: one, or two together; none of `no fault`."""
    return () if cause == NOTHING else tuple(cause.removesuffix(NOT_NOW).split(BOTH))


def _share(name: str, among: Sequence[str]) -> float:
    """How much of a fault's rate stands in one of its rows."""
    if name.endswith(NOT_NOW):
        return AWAY
    return 1.0 - AWAY if name + NOT_NOW in among else 1.0


def causes_of(site: Site) -> tuple[Fault, ...]:
    """Every fault that this gate can have as it stands, without what the bench has otherwise for it."""
    world = gate(site)
    return tuple(replace(each, variant=MappingProxyType({})) for each in FAULTS.values() if _fits(world, each))


def _fits(world: World, fault: Fault) -> bool:
    try:
        world.faults.check(fault.name, GRAVE)
    except Refused:
        return False
    return True


def make(site: Site, faults: Sequence[Fault] = (), told: Told | None = None) -> SiteTable:
    """The table of a site, by simulation; some ten seconds of processor time for every 20 faults.

    `faults`: those that are causes, all that fit where none is given. Raises CannotLearn where the gate can't run.
    """
    wanted = tuple(faults) or causes_of(site)
    parts = [wanted[n : n + AT_A_TIME] for n in range(0, len(wanted), AT_A_TIME)]
    done: list[tuple[Sweep, Sweep]] = []
    for index, part in enumerate(parts):
        if told is not None:
            told(index, len(parts))
        grave = sweep(site, part, GRAVE)
        done.append((grave, sweep(site, part, MILD, graver=grave)))
    return joined(done)


def joined(done: Sequence[tuple[Sweep, Sweep]]) -> SiteTable:
    """One table of sweeps of one site, (grave, mild) of each part of its faults."""
    columns, (sound,) = done[0][0].columns, done[0][0].sound.values()
    causes = [name for grave, _ in done for name in grave.table]
    away = [name + NOT_NOW for name in causes if FAULTS[name].trigger is not None]
    rows = [(sound, sound)]
    for grave, mild in done:
        rows += [(_row(grave, name, columns), _row(mild, name, columns)) for name in grave.table]
    rows += [(sound, sound)] * len(away)
    units = units_of()
    kept, classed = [], []
    for index, column in enumerate(columns):
        found = classes([draw[index] for row in rows for draw in row], units.get(column[1:3], ""))
        if found.max() > 0:
            kept.append(index)
            classed.append(found.reshape(len(rows), 2))
    numbers = {
        text: n for n, text in enumerate(dict.fromkeys(row[d][i] for row in rows for d in (0, 1) for i in kept))
    }
    return SiteTable(
        (NOTHING, *causes, *away),
        tuple(columns[index] for index in kept),
        tuple(units.get(columns[index][1:3], "") for index in kept),
        tuple(numbers),
        np.array([[[numbers[draw[index]] for index in kept] for draw in row] for row in rows], dtype=np.int64),
        np.stack(classed, axis=2) if classed else np.zeros((len(rows), 2, 0), dtype=np.int64),
    )


def _row(swept: Sweep, name: str, columns: Sequence[Column]) -> tuple[str, ...]:
    """What is shown with a fault, in the order of the first part's columns."""
    known = dict(zip(swept.columns, swept.table[name], strict=True))
    return tuple(known[column] for column in columns)


def units_of() -> dict[tuple[str, str], str]:
    """The unit of every function of every instrument."""
    return {
        (each.name, function.name): function.unit for each in (new() for new in SHELF) for function in each.functions
    }
