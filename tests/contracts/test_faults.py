"""Every fault of the catalogue, on the bench: what it says of itself, that it comes and goes without a trace, that
the named measurement tells it, that its repair mends it, and that it shows where nobody set it.

The tests are made from the entries: a fault that is added is tested that day. Each plays in a branch of one learned
bench (`sim.bench.branching`), so that no fault sees what another left behind.
"""

from __future__ import annotations

import hashlib
import json
import math
import re
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any, Final, get_args

import pytest

from sim.bench.branching import Branch, branched
from sim.bench.fault_readings import CYCLE, Outcome, figure, gate, lies_in, played, put_back
from sim.errors import DataError, Refused
from sim.faults.catalogue import FAULTS, named
from sim.faults.edit import fact as site_fact
from sim.faults.entry import Family, Fault, Step
from sim.faults.facts import read
from sim.site import load_site, with_changes
from sim.units import SECOND
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World

BENCH: Final = load_site(Path(__file__).parents[2] / "scenarios" / "sites" / "reference_bench.yaml")

AS_GOOD_OHM: Final = 0.005
"""A repaired conductor may have this much more than it was built with: a splice [Ω]."""

every_fault = pytest.mark.parametrize("fault", [pytest.param(fault, id=name) for name, fault in FAULTS.items()])


@cache
def _bench(variant: str) -> World:
    return gate(BENCH, json.loads(variant))


def bench(fault: Fault) -> World:
    """The learned bench as this fault needs it, shut and at rest; only ever gone on with in a branch."""
    return _bench(json.dumps(dict(fault.variant), sort_keys=True))


def with_fault(fault: Fault, work: Callable[[World], Any], share: float = 1.0) -> Callable[[], Any]:
    """Work for a branch: the bench has the fault, a second passes, then the work."""

    world = bench(fault)  # built here, once for all branches

    def begin() -> Any:
        world.faults.bring(fault.name, share)
        world.run_to(world.now + SECOND)
        return work(world)

    return begin


ROWS: Final = {
    "supply and wiring": 16,
    "motor and drive": 17,
    "mechanics": 13,
    "guards": 14,
    "access and radio": 14,
    "settings": 13,
    "surroundings": 9,
    "commissioning": 10,
}
"""How many each family has. The trade's list has 94 and 10 errors of commissioning; two of it are two faults each
here (sun and mirror light, a memory that is full and one that was cleared), since each changes another fact."""


def test_no_fault_is_missing() -> None:
    """Each family has all of its own, each under a name of its own."""
    families = [fault.family for fault in FAULTS.values()]
    assert {family: families.count(family) for family in get_args(Family)} == ROWS
    assert sum(ROWS.values()) == 94 + 10 + 2


# -- what it says of itself --------------------------------------------------------------------------------


@every_fault
def test_it_tells_all_that_a_technician_asks(fault: Fault) -> None:
    """Every word of an entry is there, in words: no letter-and-number names, no empty trap."""
    words = {
        "customer": fault.customer,
        "seen": fault.seen,
        "fact": fault.fact,
        "verification": fault.verification,
        "trap": fault.trap,
        "source": fault.source,
        **{f"wrong repair {index}": wrong.hides for index, wrong in enumerate(fault.wrong)},
    }
    assert not [what for what, text in words.items() if len(text.split()) < 2]
    assert fault.wrong, "something is always tempting"
    assert fault.family in get_args(Family)
    assert fault.name == fault.name.strip().lower() or fault.name[0].islower()
    assert not re.search(r"\b[A-Z]\d\d\b", " ".join((fault.name, *words.values())))
    assert fault.edits
    assert len({key for edit in fault.edits for key in edit.facts()}) == sum(len(e.facts()) for e in fault.edits)


@every_fault
def test_its_steps_are_ordinary_actions(fault: Fault) -> None:
    """Measurement, repair, wrong repairs and what it shows under are acts of the catalogue, arguments and all."""
    played_as = [
        *fault.reference.steps,
        *fault.repair,
        *fault.shows,
        *(s for wrong in fault.wrong for s in wrong.steps),
    ]
    for step in played_as:
        checked(step.kind, step.arguments)
    assert fault.reference.steps
    assert fault.repair


@every_fault
def test_its_bands_have_no_reading_in_common(fault: Fault) -> None:
    """A reading can't be healthy and faulty at once."""
    healthy, faulty = fault.reference.healthy, fault.reference.faulty
    if healthy.words or faulty.words:
        assert not set(healthy.words) & set(faulty.words)
        return
    low, high = sorted((healthy, faulty), key=lambda band: -math.inf if band.least is None else band.least)
    assert low.most is not None
    assert high.least is not None
    assert low.most < high.least


# -- coming and going --------------------------------------------------------------------------------------


def _all_of(world: World) -> dict[str, object]:
    """Everything that a fault can reach."""
    world.rewired()
    return {
        "digest": world.digest(),
        "wiring": world.cabinet.state(),
        "mechanics": world.plant.physical(),
        "site": world.site,
        "weather": world.weather,
        "sheet": dict(world.settings()),
        "panel": repr(world.controller.panel()),
        "counters": dict(world.counters),
    }


