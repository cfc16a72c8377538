"""Simulated trainees at work: each plays a job through the session as a person would, and is graded like one.

What happens before the cause is named is their own. The right repair, its proof and the handover are those of the
job's solution, so that marks differ by what the trainee did and by nothing else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from typing import Final

from sim.bench.fault_readings import CYCLE
from sim.bench.fault_seen import CYCLED, EYES, LIVE, RADIO, SHEET, TRIPPED, TRIPS
from sim.bench.fault_sweep import UNPLUGGED, Column
from sim.faults.catalogue import FAULTS
from sim.faults.entry import Step as Act
from sim.faults.entry import step as act
from sim.units import SECOND, Us
from sim.world.actions import Action
from tests.trainer.calibration.searching import SEARCHES, Search
from tests.trainer.played import attempt
from trainer.diagnosis.keeping import Tables
from trainer.diagnosis.observing import Found
from trainer.diagnosis.priors import NOTHING
from trainer.diagnosis.reckoner import Reckoner, act_of
from trainer.diagnosis.site_table import BOTH
from trainer.diagnosis.solvable import allowed_in, is_allowed
from trainer.grading import Grade
from trainer.job import Resolved, reference_solution
from trainer.job.script import Step
from trainer.session.play import Hands
from trainer.session.session import Session

ENOUGH: Final = 0.8
"""Belief at which a cause is named."""

MOST_MEASUREMENTS: Final = 20
MOST_WRONG: Final = 3
"""Wrong repairs after which somebody gives up."""

MOST_CAUSES: Final = 6
"""Causes whose own measurement is taken, or which are named, before somebody gives up."""

MOST_PARTS: Final = 8
"""Repairs that somebody makes who only makes repairs."""

LOOKING: Final = frozenset(
    {"measure", "place instrument", "read instrument", "lift instrument", "read status and log", "note", "predict"}
)
NAMING: Final = frozenset({"conclude", "take back conclusion"})
PROTECTING: Final = frozenset(
    {"cordon", "remove cordon", "isolate", "restore", "remove battery link", "fit battery link", "prove dead"}
    | {"discharge", "prove tester", "test dead", "post second person", "send second person away"}
)
PROVING: Final = frozenset({"cover beam", "uncover beam", "press edge", "release edge", "unplug", "plug in"})


@dataclass
class Trainee:
    """Somebody in one attempt."""

    session: Session
    resolved: Resolved
    isolated: bool = False
    unplugged: list[str] = field(default_factory=list)
    tried: set[Column] = field(default_factory=set)

    # -- hands

    def do(self, kind: str, **given: object) -> bool:
        """One act; whether it was taken. What makes no sense here is left out, as a person would leave it out."""
        if self.session.world.ended:
            return False
        return self.session.do(kind, given).accepted

    def do_all(self, acts: Iterable[Act]) -> None:
        """Acts one after the other."""
        for each in acts:
            self.do(each.kind, **each.arguments)

    def isolate(self) -> None:
        """Both sources off, and proved dead."""
        if not self.isolated:
            self.do("isolate")
            self.do("remove battery link")
            self.session.run_for(Us(30 * SECOND))
            self.do("prove dead")
            self.isolated = True

    def restore(self) -> None:
        """All plugs in, both sources on."""
        for plug in self.unplugged:
            self.do("plug in", guard=plug)
        if self.isolated:
            self.do("fit battery link")
            self.do("restore")
            self.session.run_for(Us(10 * SECOND))
        self.unplugged, self.isolated = [], False

    def stand(self, state: str) -> None:
        """The gate in the state that a measurement wants."""
        if state in (LIVE, CYCLED):
            self.restore()
            return
        self.isolate()
        if state == UNPLUGGED and not self.unplugged:
            plugs = [name for name in self.session.world.cabinet.plugs if self.do("unplug", guard=name)]
            self.unplugged = plugs

    def measure(self, column: Column) -> None:
        """Take one measurement of a table."""
        state, instrument, function, at, against = column
        self.tried.add(column)
        self.stand(state)
        given = {"instrument": instrument, "function": function, "at": at, "against": against}
        if instrument != EYES and state != CYCLED:
            self.do("measure", **given)
        elif instrument != EYES:
            if self.do("place instrument", **given):
                self.do_all(CYCLE)
                self.do("read instrument", instrument=instrument)
                self.do("lift instrument", instrument=instrument)
        elif function == TRIPPED:
            self.do_all((act(TRIPS[at][0], guard=at), act("wait", seconds=1.0), act(TRIPS[at][1], guard=at)))
        elif function == RADIO:
            self.do("press transmitter", transmitter=at)
            self.do_all((act("wait", seconds=1.5), act("release transmitter", transmitter=at)))
        elif function == SHEET:
            self.do(*act_of(column)[:1])
        else:
            self.do_all(CYCLE)

    def repair(self, cause: str) -> None:
        """What the catalogue says mends a cause, with both sources off, and a try afterwards."""
        self.isolate()
        self.do_all(FAULTS[cause].repair)
        self.restore()
        self.do_all(CYCLE)

    def shows(self, cause: str) -> bool:
        """Whether a cause's own measurement, by the catalogue, reads otherwise than on a sound gate."""
        self.restore()
        world, reference = self.session.world, FAULTS[cause].reference
        for each in reference.steps[:-1]:
            self.do(each.kind, **each.arguments)
        before = len(world.events)
        last = reference.steps[-1]
        taken = self.do(last.kind, **last.arguments)
        told = [event for event in world.events[before:] if event.kind in ("reading", "force")]
        text = self.session.last_reply or (told[-1].text if told else "")
        figure = told[-1].data.get(reference.figure, told[-1].data.get("peak_n")) if told else None
        self.put_away()
        return taken and not reference.healthy.holds(None if figure is None else float(figure), text)

    def put_away(self) -> None:
        """Everything in and on again that was taken out for a measurement."""
        self.session.release_all()
        for instrument in list(getattr(self.session.world.bag, "placed", {})):
            self.do("lift instrument", instrument=instrument)
        self.unplugged, self.isolated = list(self.session.world.cabinet.unplugged), True
        for leaf in self.resolved.site.leaves.fitted:
            self.do("engage drive", leaf=leaf)
        self.restore()

    # -- what there is to know

    @property
    def hidden(self) -> tuple[str, ...]:
        """What the gate was found with: the customer will say whether it is gone."""
        return tuple(each.fault for each in self.resolved.arrival.faults)

    def is_mended(self) -> bool:
        """Whether the complaint is gone."""
        mended = {name for _, name in self.session.world.standing().mended}
        return mended >= set(self.hidden)


