"""What the eye sees of photo beams and around them: a light, a lens, a post, a branch. Words, never a verdict."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from sim.devices.optics import beams_of, looks
from sim.site import Beam

if TYPE_CHECKING:
    from collections.abc import Callable

    from sim.instruments.instrument import PlaceKind, Use
    from sim.world.world import World

NONE: Final = "no photo beam there"

SEEN_OFF_DEG: Final = 8.0
"""An end turned further off its line than this is seen to be [°]. CP, no source."""

SEEN_DIRT: Final = 0.3
"""A lens that loses more of its light than this looks dull [-]. CP, no source."""

SEEN_NEAR_M: Final = 0.3
"""What grows nearer than this to a beam is seen to be near it [m]. CP, no source."""

SEEN_BRIGHT: Final = 0.3
"""A surface that throws back more than this is bright to the eye [-]. CP, no source."""


def _beam(world: World, use: Use) -> Beam | None:
    return beams_of(world.site).get(use.at)


def _light(world: World, use: Use) -> str:
    """The receiver's own light shows what it sees, whatever its contact does."""
    if _beam(world, use) is None:
        return NONE
    margin = world.cabinet.beam_margin(use.at)
    if margin is None:
        return "the receiver is dark, it has no feed"
    return "the receiver's light is on" if margin >= 1.0 else "the receiver's light is out"


def _lenses(world: World, use: Use) -> str:
    beam = _beam(world, use)
    if beam is None:
        return NONE
    ends = (("emitter's", beam.emitter_dirt), ("receiver's", beam.receiver_dirt))
    dull = [name for name, dirt in ends if dirt > SEEN_DIRT]
    hood = "a hood before the receiver" if beam.hood_deg <= 30.0 else "no hood before the receiver"
    return (f"webs and dew on the {' and the '.join(dull)} lens" if dull else "both lenses are clear") + f", {hood}"


def _posts(world: World, use: Use) -> str:
    beam = _beam(world, use)
    if beam is None:
        return NONE
    off = []
    for name, is_emitter in (("emitter", True), ("receiver", False)):
        if math.degrees(math.acos(min(1.0, abs(looks(beam, emitter=is_emitter)[0])))) > SEEN_OFF_DEG:
            off.append(name)
    return f"the {' and the '.join(off)} looks past the other end" if off else "both ends look at each other"


def _around(world: World, use: Use) -> str:
    beam = _beam(world, use)
    if beam is None:
        return NONE
    low, high = sorted((beam.emitter_x_m, beam.receiver_x_m))
    near = []
    for each in world.site.surroundings.foliage:
        apart = abs(each.y_m - beam.y_m) - each.along_y_m / 2.0
        beside = low - each.along_x_m / 2.0 <= each.x_m <= high + each.along_x_m / 2.0
        if apart < SEEN_NEAR_M and beside and each.bottom_m <= beam.height_m <= each.top_m:
            near.append(f"the {each.name} reaches to the beam")
    near += [f"the {each.name} shines" for each in world.site.surroundings.mirrors if each.reflectance > SEEN_BRIGHT]
    return ", ".join(near) if near else "nothing near the beam"


SEEN: Final[dict[str, tuple[PlaceKind, str, Callable[[World, Use], str]]]] = {
    "light of a photo beam": ("guard", "At the small light of a beam's receiver.", _light),
    "lenses of a photo beam": ("guard", "At both lenses of a beam, and the receiver's hood.", _lenses),
    "posts of a photo beam": ("guard", "At both posts of a beam, from one to the other.", _posts),
    "what is near a photo beam": ("guard", "Along a beam: what grows there, what shines.", _around),
}
