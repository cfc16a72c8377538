"""Measuring: each act goes to the bag of instruments that was handed to the world."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.errors import Refused
from sim.units import Direction
from sim.world.actions import Action
from sim.world.effects.effect import Effect, leaf_of

if TYPE_CHECKING:
    from sim.world.world import World


def _place_probes(world: World, action: Action) -> str:
    return world.bag.place_probes(str(action["function"]), str(action["red"]), str(action["black"]))


def _test_dead(world: World, action: Action) -> str:
    return world.bag.test_dead(str(action["red"]), str(action["black"]))


def _two_terminals(world: World, action: Action) -> None:
    for probe in ("red", "black"):
        world.bag.check_terminal(str(action[probe]))
    if action["red"] == action["black"]:
        raise Refused("both probes are on the same terminal")


def _place_gauge(world: World, action: Action) -> str:
    return world.bag.place_gauge(
        leaf_of(action),
        float(action["gap_mm"]),
        float(action["height_mm"]),
        str(action["rest"]),
        _direction(action),
    )


def _gauge_stands(world: World, action: Action) -> None:
    world.bag.check_gauge(leaf_of(action), float(action["gap_mm"]), float(action["height_mm"]), _direction(action))


def _direction(action: Action) -> Direction:
    return "opening" if action["direction"] == "opening" else "closing"


EFFECTS = {
    "place probes": Effect(_place_probes, _two_terminals),
    "read meter": Effect(lambda world, action: world.bag.read_meter()),
    "lift probes": Effect(lambda world, action: world.bag.lift_probes()),
    "prove tester": Effect(lambda world, action: world.bag.prove_tester()),
    "test dead": Effect(_test_dead, _two_terminals),
    "place force gauge": Effect(_place_gauge, _gauge_stands),
    "read force gauge": Effect(lambda world, action: world.bag.read_gauge()),
    "remove force gauge": Effect(lambda world, action: world.bag.remove_gauge()),
}