@every_fault
@pytest.mark.parametrize("share", [0.0, 0.37, 1.0], ids=["mild", "between", "grave"])
def test_it_changes_its_facts_and_is_taken_back_to_the_bit(fault: Fault, share: float) -> None:
    """Each fact that it names is another while it is there, and everything is as before when it is gone."""

    world = bench(fault)

    def work() -> tuple[list[str], list[str]]:
        before = _all_of(world)
        keys = [key for edit in fault.edits for key in edit.facts()]
        healthy = {key: read(world, key) for key in keys}
        undo = fault.apply(world, share)
        same = [str(key) for key in keys if key[0] in ("net", "site", "sheet") and read(world, key) == healthy[key]]
        undo()
        after = _all_of(world)
        return same, [what for what in before if before[what] != after[what]]

    same, left = branched(work)
    assert same == []
    assert left == []


def _others(fault: Fault) -> list[Fault]:
    """All that change other facts, from the next one of the catalogue on."""
    names = list(FAULTS)
    mine = {key for edit in fault.edits for key in edit.facts()}
    at = names.index(fault.name)
    others = [FAULTS[name] for name in names[at + 1 :] + names[:at]]
    return [other for other in others if not mine & {key for edit in other.edits for key in edit.facts()}]


@every_fault
def test_two_at_once_go_in_any_order(fault: Fault) -> None:
    """With the next fault that this bench can have, of another fact: whichever goes first, nothing is left."""
    world = bench(fault)

    def work() -> list[str]:
        before = _all_of(world)
        for other in _others(fault):
            with suppress(Refused):
                other.apply(world, 0.5)()
                break
        else:
            return ["no other fault fits"]
        differs = []
        for first in (fault, other):
            undos = {each.name: each.apply(world, 0.5) for each in (fault, other)}
            undos.pop(first.name)()
            next(iter(undos.values()))()
            after = _all_of(world)
            differs += [f"{what}, {first.name} first, {other.name}" for what in before if before[what] != after[what]]
        return differs

    assert branched(work) == []


@every_fault
def test_it_is_kept_in_words_and_comes_back_the_same(fault: Fault) -> None:
    """Name and share go through JSON; two worlds of one seed that are found with it are the same in everything."""
    name, share = json.loads(json.dumps([fault.name, 0.6]))
    assert named(name) is fault
    site = with_changes(BENCH, fault.variant) if fault.variant else BENCH

    def found() -> str:
        world = World(site, seed=3, arrival=Arrival(faults=((name, share),)))
        assert world.faults.present == ((name, share),)
        world.run_to(world.now + 2 * SECOND)
        return world.digest()

    one, other = Branch(found), Branch(found)
    assert one.result() == other.result()


# -- measured, mended, shown -------------------------------------------------------------------------------


@cache
def _healthy(variant: str, steps: tuple[tuple[str, tuple[Any, ...]], ...]) -> Outcome:
    """The measurement on the sound bench; several faults may be told by the same one."""

    world = _bench(variant)

    def work() -> Outcome:
        world.run_to(world.now + SECOND)
        return played(world, [Step(kind, dict(arguments)) for kind, arguments in steps])

    return branched(work)


def healthy(fault: Fault) -> Outcome:
    """The reference measurement without the fault."""
    steps = tuple((step.kind, tuple(step.arguments.items())) for step in fault.reference.steps)
    return _healthy(json.dumps(dict(fault.variant), sort_keys=True), steps)


@cache
def _faulty(name: str) -> Outcome:
    fault = FAULTS[name]
    outcome: Outcome = branched(with_fault(fault, lambda world: played(world, fault.reference.steps)))
    return outcome


def _read(outcome: Outcome, fault: Fault) -> str:
    return f"{figure(outcome, fault.reference):g} {outcome.unit}, '{outcome.text}'; refused: '{outcome.refused}'"


@every_fault
def test_the_reference_measurement_tells_it(fault: Fault) -> None:
    """On the bench it reads in the healthy band without the fault, and in the faulty band with it at its gravest."""
    sound, broken = healthy(fault), _faulty(fault.name)
    assert lies_in(sound, fault.reference, fault.reference.healthy), f"without: {_read(sound, fault)}"
    assert lies_in(broken, fault.reference, fault.reference.faulty), f"with: {_read(broken, fault)}"


@every_fault
def test_measuring_it_is_no_unsafe_act(fault: Fault) -> None:
    """Nobody is endangered by the reference measurement itself, with the fault there or not."""
    assert healthy(fault).dangers == ()
    assert _faulty(fault.name).dangers == ()