def solution_steps(resolved: Resolved, without: frozenset[str], until_named: frozenset[str]) -> tuple[Step, ...]:
    """The job's solution without some acts; `until_named`: those left out before the last cause is named."""
    solution = reference_solution(resolved)
    assert solution is not None
    steps = tuple(solution.steps)
    kinds = [each.act.kind if isinstance(each.act, Action) else "" for each in steps]
    named = max((n for n, kind in enumerate(kinds) if kind in NAMING), default=-1)
    return tuple(
        each
        for n, (each, kind) in enumerate(zip(steps, kinds, strict=True))
        if kind not in without and not (n <= named and kind in until_named)
    )


def by_the_book(trainee: Trainee, steps: Iterable[Step]) -> None:
    """Steps of the solution, what makes no sense any more left out."""
    hands = Hands(trainee.session)
    for each in steps:
        if trainee.session.world.ended:
            return
        hands.wait(each.moment)
        if isinstance(each.act, Action):
            trainee.do(each.act.kind, **each.act.arguments)


def search(trainee: Trainee, engine: Reckoner, chosen: Search, dice: Random) -> None:
    """Measure until a cause is believed, take its own measurement, name it and mend it if that shows it; go on until
    the complaint is gone or nothing is left to try."""
    trainee.do("cordon")
    out: set[str] = set()
    wanted = set(trainee.hidden) or {NOTHING}
    wrong = measured = 0
    while wanted and wrong < MOST_WRONG and len(out) < MOST_CAUSES:
        cause, belief = believed(engine, trainee, out)
        column = None
        if belief < ENOUGH and measured < MOST_MEASUREMENTS:
            column = chosen(engine, trainee.session.history(), frozenset(trainee.tried), dice)
        if column is not None:
            trainee.measure(column)
            measured += 1
            continue
        out.add(cause)
        if cause != NOTHING and not trainee.shows(cause):
            continue
        trainee.do("conclude", cause=cause, sure=max(1, round(100 * belief)))
        if cause in wanted:
            wanted.discard(cause)
            continue
        wrong += 1
        if cause != NOTHING:
            trainee.repair(cause)
        trainee.do("take back conclusion", cause=cause)
    trainee.restore()


