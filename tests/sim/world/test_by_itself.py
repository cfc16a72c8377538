"""What changes at a gate by itself: clock, water, loop, heartbeat, a worn button. Nothing polls, and the same seed
gives the same run however it is cut."""

from __future__ import annotations

import math
import random
from typing import Any

import pytest

from sim.instruments.toolbag import Toolbag
from sim.site import Site, with_changes
from sim.units import LEAVES, SECOND
from sim.wiring.elements import Contact
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.world import World

CONTROLS = ["open button", "close button", "step button", "timer contact"]

SHEET = {
    "inner beam": "not fitted",
    "outer beam": "reopen",
    "leaves fitted": "2",
    "drive kind": "linear ram",
    "leaf delay, opening": 3.0,
    "leaf delay, closing": 5.0,
    "slow zone before stop": 25.0,
}


def gate(site: Site, changes: dict[str, Any], *, seed: int = 7, learned: bool = False, dense: bool = False) -> World:
    """The site with changes; learned and shut when it is to move. `dense`: scanned every ten milliseconds."""
    made = with_changes(site, {"controls": CONTROLS, **changes})
    sheet = {**SHEET, "opens first": made.opens_first}
    return World(made, seed=seed, bag=Toolbag, arrival=Arrival(sheet=sheet, learned=learned), every_scan=dense)


def do(world: World, kind: str, **arguments: object) -> str:
    return world.do(checked(kind, arguments))


def closed(world: World, contact: str) -> bool:
    found = world.cabinet.netlist[contact]
    assert isinstance(found, Contact)
    return found.closed


# -- the clock -----------------------------------------------------------------------------------------


def test_the_hour_runs_with_the_visible_clock(site: Site) -> None:
    """From the hour that the site says, through midnight."""
    world = gate(site, {"starts_at_h": 23.9})
    assert world.hour() == pytest.approx(23.9, abs=1e-3)
    world.run_to(world.now + 720 * SECOND)
    assert world.hour() == pytest.approx(0.1, abs=1e-3)


def test_the_timer_contact_keeps_its_hours(site: Site) -> None:
    """Open before, closed within, open after; over midnight as well."""
    world = gate(site, {"starts_at_h": 6.99, "access.timer": {"closes_at_h": 7.0, "opens_at_h": 7.05}})
    seen = []
    for _ in range(30):
        world.run_to(world.now + 10 * SECOND)
        seen.append((world.hour(), closed(world, "timer contact, contacts")))
    sure = [(at, is_closed) for at, is_closed in seen if min(abs(at - 7.0), abs(at - 7.05)) > 1e-5]
    assert all(is_closed == (7.0 <= at < 7.05) for at, is_closed in sure)
    assert {is_closed for _, is_closed in seen} == {True, False}
    night = gate(site, {"starts_at_h": 1.0, "access.timer": {"closes_at_h": 22.0, "opens_at_h": 6.0}})
    assert closed(night, "timer contact, contacts")


def test_a_site_without_any_of_it_queues_nothing(site: Site) -> None:
    """An hour of rest costs no event of these."""
    world = gate(site, {})
    assert not [e for e in world.clock._queue if "by itself" in getattr(e[3], "name", "")]


# -- water ---------------------------------------------------------------------------------------------


def test_a_wet_edge_drifts_and_dries(site: Site) -> None:
    """Readings wander within the band of a wet edge; dried, they are sound again."""
    world = gate(site, {"guards.active_edge.water": 0.5})
    levels = set()
    for _ in range(10):
        world.run_to(world.now + 2 * SECOND)
        levels.add(world.cabinet.guard_volts()[2])
    assert len(levels) > 5
    assert max(levels) < 1.3
    world.refit(with_changes(world.site, {"guards.active_edge.water": 0.0}))
    assert world.cabinet.guard_volts()[2] == pytest.approx(1.65, rel=0.02)


# -- the loop ------------------------------------------------------------------------------------------

LOOP = {"access.loop": {"x_m": 2.0, "y_m": 5.0, "output": "timer contact"}}


