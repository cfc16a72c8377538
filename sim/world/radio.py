"""A transmitter in a hand: the word it sends, how strong it arrives, and whether the receiver understands it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.controller.ports import RadioWord
from sim.devices import radio_link
from sim.draws import normal
from sim.errors import Refused
from sim.said import said
from sim.site import Transmitter

if TYPE_CHECKING:
    from sim.world.box import Box
    from sim.world.world import World

NEAR_M: Final = 5.0
"""Where somebody stands who doesn't say how far away [m]. CP, no source."""


def transmitter(world: Box, tag: str) -> Transmitter:
    """One of the box. Raises Refused naming those that there are."""
    for each in world.site.transmitters:
        if each.tag == tag:
            return each
    tags = ", ".join(each.tag for each in world.site.transmitters) or said("none")
    raise Refused(said("there is no transmitter '{tag}' in the box; there are: {tags}", tag=tag, tags=tags))


def word(world: Box, tag: str, button: int, *, pressed: bool) -> RadioWord:
    """What it sends now: its counter, or the same word as ever."""
    held = transmitter(world, tag)
    fixed = held.code == "fixed"
    counter = 0 if fixed else held.presses + world.counters.get(tag, 0)
    return RadioWord(held.serial, button, counter, pressed, fixed)


def level_dbm(world: World, tag: str, distance_m: float) -> float | None:
    """Its mean level at the receiver [dBm]; None when its cell can't send."""
    held, receiver = transmitter(world, tag), world.site.access.receiver
    return radio_link.hand_way(held.erp_dbm, held.charge, distance_m, receiver).level_dbm(receiver)


def send(world: World, tag: str, button: int, *, pressed: bool, distance_m: float = NEAR_M) -> bool:
    """Send a word from a distance; True if the receiver understood it. Reflections make every press another."""
    margin = radio_link.margin_db(level_dbm(world, tag, distance_m), world.site.access.receiver)
    if margin is None:
        return False
    fading = radio_link.FADING_DB * normal(world.seed, f"transmitter {tag}", "fading", world.counters.get(tag, 0))
    if margin + fading < 0.0 or not world.cabinet.radio_hears():
        return False
    world.hear(word(world, tag, button, pressed=pressed))
    return True
