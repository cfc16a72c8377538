"""Transmitters: pressing them, enrolling them, deleting them; and the loop's detector."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.errors import Refused
from sim.said import said
from sim.units import SCAN
from sim.world import radio
from sim.world.actions import Action
from sim.world.effects.effect import Effect
from sim.world.effects.sheet import needs_power, panel_words

if TYPE_CHECKING:
    from sim.world.world import World


def _press(world: World, action: Action) -> str:
    tag, button, distance_m = str(action["transmitter"]), int(action["button"]), float(action["distance_m"])
    world.counters[tag] = world.counters.get(tag, 0) + 1
    world.held[said("transmitter {tag}", tag=tag)] = lambda: _let_go(world, tag)
    world.buttons[tag] = button
    world.distances_m[tag] = distance_m
    world.notices.command_given("transmitter", tag)
    radio.send(world, tag, button, pressed=True, distance_m=distance_m)
    return said("{tag}: button {button} held.", tag=tag, button=button)


def _release(world: World, action: Action) -> str:
    tag = str(action["transmitter"])
    world.held.pop(f"transmitter {tag}", None)
    _let_go(world, tag)
    return said("{tag}: button let go.", tag=tag)


def _let_go(world: World, tag: str) -> None:
    button, distance_m = world.buttons.get(tag, 1), world.distances_m.get(tag, radio.NEAR_M)
    radio.send(world, tag, button, pressed=False, distance_m=distance_m)


def _enrol(world: World, action: Action) -> str:
    world.request("enrol", str(action["holder"]), str(action["function"]))
    world.run_to(world.now + 2 * SCAN)
    return panel_words(world)


def _delete(world: World, action: Action) -> str:
    world.request("delete transmitter", str(action["holder"]))
    world.run_to(world.now + 2 * SCAN)
    return panel_words(world)


def _delete_all(world: World, action: Action) -> str:
    world.request("delete all transmitters")
    world.run_to(world.now + 2 * SCAN)
    return panel_words(world)


def _reset_loop(world: World, action: Action) -> str:
    if world.cabinet.tune_loop():
        world.people.told(True)
    world.by_itself.loop_changed()
    return said("The loop's detector takes what is there now for nobody.")


def _loop_ready(world: World, action: Action) -> None:
    if world.cabinet.loop is None:
        raise Refused("no presence loop is fitted on this site")


def _known(world: World, action: Action) -> None:
    radio.transmitter(world, str(action["transmitter"]))


def _press_ready(world: World, action: Action) -> None:
    _known(world, action)
    tag, button = str(action["transmitter"]), int(action["button"])
    if f"transmitter {tag}" in world.held:
        raise Refused(said("a button of {tag} is held already", tag=tag))
    buttons = radio.transmitter(world, tag).buttons
    if button > buttons:
        raise Refused(
            said("{tag} has {buttons} buttons; there is no button {button}", tag=tag, buttons=buttons, button=button)
        )


EFFECTS = {
    "press transmitter": Effect(_press, _press_ready),
    "release transmitter": Effect(_release, _known),
    "enrol transmitter": Effect(_enrol, needs_power),
    "delete transmitter": Effect(_delete, needs_power),
    "delete all transmitters": Effect(_delete_all, needs_power),
    "reset loop detector": Effect(_reset_loop, _loop_ready),
}