def test_a_car_on_the_loop_opens_the_gate_and_a_person_does_not(site: Site) -> None:
    """The detector's contact is an opening command like another; it holds the gate open as long as the car stands."""
    world = gate(site, LOOP, learned=True)
    do(world, "place body", body="adult", x_m=2.0, y_m=5.0)
    world.run_to(world.now + 20 * SECOND)
    assert not [e for e in world.events if e.kind == "moving"]
    do(world, "remove body", body="adult")
    do(world, "place body", body="car", x_m=2.0, y_m=6.0)
    world.run_to(world.now + 40 * SECOND)
    assert world.stands(fully_open=True)
    assert closed(world, "loop detector, output")
    do(world, "remove body", body="car")
    assert not closed(world, "loop detector, output")


def test_presence_that_holds_ends_with_a_reset(site: Site) -> None:
    """Metal that came for good: presence until the detector is reset."""
    world = gate(site, LOOP)
    world.refit(with_changes(world.site, {"access.loop.stray_metal": 0.005}))
    world.run_to(world.now + 60 * SECOND)
    assert closed(world, "loop detector, output")
    do(world, "reset loop detector")
    assert not closed(world, "loop detector, output")
    world.run_to(world.now + 60 * SECOND)
    assert not closed(world, "loop detector, output")


@pytest.mark.parametrize(("khz", "calls"), [(65.0, False), (48.4, True)])
def test_two_loops_at_one_frequency_call_each_other(site: Site, khz: float, calls: bool) -> None:
    """Ten kilohertz and more apart nothing happens; at the same frequency presence comes and goes."""
    world = gate(site, {"access.loop": {"neighbour_khz": khz}})
    seen = set()
    for _ in range(30):
        world.run_to(world.now + 2 * SECOND)
        seen.add(closed(world, "loop detector, output"))
    assert seen == ({True, False} if calls else {False})


def test_a_leak_to_earth_makes_it_call(site: Site) -> None:
    """Water at a cut of the insulation; sound insulation never does that."""
    world = gate(site, LOOP)
    world.cabinet.netlist.change("presence loop, insulation", ohm=1e5)
    world.rewired()
    seen = set()
    for _ in range(30):
        world.run_to(world.now + 2 * SECOND)
        seen.add(closed(world, "loop detector, output"))
    assert seen == {True, False}


# -- an edge by radio ------------------------------------------------------------------------------------


@pytest.mark.parametrize(("charge", "seen"), [(1.0, {True}), (0.055, {True, False}), (0.0, {False})])
def test_a_heartbeat_fades_with_its_cell(site: Site, charge: float, seen: set[bool]) -> None:
    """Full, it is always heard; nearly flat, now and then; flat, never."""
    link = {"charge": charge, "distance_m": 9.0, "shading_db": 18.0, "heartbeat_s": 5.0}
    world = gate(site, {"guards.inactive_edge": {"radio": link}})
    heard = set()
    for _ in range(200):
        world.run_to(world.now + 5 * SECOND)
        heard.add(closed(world, "inactive edge receiver, well relay"))
    assert heard == seen


# -- a worn button -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("bounce", [0.0, 0.03, 0.2])
def test_a_contact_that_chatters_gives_one_command(site: Site, bounce: float) -> None:
    """However long it chatters, pressed once is one command: the step button opens, and doesn't halt at once."""
    world = gate(site, {"access.button_bounce_s": bounce}, learned=True)
    began = len(world.controller.panel().happenings)
    contacts = []
    do(world, "press", control="step button")
    for _ in range(30):
        world.run_to(world.now + 10_000)
        contacts.append(closed(world, "step button, contacts"))
    do(world, "release", control="step button")
    world.run_to(world.now + 10 * SECOND)
    given = [h for h in world.controller.panel().happenings[began:] if h.kind == "command"]
    assert len(given) == 1
    assert world.notices.moving() == "opening"
    assert contacts[-1]
    assert (False in contacts) is (bounce > 0.0)


# -- the laws --------------------------------------------------------------------------------------------

ALL = {
    "access.loop": {"x_m": 2.0, "y_m": 5.0, "neighbour_khz": 48.4, "output": "open button"},
    "access.timer": {"closes_at_h": 10.01, "opens_at_h": 10.02},
    "access.button_bounce_s": 0.1,
    "guards.active_edge.water": 0.02,
    "guards.inactive_edge": {"radio": {"charge": 0.055, "distance_m": 9.0, "shading_db": 18.0}},
}