@every_fault
def test_its_repair_mends_it(fault: Fault) -> None:
    """After the right repair its facts are as they were built, or as good, and the reference reads healthy."""

    def work(world: World) -> tuple[str, tuple[str, ...], list[str], tuple[tuple[str, float], ...], Outcome]:
        mended = played(world, fault.repair)
        put_back(world)
        keys = [key for edit in fault.edits for key in edit.facts()]
        wrong = [f"{key}: {read(world, key)!r}" for key in keys if not _as_good(world, fault, key)]
        return mended.refused, mended.dangers, wrong, world.faults.present, played(world, fault.reference.steps)

    refused, dangers, wrong, present, after = branched(with_fault(fault, work))
    assert refused == ""
    assert dangers == ()
    assert wrong == []
    assert present == ()
    assert lies_in(after, fault.reference, fault.reference.healthy), _read(after, fault)


def _as_good(world: World, fault: Fault, key: tuple[str, str, str]) -> bool:
    where, what, name = key
    now = read(world, key)
    if where == "site":
        return bool(now == site_fact(world.designed, what))
    if where == "sheet":
        return bool(now != _value_with(fault, key))
    if where != "net":
        return True
    if name == "is there":
        return now is None
    built = getattr(world.cabinet.built[what], name)
    return bool(now == built or (name == "ohm" and 0.0 <= (complex(now) - complex(built)).real <= AS_GOOD_OHM))


@cache
def _values_with(name: str) -> dict[tuple[str, str, str], object]:
    fault = FAULTS[name]
    keys = [key for edit in fault.edits for key in edit.facts() if key[0] == "sheet"]

    world = bench(fault)

    def work() -> dict[tuple[str, str, str], object]:
        fault.apply(world, 1.0)
        return {key: read(world, key) for key in keys}

    values: dict[tuple[str, str, str], object] = branched(work)
    return values


def _value_with(fault: Fault, key: tuple[str, str, str]) -> object:
    return _values_with(fault.name)[key]


def _signature(world: World, steps: tuple[Step, ...], named_nodes: frozenset[str]) -> dict[str, str]:
    """How the gate goes through some acts: movement and currents, what the controller says and logs, what is told,
    and volts of the nodes that no edit names."""
    first = len(world.plant.recording().time_us)
    began = len(world.events)
    answers = played(world, steps).answers
    panel = world.controller.panel()
    solved = world.cabinet.netlist.solution()
    nodes = sorted({terminal.node for terminal in world.cabinet.terminals.values() if terminal.net != "mains"})
    volts = {node: solved.volts(node, "board.common") for node in nodes if node not in named_nodes}
    others = {node: None if value is None else round(value, 4) for node, value in volts.items()}
    told = [(e.at, e.kind, e.text) for e in world.events[began:] if e.kind != "repair"]
    return {
        "movement": hashlib.blake2b(world.plant.rows_from(first).tobytes(), digest_size=8).hexdigest(),
        "answers": repr(answers),
        "told": hashlib.blake2b(repr(told).encode(), digest_size=8).hexdigest(),
        "controller": hashlib.blake2b(
            repr((panel.state, panel.message, panel.log)).encode(), digest_size=8
        ).hexdigest(),
        "other nodes": hashlib.blake2b(repr(others).encode(), digest_size=8).hexdigest(),
    }


def _nodes_of(world: World, fault: Fault) -> frozenset[str]:
    """The nodes that an edit's own elements end at."""
    nodes: set[str] = set()
    for edit in fault.edits:
        nodes |= {str(getattr(edit, end)) for end in ("a", "b") if hasattr(edit, end)}
        for where, what, _ in edit.facts():
            if where == "net" and what in world.cabinet.built:
                nodes |= {world.cabinet.built[what].a, world.cabinet.built[what].b}
    return frozenset(nodes)


@cache
def _sound_signature(variant: str, steps: tuple[tuple[str, tuple[Any, ...]], ...], nodes: frozenset[str]) -> Any:
    world = _bench(variant)

    def work() -> dict[str, str]:
        world.run_to(world.now + SECOND)
        return _signature(world, tuple(Step(kind, dict(arguments)) for kind, arguments in steps), nodes)

    return branched(work)


@pytest.mark.parametrize("fault", [pytest.param(f, id=f.name) for f in FAULTS.values() if f.operates])
def test_it_shows_where_nobody_set_it(fault: Fault) -> None:
    """A fault that can affect operation shows in movement, in the controller's words, or at another node."""
    steps, nodes = fault.shows or CYCLE, _nodes_of(bench(fault), fault)
    with_it = branched(with_fault(fault, lambda world: _signature(world, steps, nodes)))
    plain = tuple((step.kind, tuple(step.arguments.items())) for step in steps)
    without = _sound_signature(json.dumps(dict(fault.variant), sort_keys=True), plain, nodes)
    assert {what for what in without if without[what] != with_it[what]}


def test_an_unknown_name_gets_the_nearest_right_one() -> None:
    """A slip of the pen is answered with what was meant."""
    for name in FAULTS:
        with pytest.raises(DataError, match=re.escape(f"did you mean '{name}'")):
            named(name[:-1] + "~")
