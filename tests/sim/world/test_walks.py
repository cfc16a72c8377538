"""Bodies that are turned, dragged and sent on their way: where they are at each instant, what they cut and meet."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from sim.errors import ActionError, Refused
from sim.mechanics.yard import SHAPES
from sim.site import load_site, with_changes
from sim.units import SCAN, SECOND
from sim.world.actions import checked
from sim.world.arrival import Arrival
from sim.world.catalogue.bodies import BODY
from sim.world.world import World

SITE = load_site(Path(__file__).parents[3] / "scenarios" / "sites" / "orchard_row.yaml")


def gate(*, open_deg: float = 0.0, every_scan: bool = False) -> World:
    return World(SITE, seed=7, arrival=Arrival(angles_deg=(open_deg, open_deg)), every_scan=every_scan)


def do(world: World, kind: str, **arguments: object) -> str:
    return world.do(checked(kind, arguments))  # type: ignore[arg-type]


def place(world: World, name: str) -> tuple[float, float]:
    body = world.people.bodies[name]
    return body.x_m, body.y_m


def test_where_a_walker_is_follows_from_when_it_set_out() -> None:
    """At every scan instant, along every leg, to the last bit whatever the run was cut into. By hand."""
    world = gate()
    do(world, "walk body", body="adult", path="-2.0,-5.0 1.0,-5.0 1.0,-9.0", speed_m_s=1.5)
    began = world.now
    for seconds, there in ((0.0, (-2.0, -5.0)), (1.0, (-0.5, -5.0)), (2.0, (1.0, -5.0)), (4.0, (1.0, -8.0))):
        world.run_to(began + round(seconds * SECOND) + SCAN)
        assert place(world, "adult") == pytest.approx(there, abs=1.5 * SCAN / SECOND + 1e-9)
    assert world.people.walks.ahead("adult") == ((1.0, -9.0),)
    world.run_to(world.now + 5 * SECOND)
    assert place(world, "adult") == (1.0, -9.0)
    assert world.people.walks.speed_m_s("adult") == 0.0


def test_the_beam_is_cut_when_the_walker_is_in_it() -> None:
    """Walking straight through at 1 m/s, 0.3 m deep: from 0.15 m before the beam to 0.15 m behind it, to a scan."""
    world = gate()
    beam = world.site.guards.outer_beam
    do(world, "walk body", body="adult", path=f"1.0,{beam.y_m - 1.0} 1.0,{beam.y_m - 0.05}", speed_m_s=1.0)  # type: ignore[union-attr]
    began = world.now
    world.run_to(began + 3 * SECOND)
    cut = next(e for e in world.events if e.kind == "guard" and e.data["tripped"])
    assert 0.85 <= (cut.at - began) / SECOND <= 0.85 + 1.01 * SCAN / SECOND
    assert cut.data["place"] == pytest.approx(1.0)
    do(world, "walk body", body="adult", path=f"1.0,{beam.y_m - 1.0}", speed_m_s=1.0)  # type: ignore[union-attr]
    began = world.now
    world.run_to(began + 3 * SECOND)
    clear = next(e for e in world.events if e.kind == "guard" and not e.data["tripped"])
    assert 0.10 <= (clear.at - began) / SECOND <= 0.10 + 1.01 * SCAN / SECOND


def test_cut_into_pieces_and_scanned_at_every_instant_it_is_the_same() -> None:
    """One journal, run in other pieces, or with a controller asked every 10 ms: the same digest."""
    digests = []
    for piece, every_scan in ((10 * SECOND, False), (7 * SCAN, False), (SCAN, False), (10 * SECOND, True)):
        world = gate(open_deg=40.0, every_scan=every_scan)
        do(world, "walk body", body="dog", path="2.0,-4.0 2.0,3.0 0.5,3.0", speed_m_s=1.3)
        end = world.now + 10 * SECOND
        while world.now < end:
            world.run_to(min(end, world.now + piece))
        assert place(world, "dog") == (0.5, 3.0)
        digests.append(world.digest())
    assert len(set(digests)) == 1


def test_nobody_who_stands_still_costs_anything() -> None:
    """Nothing is queued for bodies at rest: as many events as with nobody there."""

    def queued(*, body: bool) -> int:
        world = gate()
        if body:
            do(world, "place body", body="adult", x_m=2.0, y_m=-4.0)
        world.run_to(world.now + SECOND)
        return len(world.clock._queue)

    assert queued(body=True) == queued(body=False)


def test_a_walker_stops_before_a_shut_leaf() -> None:
    """It comes as near as a step, and stands there; nothing is struck and the leaf has not moved."""
    world = gate()
    do(world, "walk body", body="adult", path="1.0,3.0 1.0,-3.0", speed_m_s=1.2)
    world.run_to(world.now + 6 * SECOND)
    x, y = place(world, "adult")
    assert x == 1.0
    assert 0.15 <= y <= 0.15 + 1.2 * SCAN / SECOND + 1e-9
    assert world.people.walks.under_way == {}
    assert not [e for e in world.events if e.kind == "struck"]
    assert abs(world.plant.angle(0)) < 1e-3


def test_a_walker_meets_a_moving_leaf_and_stops_where_it_is_struck() -> None:
    """Into the arc while the leaf closes: struck once, and the walker goes no further."""
    world = gate(open_deg=80.0)
    do(world, "jog press", leaf="active", direction="close")
    world.run_to(world.now + SECOND)
    do(world, "walk body", body="adult", path="0.9,-1.0 0.9,4.0", speed_m_s=0.2)
    world.run_to(world.now + 60 * SECOND, lambda: any(e.kind == "struck" for e in world.events))
    struck = [e for e in world.events if e.kind == "struck"]
    assert [e.data["body"] for e in struck] == ["adult"]
    there = place(world, "adult")
    assert -0.5 < there[1] < 2.0
    assert world.people.walks.under_way == {}
    world.run_to(world.now + SECOND)
    assert place(world, "adult") == there


def test_each_kind_can_be_placed_turned_dragged_and_taken_away() -> None:
    """Whatever there is, far from the leaves; a car stood along the drive cuts the beam that one across it misses."""
    world = gate()
    for name in SHAPES:
        do(world, "place body", body=name, x_m=2.0, y_m=-6.0, turn_deg=30.0)
        do(world, "move body", body=name, x_m=-3.0, y_m=-7.0)
        body = world.people.bodies[name]
        assert (body.x_m, body.y_m, body.turn) == (-3.0, -7.0, pytest.approx(math.radians(30.0)))
        do(world, "remove body", body=name)
    assert world.people.bodies == {}
    y_m = world.site.guards.outer_beam.y_m - 2.1  # type: ignore[union-attr]
    assert "cuts" not in do(world, "place body", body="car", x_m=2.0, y_m=y_m, turn_deg=90.0)
    assert "cuts the outer beam" in do(world, "place body", body="car", x_m=2.0, y_m=y_m, turn_deg=0.0)


def test_bodies_out_of_reach_take_no_place_from_those_within() -> None:
    """Any number stands in the road; among the leaves there is room for three, and a fourth that walks in stops."""
    world = gate(open_deg=80.0)
    for index, name in enumerate(("car", "van", "dog", "pram")):
        do(world, "place body", body=name, x_m=-6.0 + index, y_m=-12.0)
    for name, x in (("test body", 1.6), ("child", 2.1), ("bicycle", 2.6)):
        do(world, "place body", body=name, x_m=x, y_m=0.9)
    with pytest.raises(Refused, match="at most 3"):
        do(world, "move body", body="dog", x_m=2.0, y_m=0.3)
    do(world, "walk body", body="adult", path="2.0,-4.0 2.0,3.0", speed_m_s=1.0)
    world.run_to(world.now + 8 * SECOND)
    assert place(world, "adult")[1] < 0.9
    assert world.people.walks.under_way == {}


@pytest.mark.parametrize(
    ("path", "said"), [("", "1 to 40 points"), ("1;2", "x,y in metres"), ("1,2,3", "x,y in metres"),
                       ("90,0", "off the plan"), ("nan,0", "off the plan")]
)  # fmt: skip
def test_a_path_that_is_none_is_refused_in_words(path: str, said: str) -> None:
    """And nobody is on the plan then."""
    world = gate()
    with pytest.raises((Refused, ActionError), match=said):
        do(world, "walk body", body="adult", path=path)
    assert world.people.bodies == {}


def test_who_lies_does_not_walk_and_who_stops_stays() -> None:
    """Refused in words; a stop is where one is."""
    world = gate()
    do(world, "place body", body="adult", x_m=2.0, y_m=-5.0, lying=True)
    with pytest.raises(Refused, match="lies on the ground"):
        do(world, "walk body", body="adult", path="2.0,-8.0")
    do(world, "walk body", body="car", path="8.0,-5.0 8.0,-9.0", speed_m_s=2.0)
    world.run_to(world.now + SECOND)
    assert do(world, "stop body", body="car") == "The car stops."
    there = place(world, "car")
    world.run_to(world.now + SECOND)
    assert place(world, "car") == there
    assert do(world, "stop body", body="car") == "The car stood still already."


def test_light_changes_when_the_site_is_refitted_and_back() -> None:
    """A receiver that is turned away reads open, turned back it reads closed."""
    world = gate()
    before = world.cabinet.guard_volts()
    world.refit(with_changes(world.site, {"guards.outer_beam.receiver_aim_deg": 30.0}))
    world.run_to(world.now + SECOND)
    assert world.cabinet.guard_volts()[0] > 20.0
    assert world.people.is_tripped("outer beam")
    world.refit(world.designed)
    world.run_to(world.now + SECOND)
    assert world.cabinet.guard_volts() == before


def test_every_kind_of_body_can_be_named_in_an_act() -> None:
    """The catalogue of actions offers what there is, and nothing else."""
    assert set(BODY.choices) == set(SHAPES)
