"""Things in hinge gaps: held, squeezed by the opening leaf, told with the force, and got out again."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from sim.bench.trial import as_installed
from sim.errors import ActionError, Refused
from sim.site import load_site
from sim.units import SECOND
from sim.world.actions import CATALOGUE, checked
from sim.world.arrival import Arrival
from sim.world.world import World

SITE = load_site(Path(__file__).parents[3] / "scenarios" / "sites" / "orchard_row.yaml")
STICK, DUMMY = "stick of 40 mm", "hand dummy of 50 mm"


def gate() -> World:
    """The reference site, not commissioned."""
    return World(SITE)


def hold(world: World, what: str = STICK, leaf: str = "active") -> str:
    return world.do(checked("hold in hinge gap", {"leaf": leaf, "what": what}))


def take_out(world: World, leaf: str = "active") -> str:
    return world.do(checked("take out of hinge gap", {"leaf": leaf}))


def test_a_hand_is_no_tool() -> None:
    """Nobody at work can put a hand there; what they can hold there is cautioned about."""
    entry = CATALOGUE["hold in hinge gap"]
    assert entry.caution
    with pytest.raises(ActionError, match="allowed"):
        checked("hold in hinge gap", {"leaf": "active", "what": "hand"})


def test_it_is_said_how_wide_the_gap_is_and_when_it_closes_on_the_thing() -> None:
    """Facts 6.3 row (60, 50), s 70 mm: 130 mm with the leaf shut; 40 mm at 72.6° by the same formula."""
    said = hold(gate())
    assert "130 mm now, as thin as that at 73°" in said


def test_one_thing_to_a_gap_and_none_where_it_does_not_go_in() -> None:
    """A second thing is refused, so is one thicker than the gap is now, and taking out what isn't there."""
    world = gate()
    with pytest.raises(Refused, match="nothing is held"):
        take_out(world)
    hold(world)
    with pytest.raises(Refused, match="already"):
        hold(world, DUMMY)
    assert "is out" in take_out(world)
    world.plant.place_leaf(0, math.radians(80))
    with pytest.raises(Refused, match="doesn't go in"):
        hold(world, DUMMY)


def test_bodies_and_hinges_share_the_room_there_is() -> None:
    """Three things in reach at most; a fourth is refused whichever way it comes, one taken away makes room."""
    world = gate()
    hold(world)
    hold(world, DUMMY, "inactive")
    bodies = [{"body": name, "x_m": 1.0 + 0.6 * at, "y_m": 1.0} for at, name in enumerate(("adult", "child"))]
    world.do(checked("place body", bodies[0]))
    with pytest.raises(Refused, match="at most 3"):
        world.do(checked("place body", bodies[1]))
    take_out(world)
    world.do(checked("place body", bodies[1]))
    with pytest.raises(Refused, match="at most 3"):
        hold(world)


def test_a_hand_that_a_job_found_there_is_somebody_in_the_arc() -> None:
    """It counts with those whom a start puts in danger."""
    world = gate()
    world.people.hinges.hold(0, "hand")
    assert world.people.in_arc() == ("hand",)


@pytest.mark.slow
@pytest.mark.parametrize(("what", "least_n", "kind"), [(STICK, 1500, "contact"), ("hand", 400, "struck")])
def test_an_opening_leaf_squeezes_it_and_the_force_is_told(what: str, least_n: float, kind: str) -> None:
    """The reference gate opens on it and the force is told. A stick is stiff: thousands of newtons, the controller
    backs off, and it comes free. A hand gives, and is thin: it is only met near the open stop, where the controller
    takes whatever effort there is for its stop. It is crushed, and the gate reports that it is open."""
    world = World(SITE, arrival=as_installed(SITE))
    world.people.hinges.hold(0, what)
    seen = len(world.events)
    world.do(checked("press", {"control": "open button"}))
    world.run_to(world.now + SECOND // 2)
    world.do(checked("release", {"control": "open button"}))
    world.run_to(world.now + 40 * SECOND)
    told = [event for event in world.events[seen:] if event.data.get("where") == "hinge gap"]
    assert max(float(event.data["force_n"]) for event in told) > least_n
    assert any(event.kind == kind for event in world.events[seen:])
    if what == STICK:
        assert "obstacle" in world.controller.panel().message
        assert any("came free" in event.text for event in told)
        assert take_out(world)
    else:
        assert world.controller.panel().state == "open"


@pytest.mark.slow
def test_what_sits_fast_is_not_pulled_out() -> None:
    """A hand dummy that the leaf holds squeezed stays where it is until the leaf closes."""
    world = gate()
    hold(world, DUMMY)
    world.plant.release(0)
    world.plant.push(0, 60.0)
    world.run_to(world.now + 20 * SECOND)
    with pytest.raises(Refused, match="let the leaf close first"):
        take_out(world)
    world.plant.push(0, -60.0)
    world.run_to(world.now + 20 * SECOND)
    assert "is out" in take_out(world)


def test_a_gate_can_be_found_with_something_in_its_gap() -> None:
    """What an arrival names is there before anybody acts."""
    world = World(SITE, arrival=Arrival(in_hinge_gaps=(("inactive", "hand"),)))
    assert world.people.hinges.held == {1: "hand"}
