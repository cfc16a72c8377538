"""Faults in a world: they come and go, wait for their moment, and stay away once they are mended."""

from __future__ import annotations

import math
from dataclasses import replace
from types import MappingProxyType

import pytest

from sim.errors import Refused
from sim.faults.edit import Exchanged, Fact, Opened, Value
from sim.faults.entry import Band, Fault, Reference, Trigger, WrongRepair, step
from sim.faults.facts import read
from sim.site import Site, Weather, with_changes
from sim.units import MINUTE, SECOND
from sim.world import ailing, meddling
from sim.world.actions import checked
from sim.world.meddling import Meddling, meddle, reverse
from sim.world.world import World

CORE = "active leaf motor, plus core"
OTHER_CORE = "active leaf motor, minus core"
LAMP = "warning lamp, plus core"


def _fault(name: str, *edits: object, trigger: Trigger | None = None) -> Fault:
    return Fault(
        name,
        "supply and wiring",
        "it stops",
        "nothing",
        "one fact",
        edits,  # type: ignore[arg-type]
        Reference((step("wait", seconds=1),), Band(words=("a",)), Band(words=("b",))),
        (step("wait", seconds=1),),
        (WrongRepair((), "the fact"),),
        "look again",
        "none here",
        "made for this test",
        trigger=trigger,
    )


FAULTS = MappingProxyType(
    {
        fault.name: fault
        for fault in (
            _fault("core with a joint", Value(CORE, "ohm", 2.0, 20.0)),
            _fault("another joint in the core", Value(CORE, "ohm", 3.0, 30.0)),
            _fault("cores exchanged", Exchanged(CORE, OTHER_CORE)),
            _fault("stiff hinge", Fact("leaves.active.hinge_friction_n_m", 60.0, 120.0)),
            _fault("no such part", Value(CORE, "ohm", 2.0), Opened("a joint that nobody fitted")),
            _fault("comes with the angle", Value(LAMP, "ohm", 900.0, 9000.0),
                   trigger=Trigger("active leaf angle", above=30.0, hysteresis=5.0)),
            _fault("comes with cold", Value(LAMP, "ohm", 900.0, 9000.0),
                   trigger=Trigger("air temperature", below=0.0, hysteresis=2.0, dwell_s=60.0)),
            _fault("comes with movement", Value(LAMP, "ohm", 900.0, 9000.0), trigger=Trigger("movement")),
            _fault("comes at night", Value(LAMP, "ohm", 900.0, 9000.0),
                   trigger=Trigger("hour", above=22.0, below=6.0)),
            _fault("comes with a warm motor", Value(LAMP, "ohm", 900.0, 9000.0),
                   trigger=Trigger("active winding temperature", above=30.0, hysteresis=3.0)),
        )
    }
)  # fmt: skip


@pytest.fixture(autouse=True)
def _catalogue(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ailing, "named", FAULTS.__getitem__)
    monkeypatch.setattr(meddling, "named", FAULTS.__getitem__)


@pytest.fixture
def gate(site: Site) -> World:
    """A world at rest."""
    made = World(with_changes(site, {"weather.temperature_c": 20.0}), seed=4)
    made.run_to(made.now + SECOND)
    made.rewired()  # what time changes in the cabinet is brought up to this instant
    return made


def _ohm(world: World, core: str = CORE) -> float:
    return float(read(world, ("net", core, "ohm")))


def test_faults_of_different_facts_come_and_go_in_any_order(gate: World) -> None:
    """Also two of one core's different fields; when all are gone, every bit is as before."""
    before = gate.digest()
    names = ("core with a joint", "cores exchanged", "stiff hinge")
    for leaves in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
        for name in names:
            gate.faults.bring(name, 0.5)
        assert gate.digest() != before
        for index in leaves:
            gate.faults.cure(names[index])
        assert gate.faults.present == ()
        assert gate.digest() == before


def test_one_fact_has_one_fault(gate: World) -> None:
    """A second one of the same fact is refused, and so is the same fault twice; nothing changes."""
    gate.faults.bring("core with a joint", 1.0)
    for name in ("another joint in the core", "core with a joint"):
        with pytest.raises(Refused):
            gate.faults.bring(name, 1.0)
    assert _ohm(gate) == 20.0
    with pytest.raises(Refused, match="severity"):
        gate.faults.bring("stiff hinge", 1.5)


def test_what_cannot_be_wholly_is_not_at_all(gate: World) -> None:
    """A fault of which one part isn't there leaves nothing behind."""
    before = gate.digest()
    with pytest.raises(Refused, match="a joint that nobody fitted"):
        gate.faults.bring("no such part", 1.0)
    assert gate.digest() == before
    assert gate.faults.present == ()


def test_a_repair_ends_a_fault_and_what_somebody_changed_stays_theirs(gate: World) -> None:
    """After a repair there is nothing to cure; after a change by hand the cure leaves the hand's work alone."""
    gate.faults.bring("core with a joint", 1.0)
    gate.cabinet.isolate()
    gate.do(checked("re-lay cable", {"what": "active leaf motor cable"}))
    assert gate.faults.present == ()
    assert _ohm(gate) == gate.cabinet.built[CORE].ohm
    gate.faults.bring("core with a joint", 1.0)
    gate.cabinet.netlist.change(CORE, ohm=5.0)
    assert gate.faults.present == ()
    gate.faults.cure("core with a joint")
    assert _ohm(gate) == 5.0


def _lamp_is_bad(world: World) -> bool:
    return _ohm(world, LAMP) > 100.0


