"""What a proof came to: counterexamples, what was looked at how often, what was not reached, what isn't promised."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, replace
from typing import Any

from sim.bench.proof.beyond import Beyond, look_beyond
from sim.bench.proof.case import Case
from sim.bench.proof.crew import Progress, search_all
from sim.bench.proof.order import Order
from sim.bench.proof.record import Done
from sim.bench.proof.search import Found
from sim.bench.proof.telling import told
from sim.controller.machine import ROWS, State
from sim.site import site_digest
from sim.world.played_back import Recorded


@dataclass(frozen=True, slots=True)
class Counterexample:
    """One property that was broken, and how."""

    id: str
    property: str
    promise: str
    why: str
    at_s: float
    """When it was broken, since the gate was found [s]."""
    said: str
    told: tuple[tuple[str, str], ...]
    """(time, sentence), the shortest that the search could make of it."""
    case: Case
    done: tuple[Done, ...]
    """What is done in it when, as data."""
    recorded: Recorded | None
    """What a controller that is none of ours put out; None for ours."""
    seed: int
    examples: int
    shrinks: int


@dataclass(frozen=True, slots=True)
class Report:
    """All of it."""

    site: str
    site_digest: str
    controller: str
    controller_digest: str
    """SHA-256 of a stranger's file; empty for the reference controller."""
    seed: int
    counterexamples: tuple[Counterexample, ...]
    looked: Mapping[str, int]
    """Property: plays in which it was promised and looked at, held or broke."""
    not_here: Mapping[str, tuple[str, ...]]
    """Property: what this site lacks for it."""
    examples: int
    scans: int
    simulated_s: float
    wall_s: float
    drawn: Mapping[str, int]
    """Property, or everything: cases drawn with its focus before the time was up."""
    unfinished: tuple[str, ...]
    """Searches that were cut short by the time."""
    unready: str
    states: tuple[str, ...]
    """States of the reference controller that were reached; for a stranger, what its panel said."""
    states_missed: tuple[str, ...]
    ways: tuple[tuple[str, str], ...]
    """(trigger, state) of each way of the reference controller's table that was taken."""
    ways_missed: tuple[tuple[str, str], ...]
    narrow: bool = False
    """Whether only some properties were asked for, so that what was never reached says little."""
    beyond: Beyond | None = None

    @property
    def holds(self) -> bool:
        """Whether nothing was broken, and the gate could be made ready."""
        return not self.counterexamples and not self.unready

    def how(self, name: str) -> str:
        """How a property came out, in a few words."""
        lacks = self.not_here.get(name, ())
        if lacks:
            return f"not here: the site has no {', no '.join(lacks)}"
        if any(each.property == name for each in self.counterexamples):
            return "BROKEN"
        return "held" if self.looked[name] else "never looked at"

    def as_base_types(self) -> dict[str, Any]:
        """For JSON."""
        told = asdict(self)
        told["counterexamples"] = [
            {**asdict(replace(each, recorded=None)), "case": each.case.as_base_types()}
            for each in self.counterexamples
        ]
        for each in told["counterexamples"]:
            del each["recorded"]  # it stands in the job's file
        return told


def prove(
    order: Order,
    heard: Callable[[Progress], None] | None = None,
    heard_beyond: Callable[[str], None] | None = None,
    *,
    beyond: bool = True,
) -> Report:
    """Search, gather, and look beyond what is promised. Raises DataError for an unknown property."""
    wanted = order.wanted
    gathered = search_all(order, heard)
    ours = order.source is None
    found = sorted(gathered.found, key=lambda each: [p.name for p in wanted].index(each.property))
    outside = None
    if ours and beyond and not gathered.unready and not order.properties:
        outside = look_beyond(order.stage(), wanted, heard_beyond)
    every = {(trigger, source.value) for trigger, sources, _ in ROWS for source in sources}
    reached = {state for _, state in gathered.tally.taken} if ours else gathered.tally.states
    return Report(
        site=order.site.name,
        site_digest=site_digest(order.site),
        controller=order.source.name if order.source else "reference controller",
        controller_digest=order.source.digest if order.source else "",
        seed=order.seed,
        counterexamples=tuple(_told(order, each) for each in found),
        looked={each.name: gathered.tally.looked.get(each.name, 0) for each in wanted},
        not_here={each.name: lacks for each in wanted if (lacks := order.missing(each))},
        examples=gathered.tally.examples,
        scans=gathered.tally.scans,
        simulated_s=gathered.tally.seconds,
        wall_s=gathered.seconds,
        drawn=gathered.drawn,
        unfinished=tuple(dict.fromkeys(gathered.unfinished)),
        unready=gathered.unready,
        states=tuple(sorted(reached)),
        states_missed=tuple(s.value for s in State if s.value not in reached) if ours else (),
        ways=tuple(sorted(gathered.tally.taken)) if ours else (),
        ways_missed=tuple(sorted(every - gathered.tally.taken)) if ours else (),
        narrow=bool(order.properties),
        beyond=outside,
    )


def _told(order: Order, found: Found) -> Counterexample:
    entry = next(each for each in order.wanted if each.name == found.property)
    return Counterexample(
        id=found.case.id_of(found.property),
        property=entry.name,
        promise=entry.promise,
        why=entry.why,
        at_s=found.breach.at / 1e6,
        said=found.breach.said,
        told=tuple(told(found.done)),
        done=found.done,
        recorded=found.recorded,
        case=found.case,
        seed=found.seed,
        examples=found.examples,
        shrinks=found.shrinks,
    )
