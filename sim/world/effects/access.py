"""Transmitters: pressing them, enrolling them, deleting them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.controller.ports import RadioWord
from sim.errors import Refused
from sim.units import SCAN
from sim.world.actions import Action
from sim.world.effects.effect import Effect
from sim.world.effects.sheet import needs_power, panel_words

if TYPE_CHECKING:
    from sim.world.world import World


def _press(world: World, action: Action) -> str:
    tag, button = str(action["transmitter"]), int(action["button"])
    world.counters[tag] = world.counters.get(tag, 0) + 1
    world.held[f"transmitter {tag}"] = lambda: _send(world, tag, button, pressed=False)
    world.buttons[tag] = button
    world.notices.command_given("transmitter", tag)
    _send(world, tag, button, pressed=True)
    return f"{tag}: button {button} held."


def _release(world: World, action: Action) -> str:
    tag = str(action["transmitter"])
    world.held.pop(f"transmitter {tag}", None)
    _send(world, tag, world.buttons.get(tag, 1), pressed=False)
    return f"{tag}: button let go."


def _send(world: World, tag: str, button: int, *, pressed: bool) -> None:
    serial = next(t.serial for t in world.site.transmitters if t.tag == tag)
    world.hear(RadioWord(serial, button, world.counters.get(tag, 0), pressed))


def _enrol(world: World, action: Action) -> str:
    world.request("enrol", str(action["holder"]), str(action["function"]))
    world.run_to(world.now + 2 * SCAN)
    return panel_words(world)


def _delete(world: World, action: Action) -> str:
    world.request("delete transmitter", str(action["holder"]))
    world.run_to(world.now + 2 * SCAN)
    return panel_words(world)


def _known(world: World, action: Action) -> None:
    tags = [t.tag for t in world.site.transmitters]
    tag = str(action["transmitter"])
    if tag not in tags:
        raise Refused(f"there is no transmitter '{tag}' in the box; there are: {', '.join(tags) or 'none'}")


def _press_ready(world: World, action: Action) -> None:
    _known(world, action)
    tag, button = str(action["transmitter"]), int(action["button"])
    if f"transmitter {tag}" in world.held:
        raise Refused(f"a button of {tag} is held already")
    buttons = next(t.buttons for t in world.site.transmitters if t.tag == tag)
    if button > buttons:
        raise Refused(f"{tag} has {buttons} buttons; there is no button {button}")


EFFECTS = {
    "press transmitter": Effect(_press, _press_ready),
    "release transmitter": Effect(_release, _known),
    "enrol transmitter": Effect(_enrol, needs_power),
    "delete transmitter": Effect(_delete, needs_power),
}
