"""The search itself: draw cases, play each in a branch, look at it with every property, shrink what breaks one.

Drawing and shrinking are hypothesis's; nothing of a play happens in the process that draws. A search is settled by
its seed: the same seed on the same gate draws the same cases.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from hypothesis import HealthCheck, Phase, Verbosity, given, seed, settings

from sim.bench.branching import BranchFailed
from sim.bench.patience import worked_s
from sim.bench.proof.case import Case
from sim.bench.proof.draws import cases
from sim.bench.proof.entry import NO_ANSWER, Bounds, Breach, Focus, Property
from sim.bench.proof.play import Stage, play
from sim.bench.proof.record import Done, Record, Row
from sim.bench.proof.shorter import shorter
from sim.units import SECOND
from sim.world.played_back import PutOut, Recorded, recorded
from sim.world.world import World

PATIENCE_S: Final = 20.0
"""Processor time that one play may take; a controller that takes longer has no end [s]. Ours."""

SHRINKS: Final = 120
"""Plays spent on making a counterexample shorter, as drawn and again as it stands. Ours."""

AFTER: Final = 2 * SECOND
"""How long after it went wrong a record goes on [µs]. Ours."""

SHRINK_S: Final = 30.0
"""Processor time after which either ends, however few plays it had [s]: who is asked at every scan is slow. Ours."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the properties saw of one play; plain data, small enough to cross a pipe for every play."""

    breaches: Mapping[str, Breach]
    """Property: where it was broken."""
    promised: frozenset[str] = frozenset()
    """Properties that were looked at: those that are promised with what ailed the gate."""
    taken: frozenset[tuple[str, str]] = frozenset()
    """(trigger, state) of every row of the reference controller's table that was taken."""
    states: frozenset[str] = frozenset()
    """What the panel called the gate's state."""
    scans: int = 0
    seconds: float = 0.0
    """Simulated time [s]."""
    done: tuple[Done, ...] = ()
    """What was done when; kept where a property was broken."""
    recorded: Recorded | None = None
    """What a controller that is none of ours put out until it was broken and a little longer; kept likewise."""


@dataclass(frozen=True, slots=True)
class Found:
    """A counterexample, as short as it could be made."""

    property: str
    case: Case
    breach: Breach
    seed: int
    examples: int
    """How many cases had been played when it was first found."""
    shrinks: int
    """How many were played after that to make it shorter."""
    done: tuple[Done, ...] = ()
    """What is done in it when."""
    recorded: Recorded | None = None
    """What a controller that is none of ours put out."""


@dataclass
class Tally:
    """What a search has seen so far."""

    examples: int = 0
    taken: set[tuple[str, str]] = field(default_factory=set)
    states: set[str] = field(default_factory=set)
    looked: dict[str, int] = field(default_factory=dict)
    """Property: plays in which it was promised and looked at."""
    scans: int = 0
    seconds: float = 0.0

    def add(self, outcome: Outcome) -> None:
        """Count one play."""
        self.examples += 1
        self.taken |= outcome.taken
        self.states |= outcome.states
        for name in outcome.promised:
            self.looked[name] = self.looked.get(name, 0) + 1
        self.scans += outcome.scans
        self.seconds += outcome.seconds

    def join(self, other: Tally) -> None:
        """Count what another search has seen as well."""
        self.examples += other.examples
        self.taken |= other.taken
        self.states |= other.states
        for name, count in other.looked.items():
            self.looked[name] = self.looked.get(name, 0) + count
        self.scans += other.scans
        self.seconds += other.seconds


def judged(record: Record, properties: Sequence[Property], bounds: Bounds) -> Outcome:
    """What the properties make of a record."""
    promised = [each for each in properties if each.promised(record)]
    breaches: dict[str, Breach] = {}
    for each in promised:
        breach = each.look(record, bounds)
        if breach is not None:
            breaches[each.name] = breach
    return Outcome(
        breaches,
        frozenset(each.name for each in promised),
        record.taken,
        frozenset(row.state for row in record.rows),
        len(record.rows),
        record.end / 1e6,
        tuple(step for step in record.steps if not step.refused) if breaches else (),
    )


def _recorded(before: Sequence[Row], record: Record, outcome: Outcome) -> Recorded:
    """What was put out in a play, from the first power on."""
    broken = max(breach.at for breach in outcome.breaches.values())
    rows = [(row.at, row) for row in before] + [(record.found + row.at, row) for row in record.rows]
    scans = (PutOut(at, row.outputs, row.state, row.message) for at, row in rows)
    return recorded(scans, record.found + min(record.end, broken + AFTER))


class Stopped(Exception):
    """Raised inside a play of the search when a property is broken: how hypothesis learns of it."""