def believed(engine: Reckoner, trainee: Trainee, named: set[str]) -> tuple[str, float]:
    """The likeliest cause that wasn't named yet, and how much of what is left it has; a pair counts for each."""
    told: dict[str, float] = {}
    for name, share in engine.candidates(trainee.session.history()).items():
        for part in name.split(BOTH):
            told[part] = told.get(part, 0.0) + share
    left = {name: share for name, share in told.items() if name not in named}
    best = max(left, key=lambda name: left[name])
    return best, min(1.0, left[best])


def searching(trainee: Trainee, engine: Reckoner, chosen: Search, dice: Random) -> None:
    """Find it in one's own way, then work by the book."""
    search(trainee, engine, chosen, dice)
    by_the_book(trainee, solution_steps(trainee.resolved, NAMING, LOOKING))


def replace_everything(trainee: Trainee, engine: Reckoner) -> None:
    """One repair after the other, the usual cause first, until the complaint is gone; nothing is measured."""
    trainee.do("cordon")
    usual = engine.candidates(trainee.session.history())
    for cause in sorted((name for name in usual if name in FAULTS), key=lambda name: (-usual[name], name))[
        :MOST_PARTS
    ]:
        if trainee.hidden and trainee.is_mended():
            break
        trainee.repair(cause)
        if cause in trainee.hidden:
            trainee.do("conclude", cause=cause, sure=60)
    by_the_book(trainee, solution_steps(trainee.resolved, NAMING, LOOKING))


def careless(trainee: Trainee) -> None:
    """Knows the cause, and works on a live gate with nothing round it and nothing proved."""
    by_the_book(trainee, solution_steps(trainee.resolved, PROTECTING | PROVING, frozenset()))


def reckless(trainee: Trainee) -> None:
    """Careless, and a link across each guard so that it goes."""
    for guard in ("outer beam", "inner beam", "active edge", "inactive edge"):
        trainee.do("bridge", guard=guard)
    careless(trainee)


def engine_of(resolved: Resolved, tables: Tables) -> Reckoner:
    """The diagnosis engine for a job, as who gives hints has it."""
    table = tables.get(resolved.job.base_site)
    may, found = allowed_in(resolved.job), resolved.arrival
    return Reckoner(
        table.with_pairs() if len(found.faults) > 1 else table,
        Found.of(resolved.site, found.mains == "on", found.battery_linked),
        lambda column: is_allowed(column, may),
    )


def trainees(tables: Tables, seed: int) -> dict[str, Callable[[Trainee], None]]:
    """Who there is, from the one an instructor would put first to the one put last."""

    def finding(chosen: Search) -> Callable[[Trainee], None]:
        return lambda one: searching(one, engine_of(one.resolved, tables), chosen, Random(seed))

    return {
        "the expert": lambda one: by_the_book(one, solution_steps(one.resolved, frozenset(), frozenset())),
        **{name: finding(chosen) for name, chosen in SEARCHES.items()},
        "replaces everything": lambda one: replace_everything(one, engine_of(one.resolved, tables)),
        "careless": careless,
        "reckless": reckless,
    }


def graded(resolved: Resolved, folder: Path, plays: Callable[[Trainee], None]) -> Grade:
    """The grade of one trainee in one job, who leaves when there is nothing more to do."""
    return attempt(resolved, folder, lambda session: plays(Trainee(session, resolved)))
