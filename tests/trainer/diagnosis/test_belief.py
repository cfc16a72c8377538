"""What may be believed of the cause after what was done at a gate: real gates, real acts, a small table."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sim.bench.branching import Branch
from sim.bench.fault_readings import CYCLE, gate, played
from sim.bench.fault_seen import EYES, LIVE
from sim.faults.catalogue import FAULTS
from sim.faults.entry import step
from sim.units import Us
from sim.world.actions import CATALOGUE, checked
from sim.world.history import Entry, Event, History
from trainer.diagnosis.belief import mends
from trainer.diagnosis.hints import COSTS, SIDES
from trainer.diagnosis.observing import Found
from trainer.diagnosis.priors import NOTHING
from trainer.diagnosis.reckoner import Reckoner
from trainer.diagnosis.site_table import BOTH

OPENING, CLOSING = CYCLE[:5], CYCLE[5:]
ISOLATED = (step("isolate"), step("remove battery link"), step("wait", seconds=30.0))


@pytest.fixture(scope="module")
def engine(small, site) -> Reckoner:
    return Reckoner(small, Found.of(site, mains=True, battery_linked=True))


@pytest.fixture(scope="module")
def after(site) -> Callable[..., History]:
    """The history of some acts at the gate with a fault, each in a branch of its own."""
    world = gate(site)

    def lived(fault: str, *acts) -> History:
        def work() -> tuple[tuple, tuple, object, Us]:
            if fault:
                world.faults.bring(fault)
            world.visible_from_now()
            played(world, (step("wait", seconds=1.0), *acts), leaving_out=True)
            zero = world.arrived
            entries = [(each.line, Us(each.at - zero), each.action.kind, dict(each.action.arguments))
                       for each in world.entries]  # fmt: skip
            events = [(Us(each.at - zero), each.kind, each.text, dict(each.data), each.line) for each in world.events]
            return tuple(entries), tuple(events), world.standing(), Us(world.now - zero)

        entries, events, standing, end = Branch(work).result()
        return History(
            tuple(Entry(line, at, checked(kind, given)) for line, at, kind, given in entries),
            tuple(Event(*each) for each in events),
            standing,
            end,
        )

    return lived


def likeliest(told) -> str:
    return max(told, key=told.get)


def test_before_anything_it_is_the_prior(engine, after) -> None:
    """Practice 1.3: one call in eight has nothing."""
    told = engine.candidates(after("photo beam misaligned"))
    assert sum(told.values()) == pytest.approx(1.0)
    assert told[NOTHING] == pytest.approx(0.125)


@pytest.mark.parametrize("fault", ["photo beam misaligned", "edge line broken", "no mains at the box"])
def test_watching_it_fail_tells_what_the_panel_says(engine, after, fault) -> None:
    """Facts 8: each of these keeps the gate from moving, and the panel says of which input or that it is dark."""
    told = engine.candidates(after(fault, *OPENING, *CLOSING, step("wait", seconds=5.0)))
    assert likeliest(told) == fault
    assert told[fault] > 0.5


def test_a_sound_gate_makes_nothing_likelier(engine, after) -> None:
    """An opening and a closing that run rule out whatever stops them."""
    told = engine.candidates(after("", *OPENING, *CLOSING, step("wait", seconds=5.0)))
    assert told[NOTHING] > 0.125
    assert told["edge line broken"] < 0.01


def test_belief_is_of_its_instant(engine, after) -> None:
    """Up to before anything was seen it is the prior."""
    history = after("edge line broken", *OPENING)
    assert engine.candidates(history, until=0)[NOTHING] == pytest.approx(0.125)
    assert engine.candidates(history)[NOTHING] < 0.05


def test_a_movement_with_a_guard_held_tells_nothing(engine, after) -> None:
    """A gate that doesn't close before a card says nothing of its beam."""
    held = after("", *OPENING, step("cover beam", guard="outer beam"), *CLOSING)
    opened = engine.candidates(after("", *OPENING, step("wait", seconds=5.0)))
    assert engine.candidates(held) == pytest.approx(opened)


def test_a_reading_with_the_power_off_is_none_of_a_live_gate(engine, after) -> None:
    """No volts where somebody switched off is no fault of the supply."""
    inlet = next(c for c in engine.table.columns if c[0] == LIVE and c[2] == "volts ac" and "outlet, live" in c[3])
    reading = step("measure", instrument=inlet[1], function=inlet[2], at=inlet[3], against=inlet[4])
    off = engine.candidates(after("", *ISOLATED, reading))
    assert off["no mains at the box"] == pytest.approx(engine.candidates(after(""))["no mains at the box"])
    dead = engine.candidates(after("no mains at the box", reading))
    assert likeliest(dead) == "no mains at the box"


def test_the_same_again_tells_nothing_new(engine, after) -> None:
    """Three equal readings are one."""
    inlet = next(c for c in engine.table.columns if c[0] == LIVE and c[2] == "volts ac")
    reading = step("measure", instrument=inlet[1], function=inlet[2], at=inlet[3], against=inlet[4])
    once = after("no mains at the box", reading)
    thrice = after("no mains at the box", reading, reading, reading)
    assert engine.candidates(thrice) == pytest.approx(engine.candidates(once))
    made = engine.made(thrice)
    assert len(made) == 3
    assert made[1].told_bit == pytest.approx(0.0)