def test_a_fault_that_comes_with_the_angle(gate: World) -> None:
    """It is there beyond its angle and gone again below it by the hysteresis, whoever moves the leaf."""
    gate.faults.bring("comes with the angle", 1.0)
    gate.plant.release(0)
    assert not _lamp_is_bad(gate)
    gate.people.push_leaf(0, 28.0)
    assert not _lamp_is_bad(gate)
    gate.people.push_leaf(0, 40.0)
    assert _lamp_is_bad(gate)
    gate.people.push_leaf(0, 27.0)
    assert _lamp_is_bad(gate)
    gate.people.push_leaf(0, 20.0)
    assert not _lamp_is_bad(gate)
    assert gate.faults.present == (("comes with the angle", 1.0),)


def test_a_sleeping_fault_that_is_mended_never_comes_back(gate: World) -> None:
    """The repair was made while nothing showed: it holds all the same."""
    gate.faults.bring("comes with the angle", 1.0)
    gate.cabinet.isolate()
    gate.do(checked("re-lay cable", {"what": "warning lamp cable"}))
    assert gate.faults.present == ()
    gate.plant.release(0)
    gate.people.push_leaf(0, 60.0)
    assert not _lamp_is_bad(gate)


def test_a_fault_that_comes_with_cold_waits_a_while_that_the_seed_draws(gate: World) -> None:
    """It comes within its dwell, at once goes with warmth, and not at all if it was cold too short."""
    gate.faults.bring("comes with cold", 1.0)
    cold = Weather(temperature_c=-5.0)
    gate.set_weather(cold)
    gate.run_to(gate.now + SECOND)
    gate.set_weather(Weather(temperature_c=20.0))
    gate.run_to(gate.now + 2 * MINUTE)
    assert not _lamp_is_bad(gate)
    gate.set_weather(cold)
    gate.run_to(gate.now + MINUTE + SECOND)
    assert _lamp_is_bad(gate)
    gate.set_weather(replace_temperature(cold, 1.0))
    gate.run_to(gate.now + SECOND)
    assert _lamp_is_bad(gate), "within the hysteresis"
    gate.set_weather(replace_temperature(cold, 3.0))
    gate.run_to(gate.now + SECOND)
    assert not _lamp_is_bad(gate)


def replace_temperature(weather: Weather, celsius: float) -> Weather:
    """The same weather, warmer or colder."""
    return weather.model_copy(update={"temperature_c": celsius})


def test_a_fault_that_comes_with_the_hour_comes_at_it_and_goes_at_it(gate: World) -> None:
    """Round midnight, to the scan instant; between, an idle night costs a handful of instants."""
    gate.faults.bring("comes at night", 1.0)
    start = int(gate.now)
    until_ten = round((22.0 - gate.site.starts_at_h) * 3600 * SECOND) - start
    gate.run_to(start + until_ten - SECOND)
    assert not _lamp_is_bad(gate)
    gate.run_to(gate.now + 2 * SECOND)
    assert _lamp_is_bad(gate)
    gate.run_to(gate.now + 8 * 60 * MINUTE - 2 * SECOND)
    assert _lamp_is_bad(gate)
    gate.run_to(gate.now + 2 * SECOND)
    assert not _lamp_is_bad(gate)


def test_a_fault_that_comes_with_a_warm_motor_goes_when_it_has_cooled(gate: World) -> None:
    """To the second, while the world between is left alone."""
    gate.faults.bring("comes with a warm motor", 1.0)
    gate.plant.warm_motor(0, 60.0, 50.0)
    gate.faults.look()
    gate.run_to(gate.now + SECOND)
    assert _lamp_is_bad(gate)
    while gate.plant.winding_c(0) >= 27.0:
        assert _lamp_is_bad(gate)
        gate.run_to(gate.now + SECOND)
    gate.run_to(gate.now + SECOND)
    assert not _lamp_is_bad(gate)


@pytest.mark.parametrize("name", ["comes with the angle", "comes with movement", "comes with a warm motor"])
def test_an_intermittent_fault_comes_at_the_same_instant_in_any_strides(site: Site, name: str) -> None:
    """One journal run in one go and in little strides: one digest."""

    def run(stride: int) -> tuple[str, bool]:
        world = World(site, seed=4)
        world.run_to(world.now + SECOND)
        world.faults.bring(name, 1.0)
        world.request("jog", "active", "open")
        end = world.now + 40 * SECOND
        while world.now < end:
            world.run_to(min(end, world.now + stride))
        return world.digest(), bool(world.faults.in_force)

    assert run(40 * SECOND) == run(370_000) == run(10_000)


def test_a_joint_that_fails_while_the_gate_moves_fails_with_each_movement(gate: World) -> None:
    """Movement is a level: on with the drive, off with its end."""
    gate.faults.bring("comes with movement", 1.0)
    for _ in range(2):
        gate.request("jog", "active", "open")
        gate.run_to(gate.now + 2 * SECOND)
        assert _lamp_is_bad(gate)
        gate.request("jog", "active", "release")
        gate.run_to(gate.now + 2 * SECOND)
        assert not _lamp_is_bad(gate)
    assert gate.plant.angle(0) > math.radians(0.1)


def test_an_instructor_brings_a_fault_and_takes_it_away(gate: World) -> None:
    """A meddling like any other: asking for what is so already does nothing; its reverse brings all back."""
    before = gate.digest()
    change = Meddling("fault", "core with a joint", values=MappingProxyType({"share": 0.5}))
    back = reverse(gate, change)
    meddle(gate, change)
    meddle(gate, replace(change, on=True))
    assert gate.faults.present == (("core with a joint", 0.5),)
    meddle(gate, back)
    assert gate.faults.present == ()
    assert gate.digest() == before
