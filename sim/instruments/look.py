"""One's own eyes: what can be seen of a thing that no instrument is needed for. Words, never a verdict."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from sim.instruments import look_access, look_light
from sim.instruments.instrument import Function, Group, PlaceKind, Reading, Use, nothing
from sim.instruments.scaled import leaf_at
from sim.instruments.shown import Shown
from sim.mechanics import hanging
from sim.said import joined, said
from sim.site import Drive, HydraulicRam
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

SEEN_BOW: Final = 0.003
"""A rod bowed more than this is seen to be [m/m]. CP, no source."""

SEEN_CRACK_M: Final = 0.0005
"""A weld that lets its bracket move more than this shows a line [m]. CP, no source."""

SEEN_RACK_M: Final = 0.008
"""A leaf with diagonals further apart than this looks out of square [m]. CP, no source."""


def _rod(world: World, use: Use) -> str:
    drive = world.site.drives.pair[leaf_at(use)]
    if not isinstance(drive, Drive | HydraulicRam):
        return said("a drive without a rod")
    return said("the rod is bowed" if drive.rod_bow > SEEN_BOW else "the rod is straight, as far as an eye can tell")


def _bracket(world: World, use: Use) -> str:
    drive = world.site.drives.pair[leaf_at(use)]
    if not isinstance(drive, Drive | HydraulicRam):
        return said("a drive without a bracket of a ram")
    cracked = drive.bracket_play_m > SEEN_CRACK_M
    return said("a dark line along the weld, bright at its edges" if cracked else "paint whole over the weld")


def _release(world: World, use: Use) -> str:
    drive = world.site.drives.pair[leaf_at(use)]
    if drive.release_key == "missing":
        return said("the hook for the release key is empty")
    return said(
        "the release key hangs in its place, the release is locked"
        if world.plant.engaged(leaf_at(use))
        else "the release key hangs in its place, the release is in its free position"
    )


def _ground(world: World, use: Use) -> str:
    model = world.site.leaves.pair[leaf_at(use)]
    there = joined([ridge.name for ridge in model.ground], ", ")
    return said("{there} in the way of the leaf" if there else "bare ground all along its way", there=there)


def _strip(world: World, use: Use) -> str:
    strip = world.site.cover_strip
    if strip == "not fitted":
        return said("one leaf shuts against its closing post; there is no cover strip")
    return said(
        "the cover strip lies on the {face}, fixed to the {carrier} leaf", face=strip.face, carrier=strip.carrier
    )


def _infill(world: World, use: Use) -> str:
    solid = world.site.leaves.pair[leaf_at(use)].solidity
    return said("boarded over" if solid > 0.8 else "mostly closed" if solid > 0.5 else "open infill")


def _frame(world: World, use: Use) -> str:
    model = world.site.leaves.pair[leaf_at(use)]
    seen: list[str] = []
    if model.out_of_square_m > SEEN_RACK_M:
        seen.append(said("dented and out of square"))
    if hanging.droop(model) > 0.012:
        seen.append(said("its closing edge hangs low"))
    if model.secured != "free":
        seen.append(model.secured)
    return joined(seen, ", ") if seen else said("square and level, as far as an eye can tell")


def _stops(world: World, use: Use) -> str:
    model = world.site.leaves.pair[leaf_at(use)]
    opens = said("open stop there" if model.open_stop_fitted else "open stop not there")
    shuts = said("closed stop there" if model.closed_stop_fitted else "closed stop not there")
    return joined([opens, shuts], ", ")


_SEEN: Final[dict[str, tuple[PlaceKind, str, Callable[[World, Use], str]]]] = {
    "rod": ("leaf", "At the rod of a leaf's ram.", _rod),
    "bracket": ("leaf", "At the weld of a ram's bracket on the leaf.", _bracket),
    "manual release": ("leaf", "At a drive's manual release and its key.", _release),
    "ground under the leaf": ("leaf", "Along the ground that a leaf sweeps.", _ground),
    "cover strip": ("", "At the strip over the meeting gap, and at the leaf that carries it.", _strip),
    "infill": ("leaf", "At what fills a leaf's frame.", _infill),
    "frame": ("leaf", "Along the frame of a leaf.", _frame),
    "stops": ("leaf", "At what ends a leaf's way.", _stops),
    **look_access.SEEN,
    **look_light.SEEN,
}


class Look:
    """One's own eyes."""

    name = "look"
    group: Group = "mechanical"
    help = "What can be seen with the eye alone."
    functions = tuple(
        Function(name, "", help, at=at, takes_s=10.0, settles_s=5.0) for name, (at, help, _) in _SEEN.items()
    )

    def place(self, world: World, use: Use) -> Undo:
        """Nothing is touched."""
        return nothing

    def read(self, world: World, use: Use, index: int) -> Reading:
        """What is seen, in words."""
        return Reading(Shown(None, "", _SEEN[use.function][2](world, use)))