def test_what_was_made_is_weighed_against_the_best_there_was(engine, after) -> None:
    """Watching the gate is worth more than the second look at what is known."""
    (seen, *_) = engine.made(after("edge line broken", *OPENING, step("wait", seconds=5.0)))
    assert seen.information_bit > 0.5
    assert seen.best_bit >= seen.information_bit - 1e-9
    assert seen.told_bit > 0.5
    assert seen.minutes == pytest.approx(0.5)
    assert {column[1] for column in seen.columns} == {EYES}


def test_a_repair_is_supported_by_what_was_found_before_it(engine, after) -> None:
    """The same right repair with evidence and without; and one that mends nothing of this gate."""
    fault = "photo beam misaligned"
    repair = next(each for each in FAULTS[fault].repair if CATALOGUE[each.kind].group == "repair")
    (guess,) = engine.repaired(after(fault, repair))
    (known,) = engine.repaired(after(fault, *OPENING, *CLOSING, step("wait", seconds=5.0), repair))
    assert fault in guess.causes
    assert fault in known.causes
    assert guess.belief < 0.3
    assert known.belief > 0.8


def test_after_the_repair_the_gate_is_believed_sound_until_it_shows_otherwise(engine, after) -> None:
    """What was mended is nothing any more, and what is read from then on counts anew."""
    fault = "photo beam misaligned"
    repair = next(each for each in FAULTS[fault].repair if CATALOGUE[each.kind].group == "repair")
    history = after(fault, *OPENING, *CLOSING, step("wait", seconds=5.0), repair)
    told = engine.candidates(history)
    assert told[fault] == pytest.approx(0.0)
    assert likeliest(told) == NOTHING


def test_every_fault_of_the_catalogue_is_mended_by_its_own_repair() -> None:
    """So that the right repair is never taken for one that mends nothing."""
    for name, fault in FAULTS.items():
        named = [
            each for each in fault.repair
            if CATALOGUE[each.kind].group == "repair" or each.kind in ("set", "swap motor leads", "remove bridge")
        ]  # fmt: skip
        for each in named:
            assert mends((NOTHING, name), checked(each.kind, each.arguments)) == (1,), name


def test_what_is_proposed_can_be_done_and_isn_t_done_again(engine, after) -> None:
    """Acts of the catalogue with their arguments, the best for its minutes first."""
    history = after("edge line broken")
    first, *others = engine.measurements(history)
    checked(first.kind, first.arguments)
    assert first.minutes > 0.0
    rates = [each.information_bit / each.minutes for each in (first, *others)]
    assert rates == sorted(rates, reverse=True)
    seen = after("edge line broken", *OPENING, step("wait", seconds=5.0))
    assert not any(each.arguments.get("control") == "open button" for each in engine.measurements(seen))


def test_what_is_not_in_the_bag_is_not_proposed(engine, after) -> None:
    """The best next measurement is one of those that may be made."""
    bare = Reckoner(engine.table, engine.found, lambda column: column[1] == "look")
    assert {each.arguments["instrument"] for each in bare.measurements(after(""))} == {"look"}


def test_hints_rise_and_never_name_a_cause(engine, after) -> None:
    """Practice 1.1: from a question to a principle to a place to a step."""
    history = after("edge line broken")
    told = [engine.hint(history, level) for level in range(1, 5)]
    assert len(set(told)) == 4
    assert "good" in told[0]
    assert any(where in told[1] for where in SIDES.values())
    for text in told:
        assert not any(name in text for name in FAULTS)
    assert list(COSTS.values()) == sorted(COSTS.values())
    with pytest.raises(ValueError, match="5"):
        engine.hint(history, 5)


def test_where_little_is_left_to_measure_it_is_said(engine, after) -> None:
    """A measurement below 0.05 bit is redundant (practice 1.2), and no hint sends anybody to one."""
    known = after("edge line broken", *OPENING, step("wait", seconds=5.0))
    told = engine.hint(known, 4)
    assert "conclude" in told
    assert "edge line broken" not in told
    assert engine.hint(after("edge line broken"), 4).startswith("Next")


def test_two_causes_together(small, site, after) -> None:
    """A pair reads what each alone would show; with one mended the other is left."""
    both = Reckoner(small.with_pairs(), Found.of(site, mains=True, battery_linked=True))
    pair = BOTH.join(name for name in small.causes if name in ("photo beam misaligned", "edge line broken"))
    assert pair in both.table.causes
    assert both.table.prior.sum() == pytest.approx(1.0)
    assert both.candidates(after(""))[NOTHING] == pytest.approx(0.125)
    told = both.candidates(after("edge line broken", *OPENING, step("wait", seconds=5.0)))
    assert told["edge line broken"] > told[pair] > told["photo beam misaligned"]
    assert len(both.measurements(after(""))) > 0