def visit(world: World, cuts: list[int]) -> str:
    """A press, a car, a word by radio, two minutes; run in pieces."""
    zero = int(world.now)
    acts = {
        3 * SECOND: ("press", {"control": "step button"}),
        5 * SECOND: ("release", {"control": "step button"}),
        60 * SECOND: ("place body", {"body": "car", "x_m": 2.0, "y_m": 6.0}),
        90 * SECOND: ("remove body", {"body": "car"}),
    }
    for at in sorted({*acts, *cuts, 120 * SECOND}):
        world.run_to(zero + at)
        if at in acts:
            kind, arguments = acts[at]
            world.do(checked(kind, arguments))
    return world.digest()


@pytest.mark.slow
def test_the_same_however_it_is_cut_or_scanned(site: Site) -> None:
    """One digest in one go, in random pieces, and with a scan every ten milliseconds."""
    once = visit(gate(site, ALL, learned=True), [])
    chance = random.Random(3)
    cuts = [chance.randrange(1, 12_000) * 10_000 for _ in range(200)]
    assert visit(gate(site, ALL, learned=True), cuts) == once
    assert visit(gate(site, ALL, learned=True, dense=True), []) == once
    assert visit(gate(site, ALL, learned=True, seed=8), []) != once


@pytest.mark.parametrize("control", ["keypad", "intercom"])
def test_a_second_contact_asks_like_the_first(site: Site, control: str) -> None:
    """Keypad and intercom are wired beside a control, and are held by whoever presses them."""
    world = gate(site, {f"access.{control}": {"output": "open button"}}, learned=True)
    do(world, "press", control=control)
    world.run_to(world.now + SECOND)
    do(world, "release", control=control)
    world.run_to(world.now + 40 * SECOND)
    assert world.stands(fully_open=True)


def test_an_emergency_contact_opens_and_keeps_it_open(site: Site) -> None:
    """It stays as it is put, whoever lets go of what; a closing command doesn't close a gate that is held open."""
    world = gate(site, {"access.emergency": {}}, learned=True)
    do(world, "press", control="emergency contact")
    assert world.release_all() == ()
    world.run_to(world.now + 40 * SECOND)
    assert world.stands(fully_open=True)
    assert closed(world, "emergency contact, contacts")
    do(world, "press", control="close button")
    world.run_to(world.now + SECOND)
    assert world.controller.panel().message == "close refused: the emergency contact holds the gate open"
    do(world, "release", control="close button")
    do(world, "release", control="emergency contact")
    assert not closed(world, "emergency contact, contacts")
    world.run_to(world.now + 60 * SECOND)
    assert world.stands(fully_open=True)
    do(world, "press", control="close button")
    world.run_to(world.now + 60 * SECOND)
    do(world, "release", control="close button")
    assert world.stands(fully_open=False)


@pytest.mark.parametrize("output", ["open button", "step button", "timer contact"])
def test_an_emergency_contact_wired_beside_a_control_opens_as_that_does(site: Site, output: str) -> None:
    """As older installations have it: the gate opens, and keeps open only where the input does."""
    world = gate(site, {"access.emergency": {"output": output}}, learned=True)
    do(world, "press", control="emergency contact")
    world.run_to(world.now + 40 * SECOND)
    assert world.stands(fully_open=True)


def test_a_pedestrian_button_opens_the_first_leaf(site: Site) -> None:
    """A wired contact of its own: the leaf that is free to move opens, the other stays."""
    world = gate(site, {"controls": ["pedestrian button", "close button"]}, learned=True)
    do(world, "press", control="pedestrian button")
    world.run_to(world.now + SECOND)
    do(world, "release", control="pedestrian button")
    world.run_to(world.now + 40 * SECOND)
    assert world.controller.panel().state == "open for pedestrians"
    first = LEAVES.index(world.site.opens_first)
    assert math.degrees(world.plant.angle(first)) > 85.0
    assert math.degrees(world.plant.angle(1 - first)) < 1.0
