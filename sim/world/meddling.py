"""What an instructor changes out of sight: a plug pulled, a lens covered, a link laid, two cores exchanged.

It is no act of whoever is at work, so it stands in no entry; it changes the same physical facts as an act would, and
every symptom follows. It comes at a scan instant, before the scan; asking for what is so already does nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from sim.errors import Refused
from sim.units import LEAVES

if TYPE_CHECKING:
    from sim.world.world import World


@dataclass(frozen=True, slots=True)
class Meddling:
    """One change, and whether it is to be so or no longer."""

    what: Literal["swap", "unplug", "bridge", "cover"]
    target: str
    """A leaf for `swap`, else a guard."""
    on: bool
    """For `swap`: whether the cores are to be exchanged against the drawing."""


def is_so(world: World, what: str, target: str) -> bool:
    """How it stands now. Raises Refused for a change there is none of."""
    cabinet = world.cabinet
    if what == "swap" and target in LEAVES:
        return cabinet.leads_swapped(LEAVES.index(target))
    if what == "unplug":
        return target in cabinet.unplugged
    if what == "bridge":
        return target in cabinet.bridged
    if what == "cover":
        return target in world.people.covered
    raise Refused(f"nobody can meddle with '{what}' of '{target}' while the gate stands")


def meddle(world: World, change: Meddling) -> None:
    """Make it so. Called by the session at a scan instant; raises Refused if the site has no such part."""
    if is_so(world, change.what, change.target) is change.on:
        return
    if change.what == "cover":
        (world.people.covered.add if change.on else world.people.covered.discard)(change.target)
        world.people.beams_changed()
        return
    if change.what == "swap":
        world.cabinet.swap_motor_leads(LEAVES.index(change.target))  # type: ignore[arg-type]
    elif change.what == "unplug":
        (world.cabinet.unplug if change.on else world.cabinet.plug)(change.target)
    else:
        (world.cabinet.bridge if change.on else world.cabinet.unbridge)(change.target)
    world.host.rewired()
