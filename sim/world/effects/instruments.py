"""Measuring: each act goes to the bag of instruments that was handed to the world."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.said import said
from sim.units import Direction, Us
from sim.world.actions import Action
from sim.world.effects.effect import Effect, leaf_of

if TYPE_CHECKING:
    from sim.world.world import World


def _named(action: Action) -> tuple[str, str, str, str]:
    """(instrument, function, at, against) that an act names; the older acts are doors to the same instruments."""
    if action.kind == "prove tester":
        return "two-pole tester", "prove", "", ""
    if action.kind == "test dead":
        return "two-pole tester", "test dead", str(action["red"]), str(action["black"])
    if action.kind == "place probes":
        return "multimeter", str(action["function"]), str(action["red"]), str(action["black"])
    return str(action["instrument"]), str(action["function"]), str(action["at"]), str(action["against"])


def _can_place(world: World, action: Action) -> None:
    world.bag.check(*_named(action))


def _placing(world: World, action: Action) -> Us:
    return world.bag.takes(*_named(action)[:2])


def _place(world: World, action: Action) -> str:
    return world.bag.place(*_named(action))


def _measure(world: World, action: Action) -> str:
    return read_once(world, *_named(action))


def read_once(world: World, instrument: str, function: str, at: str, against: str) -> str:
    """Place it, let it settle, read it, take it off."""
    world.feel_motors()
    world.bag.place(instrument, function, at, against)
    if not world.spend(world.bag.settles(instrument)):
        return said("stopped before it was read: {why}", why=world.events[-1].text)
    world.feel_motors()
    reading = world.bag.read(instrument)
    world.bag.lift(instrument)
    return reading


def _instrument(action: Action) -> str:
    return "multimeter" if action.kind in ("read meter", "lift probes") else str(action["instrument"])


def _in_place(world: World, action: Action) -> None:
    world.bag.settles(_instrument(action))


def _settling(world: World, action: Action) -> Us:
    return world.bag.settles(_instrument(action))


def _read(world: World, action: Action) -> str:
    world.feel_motors()
    return world.bag.read(_instrument(action))


def _lift(world: World, action: Action) -> str:
    return world.bag.lift(_instrument(action))


def _can_repeat(world: World, action: Action) -> None:
    world.bag.check(*world.bag.last_measured())


def _repeating(world: World, action: Action) -> Us:
    instrument, function, _at, _against = world.bag.last_measured()
    return world.bag.settles(instrument) if world.bag.is_placed(instrument) else world.bag.takes(instrument, function)


def _repeat(world: World, action: Action) -> str:
    last = world.bag.last_measured()
    if world.bag.is_placed(last[0]):
        world.feel_motors()
        return world.bag.read(last[0])
    return read_once(world, *last)


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
    "place instrument": Effect(_place, _can_place, _placing),
    "read instrument": Effect(_read, _in_place, _settling),
    "lift instrument": Effect(_lift, _in_place),
    "measure": Effect(_measure, _can_place, _placing),
    "repeat this reading": Effect(_repeat, _can_repeat, _repeating),
    "replace meter fuse": Effect(lambda world, action: world.bag.renew(str(action["instrument"]))),
    "place probes": Effect(_place, _can_place),
    "read meter": Effect(_read, _in_place),
    "lift probes": Effect(_lift, _in_place),
    "prove tester": Effect(_measure, _can_place, _placing),
    "test dead": Effect(_measure, _can_place, _placing),
    "place force gauge": Effect(_place_gauge, _gauge_stands),
    "read force gauge": Effect(lambda world, action: world.bag.read_gauge()),
    "remove force gauge": Effect(lambda world, action: world.bag.remove_gauge()),
}
