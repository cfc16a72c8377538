"""What is to be proved, of which controller on which gate, with how much effort; and the tasks that makes."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from sim.bench import foreign
from sim.bench.proof.case import Case
from sim.bench.proof.catalogue import CATALOGUE
from sim.bench.proof.entry import NO_ANSWER, Focus, Property
from sim.bench.proof.play import Stage, everything_wired, features
from sim.bench.proof.tour import tour
from sim.controller.ports import Controller
from sim.errors import DataError, nearest_right
from sim.site import Site

EXAMPLES: Final = 16
"""Cases played with the focus of each property, by default: with the tour some two minutes on two processors."""

ROUND: Final = 8
"""Cases of a focus in one round; every focus has one before any has the next."""

TOUR: Final = "tour of every state"

TOUR_PART: Final = 60
"""Cases of the tour in one task."""

EVERYTHING: Final = "everything"
"""Name of the task that draws from all families alike."""


@dataclass(frozen=True, slots=True)
class Order:
    """One proof to be done."""

    site: Site
    source: foreign.Source | None = None
    """A controller of somebody's own; None for the reference controller."""
    properties: tuple[str, ...] = ()
    """Which, by name; empty for all of them."""
    examples: int = EXAMPLES
    """Cases for the focus of each property."""
    seed: int = 0
    seconds: float = 900.0
    """Wall time after which no new case is begun [s]."""
    workers: int = 2
    bounds: Mapping[str, float] = field(default_factory=dict)

    @property
    def wanted(self) -> tuple[Property, ...]:
        """The properties; that it answers at all is always one of them.

        Raises DataError for a name there is none of, with the nearest right one.
        """
        for name in self.properties:
            if name not in CATALOGUE:
                hint = nearest_right(name, CATALOGUE, otherwise="; `gudgeon prove --list` lists them", alike=0.4)
                raise DataError(f"there is no property '{name}'{hint}")
        chosen = [CATALOGUE[name] for name in dict.fromkeys((*self.properties, NO_ANSWER))]
        return tuple(chosen) if self.properties else tuple(CATALOGUE.values())

    @property
    def stands(self) -> Site:
        """The gate that it is proved on: the site, with every control wired."""
        return everything_wired(self.site)

    def missing(self, each: Property) -> tuple[str, ...]:
        """What the site lacks of what a property needs."""
        has = features(self.stands)
        return tuple(need for need in each.needs if need not in has)

    def stage(self) -> Stage:
        """The gate with the controller. A stranger's file is run here: only in a process that may be ended."""
        if self.source is None:
            return Stage(self.stands)
        source = self.source

        def make() -> Controller:
            return foreign.load(source)

        return Stage(self.stands, make, bare=True)


@dataclass(frozen=True, slots=True)
class Task:
    """One search of a proof."""

    name: str
    """Of the property whose focus it has, or `EVERYTHING`."""
    focus: Focus
    examples: int
    seed: int
    cases: tuple[Case, ...] = ()
    """Cases to be played as they are, in the place of drawn ones."""


def seed_of(seed: int, name: str) -> int:
    """The seed of one search, from the seed of the proof and a name: adding a property changes no other search."""
    return int.from_bytes(hashlib.blake2b(f"{seed} {name}".encode(), digest_size=4).digest())


def tasks(order: Order) -> list[Task]:
    """Every search of a proof: the tour, and round by round one for each property that the site can have and one that
    draws from everything."""
    own = [
        each
        for each in order.wanted
        if not order.missing(each) and (each.name in order.properties or not order.properties)
    ]
    foci = [(each.name, each.focus, 1) for each in own]
    toured: list[Task] = []
    if not order.properties:
        every = list(tour(order.stands))
        parts = [tuple(every[start : start + TOUR_PART]) for start in range(0, len(every), TOUR_PART)]
        toured = [Task(f"{TOUR}, part {n + 1}", Focus(), len(part), 0, part) for n, part in enumerate(parts)]
        foci.insert(0, (EVERYTHING, Focus(), 4))
    rounds = [
        Task(name, focus, share * min(ROUND, order.examples - start), seed_of(order.seed, f"{name} from {start}"))
        for start in range(0, order.examples, ROUND)
        for name, focus, share in foci
    ]
    return [*toured, *rounds]