class Search:
    """One search on one stage. `tally` grows while it runs."""

    def __init__(
        self,
        stage: Stage,
        properties: Sequence[Property],
        bounds: Bounds | None = None,
        told: Callable[[Tally], None] | None = None,
        patience_s: float = PATIENCE_S,
    ) -> None:
        self.stage = stage
        self.properties = tuple(properties)
        self.bounds = dict(bounds or {})
        self.tally = Tally()
        self.told = told or (lambda _tally: None)
        self.patience_s = patience_s
        self.cut_short = False
        """Whether the time was up before every case was played."""

    def outcome(self, case: Case, *, keep: bool = False) -> Outcome:
        """Play one case and look at it. `keep` what a controller that is none of ours put out, where it broke
        something: it is long, and of a hundred plays only one is shown."""

        def work(world: World) -> Outcome:
            record = play(world, case)
            seen = judged(record, self.properties, self.bounds)
            if not (keep and self.stage.bare and seen.breaches):
                return seen
            return replace(seen, recorded=_recorded(self.stage.before, record, seen))

        try:
            found: Outcome = self.stage.in_branch(work, self.patience_s)
        except BranchFailed as failure:
            found = Outcome({NO_ANSWER: Breach(0, str(failure))})
        return found

    def run(self, focus: Focus, examples: int, number: int, until: float | None = None) -> Found | None:
        """Search with so many cases, or until this wall time [s, as time.monotonic]; the first find, made short.

        `number` is the seed.
        """
        hunt = _Hunt(self, number, until)
        drawn = given(cases(self.stage.site, focus))(hunt.look)
        kept = settings(
            max_examples=examples,
            deadline=None,
            database=None,
            derandomize=False,
            report_multiple_bugs=False,
            phases=(Phase.generate, Phase.shrink),
            suppress_health_check=list(HealthCheck),
            verbosity=Verbosity.quiet,
        )
        try:
            seed(number)(kept(drawn))()
        except Stopped:
            drawn_short = hunt.found()
            made = self._shortened(drawn_short.property, drawn_short.case, hunt.seen(drawn_short.case))
            return replace(
                made, seed=number, examples=drawn_short.examples, shrinks=drawn_short.shrinks + made.shrinks
            )
        return None

    def play_all(self, cases: Iterable[Case], until: float | None = None) -> list[Found]:
        """Play these cases in their order; the first one that breaks each property, made shorter."""
        found: dict[str, Found] = {}
        for case in cases:
            if until is not None and time.monotonic() > until:
                self.cut_short = True
                break
            outcome = self.outcome(case)
            self.tally.add(outcome)
            self.told(self.tally)
            for name in sorted(set(outcome.breaches) - set(found)):
                found[name] = self._shortened(name, case, outcome)
            if NO_ANSWER in found:
                break
        return list(found.values())

    def _shortened(self, name: str, case: Case, outcome: Outcome) -> Found:
        """The same without what comes after the breach, and without whatever else it doesn't need."""
        seen = {case: outcome}
        until = worked_s(os.getpid()) + SHRINK_S

        def breaks(smaller: Case) -> bool:
            if len(seen) > SHRINKS or worked_s(os.getpid()) > until:
                return False
            seen[smaller] = self.outcome(smaller)
            self.told(self.tally)
            return name in seen[smaller].breaches

        needed = _until(case, outcome, outcome.breaches[name].at)
        start = needed if needed != case and breaks(needed) else case
        short, tried = shorter(start, breaks)
        last = self._recorded_once(name, short, seen[short])
        return Found(name, short, last.breaches[name], 0, self.tally.examples, tried, last.done, last.recorded)

    def _recorded_once(self, name: str, case: Case, last: Outcome) -> Outcome:
        """The play that is shown, with what a stranger put out; as it was where it doesn't break the same again."""
        if not self.stage.bare or name == NO_ANSWER:
            return last
        kept = self.outcome(case, keep=True)
        return kept if name in kept.breaches else last


def _until(case: Case, outcome: Outcome, at: int) -> Case:
    """A case without the steps that come after an instant [µs]; with all of them where one was not carried out."""
    before = len(case.sheet) + len(case.faults)
    if len(outcome.done) != before + len(case.steps):
        return case
    came = sum(done.at <= at for done in outcome.done[before:])
    return replace(case, steps=case.steps[:came])


class _Hunt:
    """One run of a search: what has been broken, and by which case last."""

    def __init__(self, search: Search, number: int, until: float | None) -> None:
        self.search = search
        self.number = number
        self.until = until
        self.broken: dict[Case, tuple[Breach, Outcome]] = {}
        self.name = ""
        self.best: Case | None = None
        self.found_after = 0
        self.shrinks = 0
        self.give_up = 0.0

    def look(self, case: Case) -> None:
        """Play a case; raises Stopped, from this one place, if it breaks what is hunted."""
        if self._breaks(case):
            self.best = case
            raise Stopped

    def _breaks(self, case: Case) -> bool:
        if case in self.broken:
            return True
        if not self.name and self.until is not None and time.monotonic() > self.until:
            self.search.cut_short = True
        if self.search.cut_short or (self.name and (self.shrinks >= SHRINKS or worked_s(os.getpid()) > self.give_up)):
            return False
        outcome = self.search.outcome(case)
        if self.name:
            self.shrinks += 1
        else:
            self.search.tally.add(outcome)
        self.search.told(self.search.tally)
        return self._heed(case, outcome)

    def _heed(self, case: Case, outcome: Outcome) -> bool:
        if outcome.breaches and not self.name:
            self.name = min(outcome.breaches, key=lambda name: outcome.breaches[name].at)
            self.found_after = self.search.tally.examples
            self.give_up = worked_s(os.getpid()) + SHRINK_S
        breach = outcome.breaches.get(self.name)
        if breach is not None:
            self.broken[case] = breach, outcome
        return breach is not None

    def seen(self, case: Case) -> Outcome:
        """What came of a case that broke what is hunted."""
        return self.broken[case][1]

    def found(self) -> Found:
        """What was found in the end."""
        assert self.best is not None
        breach, outcome = self.broken[self.best]
        return Found(self.name, self.best, breach, self.number, self.found_after, self.shrinks, outcome.done)


def replayed(stage: Stage, case: Case, properties: Sequence[Property], bounds: Bounds | None = None) -> Outcome:
    """One case once more."""
    return Search(stage, properties, bounds).outcome(case)
