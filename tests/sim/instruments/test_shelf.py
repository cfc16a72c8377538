"""Every instrument of the shelf: tells of itself, is put in place, read and lifted, and leaves no trace."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from sim.errors import Refused
from sim.instruments.instrument import Function, Instrument
from sim.instruments.shelf import SHELF
from sim.instruments.toolbag import Toolbag
from sim.wiring.elements import Resistor
from sim.wiring.netlist import WiringError

MADE = tuple(new() for new in SHELF)
CASES = [(instrument.name, function.name) for instrument in MADE for function in instrument.functions]


@pytest.fixture(scope="module")
def shared(make_bench: Callable[..., Any]) -> Any:
    """One bench for all: what one test leaves behind would be seen by the next."""
    return make_bench()


DEAD_PLACES = {("shorting lead", "join"): ("yard light, plus", "yard light, minus")}
"""What may only be put on a dead circuit: across the mains it trips the breaker, as it should, and that stays."""


def where(bag: Toolbag, instrument: Instrument, function: Function) -> tuple[str, str]:
    """The first places where this function can be put, as an instrument says or else as the bag lists them."""
    if (instrument.name, function.name) in DEAD_PLACES:
        return DEAD_PLACES[instrument.name, function.name]
    first = function.spots if function.at == "spot" else bag.places(function.at)
    second = function.spots if function.against == "spot" else bag.places(function.against)
    at = first[0] if function.at else ""
    against = next((name for name in second if name != at), "") if function.against else ""
    return at, against


def test_names_stand_once_and_everything_has_words() -> None:
    """Names are the identity; help is a sentence; a unit is a unit."""
    names = [instrument.name for instrument in MADE]
    assert len(names) == len(set(names)) > 0
    for instrument in MADE:
        functions = [function.name for function in instrument.functions]
        assert len(functions) == len(set(functions)) > 0
        for text in (instrument.help, *(function.help for function in instrument.functions)):
            assert text[0].isupper() or text[0] == "'"
            assert text.endswith(".")
        for function in instrument.functions:
            assert function.takes_s >= 0.0
            assert function.settles_s >= 0.0
            assert (function.at == "spot") == bool(function.spots) or function.against == "spot"


@pytest.mark.parametrize(("instrument", "function"), CASES)
def test_placed_read_and_lifted_leaves_no_trace(shared: Any, instrument: str, function: str) -> None:
    """Lifting brings both nets back bit for bit; the reading is told with its number, unit and places.

    What can't be had on a shut gate at rest is refused in words.
    """
    bag, world = shared.bag, shared.world
    held = bag.instruments[instrument]
    asked = next(each for each in held.functions if each.name == function)
    at, against = where(bag, held, asked)
    if asked.at not in ("", "spot") and not bag.places(asked.at):
        pytest.skip(f"the bench has no {asked.at}")
    world.feel_motors()
    world.cabinet.settle()
    before = world.cabinet.wiring()
    began, told = int(world.now), len(world.events)
    answer = shared.place(instrument, function, at, against)
    if answer.startswith("not done: "):
        assert held.group != "electrical", "a meter can be put on any terminal"
        assert instrument not in bag.placed
        assert len(answer.split()) > 5, f"refused without a reason: {answer}"
        return
    assert bag.placed[instrument].since - began == pytest.approx(asked.takes_s * 1e6, abs=1e4)
    answer = shared.do("read instrument", instrument=instrument)
    if answer.startswith("not done: "):
        assert held.group != "electrical"
        shared.do("lift instrument", instrument=instrument)
        assert world.cabinet.wiring() == before
        return
    event = next(e for e in world.events[told:] if e.kind == "reading")
    assert (event.data["instrument"], event.data["function"]) == (instrument, function)
    assert (event.data["red"], event.data["black"]) == (at, against)
    assert str(event.data["shown"]) in answer
    assert event.data["unit"] == asked.unit or math.isnan(float(event.data["value"]))
    shared.do("lift instrument", instrument=instrument)
    world.cabinet.settle()
    assert world.cabinet.wiring() == before
    assert instrument not in bag.placed


def test_same_seed_same_readings(make_bench: Callable[..., Any]) -> None:
    """Two benches with one seed show the same in every function; another seed shows something else somewhere."""

    def run(seed: int) -> list[str]:
        bench = make_bench(seed=seed)
        return [
            bench.measure(instrument.name, function.name, *where(bench.bag, instrument, function))
            for instrument in MADE
            for function in instrument.functions
        ]

    assert run(5) == run(5)
    assert run(5) != run(6)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (("multimetre", "volts dc", "a", "b"), "did you mean 'multimeter'"),
        (("multimeter", "volts d", "a", "b"), "did you mean 'volts dc'"),
        (("multimeter", "volts dc", "board suply, plus", "b"), "did you mean 'board supply, plus'"),
        (("multimeter", "volts dc", "board supply, plus", ""), "say which"),
        (("multimeter", "volts dc", "board supply, plus", "board supply, plus"), "same terminal"),
        (("two-pole tester", "prove", "board supply, plus", ""), "nothing in particular"),
    ],
)
def test_refusals_name_the_nearest_right_name(shared: Any, given: tuple[str, str, str, str], says: str) -> None:
    """And nothing happens, no time passes."""
    world = shared.world
    began, told = world.now, len(world.events)
    with pytest.raises(Refused, match=says):
        shared.measure(*given)
    assert (world.now, len(world.events)) == (began, told)


def test_what_is_nowhere_is_neither_read_nor_lifted(bench: Any) -> None:
    """In words; and nothing can be repeated before something was read."""
    for act in ("read instrument", "lift instrument"):
        with pytest.raises(Refused, match="not in place"):
            bench.do(act, instrument="multimeter")
    with pytest.raises(Refused, match="nothing was read yet"):
        bench.do("repeat this reading")


def test_a_reading_is_repeated_with_its_time(bench: Any) -> None:
    """Still in place it settles once more; lifted, it is placed, read and lifted again."""
    places = ("board supply, plus", "board supply, minus")
    bench.measure("multimeter", "volts dc", *places)
    began = bench.world.now
    first = bench.do("repeat this reading")
    assert bench.world.now - began == 18_000_000
    bench.place("multimeter", "volts dc", *places)
    bench.do("read instrument", instrument="multimeter")
    began = bench.world.now
    again = bench.do("repeat this reading")
    assert bench.world.now - began == 3_000_000
    assert first.split(": ")[0] == again.split(": ")[0]


def test_what_the_net_has_no_term_for_is_refused_and_leaves_no_trace(
    bench: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An instrument that fails half way is taken off again: added elements, moved ends and all."""
    cabinet = bench.world.cabinet
    before = cabinet.wiring()

    def half_way(world: object, use: object) -> None:
        cabinet.netlist.add(Resistor("half a lead", "board supply.plus", "board.common", 1e6))
        cabinet.netlist.change("warning lamp, plus core", ohm=99.0)
        raise WiringError("nothing comes to rest")

    monkeypatch.setattr(bench.bag.instruments["low-ohm tester"], "place", half_way)
    said = bench.place("low-ohm tester", "resistance", "board supply, plus", "board supply, minus")
    assert said == "not done: this can't be measured in the model: nothing comes to rest"
    assert cabinet.wiring() == before
    assert bench.bag.placed == {}


def test_all_electrical_instruments_may_be_in_place_at_once(bench: Any) -> None:
    """Each has elements of its own; lifted in any order the net is as before."""
    bench.do("isolate")
    bench.do("remove battery link")
    bench.do("discharge")
    before = bench.world.cabinet.wiring()
    electrical = [each for each in MADE if each.group == "electrical" and each.functions[0].against == "terminal"]
    assert len(electrical) >= 6
    for instrument in electrical:
        function = instrument.functions[-1] if instrument.name == "earth tester" else instrument.functions[0]
        bench.place(instrument.name, function.name, "yard light, plus", "yard light, minus")
    assert len(bench.bag.placed) == len(electrical)
    for instrument in electrical:
        bench.do("lift instrument", instrument=instrument.name)
    assert bench.world.cabinet.wiring() == before
