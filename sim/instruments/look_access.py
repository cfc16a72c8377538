"""What the eye sees of edges, loop, aerial and transmitters: lights, cuts, drops. Words, never a verdict."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.devices import radio_link
from sim.said import joined, said
from sim.site import Edge, PresenceLoop
from sim.world import radio

if TYPE_CHECKING:
    from collections.abc import Callable

    from sim.instruments.instrument import PlaceKind, Use
    from sim.world.world import World

WHOLE_AERIAL_MM: Final = 150.0
"""A wire shorter than this doesn't look whole [mm]. CP, no source."""

BRIGHT_DB: Final = -3.0
"""With less than this left a transmitter's light is seen to be weak [dB]. CP, no source."""


def _aerial(world: World, use: Use) -> str:
    length = world.site.access.receiver.aerial_mm
    return said(
        "a straight wire, {length_mm:.0f} mm long"
        if length >= WHOLE_AERIAL_MM
        else "a stub of wire, broken off at {length_mm:.0f} mm",
        length_mm=length,
    )


def _lights(world: World, use: Use) -> str:
    if not isinstance(world.site.access.loop, PresenceLoop) or world.cabinet.loop is None:
        return said("no loop detector is fitted")
    if not world.cabinet.loop_fed():
        return said("all dark")
    if not world.cabinet.loop_runs():
        return said("the fault light is on")
    calls = world.cabinet.loop.present or world.cabinet.loop.disturbed
    return said("power light on, presence light on" if calls else "power light on, presence light off")


def _transmitter(world: World, use: Use) -> str:
    left = radio_link.droop_db(radio.transmitter(world, use.at).charge)
    if left is None:
        return said("its light stays dark")
    return said("its light is weak" if left < BRIGHT_DB else "its light is bright")


def _profile(world: World, use: Use) -> str:
    device = world.site.guards.device(use.at)
    if not isinstance(device, Edge):
        return said("no profile there")
    seen: list[str] = []
    if device.dead_from_m < device.dead_to_m:
        seen.append(
            said(
                "cut open between {from_mm:.0f} and {to_mm:.0f} mm",
                from_mm=device.dead_from_m * 1000,
                to_mm=device.dead_to_m * 1000,
            )
        )
    if device.water > 0.0:
        seen.append(said("water drips from its lower end"))
    return joined(seen, ", ") if seen else said("whole and dry, as far as an eye can tell")


SEEN: Final[dict[str, tuple[PlaceKind, str, Callable[[World, Use], str]]]] = {
    "receiver's aerial": ("", "At the wire that the radio receiver listens with.", _aerial),
    "loop detector's lights": ("", "At the lights of the presence loop's detector.", _lights),
    "transmitter's light": (
        "transmitter",
        "At a transmitter, pressed out of range.",
        _transmitter,
    ),
    "profile of an edge": ("guard", "Along the profile of a safety edge.", _profile),
}
"""What a look can be at, with where and how."""
