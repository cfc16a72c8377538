"""Repairs of edges, loops, radio and timer that are facts of the site or of a memory."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from sim.site import Site
from sim.world.mending.row import Mend

if TYPE_CHECKING:
    from sim.world.world import World


def _from_the_list(world: World) -> None:
    """Write the memory anew from the paper that says who carries which: what was enrolled when the gate was handed
    over, without what nobody on it carries."""
    world.know(world.transmitter_list)


def rows(site: Site) -> Iterator[Mend]:
    """A new cell, and a new transmitter, for each in the box."""
    for index, hand in enumerate(site.transmitters):
        cell = f"{hand.tag} cell"
        path = f"transmitters.{index}"
        yield Mend("replace", cell, site=(f"{path}.charge",), seconds=120.0, dead=False, parts=("cell",))
        yield Mend("replace", hand.tag, site=(path,), seconds=120.0, dead=False, parts=("transmitter",))


ROWS: Final[tuple[Mend, ...]] = (
    Mend("dry", "active edge", site=("guards.active_edge.water",), seconds=1800.0),
    Mend("dry", "inactive edge", site=("guards.inactive_edge.water",), seconds=1800.0),
    Mend(
        "replace",
        "active edge",
        site=("guards.active_edge.dead_from_m", "guards.active_edge.dead_to_m", "guards.active_edge.water"),
        seconds=2400.0,
        parts=("edge profile",),
        dead=True,
    ),
    Mend(
        "replace",
        "inactive edge",
        site=("guards.inactive_edge.dead_from_m", "guards.inactive_edge.dead_to_m", "guards.inactive_edge.water"),
        seconds=2400.0,
        parts=("edge profile",),
        dead=True,
    ),
    Mend(
        "replace",
        "inactive edge transmitter cell",
        site=("guards.inactive_edge.radio.charge",),
        seconds=300.0,
        dead=False,
        parts=("cell",),
    ),
    Mend(
        "replace",
        "active edge transmitter cell",
        site=("guards.active_edge.radio.charge",),
        seconds=300.0,
        dead=False,
        parts=("cell",),
    ),
    Mend("adjust", "loop frequency", site=("access.loop.neighbour_khz",), seconds=600.0, dead=False),
    Mend("clear away", "metal near the loop", site=("access.loop.stray_metal",), seconds=900.0, dead=False),
    Mend("adjust", "timer programme", site=("access.timer",), seconds=300.0, dead=False),
    Mend(
        "replace",
        "radio receiver aerial",
        site=("access.receiver.aerial_mm",),
        seconds=600.0,
        parts=("aerial wire of 173 mm",),
    ),
    Mend("clear away", "radio channel", site=("access.receiver.interferer_dbm",), seconds=3600.0, dead=False),
    Mend("clear away", "transmitter memory", seconds=600.0, dead=False, does=_from_the_list),
)
