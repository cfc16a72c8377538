"""What the eye sees of photo beams and around them: a light, a lens, a post, a branch. Words, never a verdict."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from sim.devices.optics import beams_of, looks
from sim.said import joined, said
from sim.site import Beam

if TYPE_CHECKING:
    from collections.abc import Callable

    from sim.instruments.instrument import PlaceKind, Use
    from sim.world.world import World

NONE: Final = said("no photo beam there")

LENSES: Final = {
    (False, False): said("both lenses are clear"),
    (True, False): said("webs and dew on the emitter's lens"),
    (False, True): said("webs and dew on the receiver's lens"),
    (True, True): said("webs and dew on the emitter's and the receiver's lens"),
}
"""What the lenses look like: whether the emitter's is dull, whether the receiver's is."""

POSTS: Final = {
    (False, False): said("both ends look at each other"),
    (True, False): said("the emitter looks past the other end"),
    (False, True): said("the receiver looks past the other end"),
    (True, True): said("the emitter and the receiver looks past the other end"),
}
"""Where the ends look: whether the emitter looks past the receiver, whether the receiver past it."""

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
        return said("the receiver is dark, it has no feed")
    return said("the receiver's light is on" if margin >= 1.0 else "the receiver's light is out")


def _lenses(world: World, use: Use) -> str:
    beam = _beam(world, use)
    if beam is None:
        return NONE
    hood = said("a hood before the receiver" if beam.hood_deg <= 30.0 else "no hood before the receiver")
    dull = beam.emitter_dirt > SEEN_DIRT, beam.receiver_dirt > SEEN_DIRT
    return said("{lenses}, {hood}", lenses=LENSES[dull], hood=hood)


def _posts(world: World, use: Use) -> str:
    beam = _beam(world, use)
    if beam is None:
        return NONE
    emitter, receiver = (
        math.degrees(math.acos(min(1.0, abs(looks(beam, emitter=is_emitter)[0])))) > SEEN_OFF_DEG
        for is_emitter in (True, False)
    )
    return POSTS[emitter, receiver]


def _around(world: World, use: Use) -> str:
    beam = _beam(world, use)
    if beam is None:
        return NONE
    low, high = sorted((beam.emitter_x_m, beam.receiver_x_m))
    near: list[str] = []
    for each in world.site.surroundings.foliage:
        apart = abs(each.y_m - beam.y_m) - each.along_y_m / 2.0
        beside = low - each.along_x_m / 2.0 <= each.x_m <= high + each.along_x_m / 2.0
        if apart < SEEN_NEAR_M and beside and each.bottom_m <= beam.height_m <= each.top_m:
            near.append(said("the {what} reaches to the beam", what=each.name))
    near += [
        said("the {what} shines", what=each.name)
        for each in world.site.surroundings.mirrors
        if each.reflectance > SEEN_BRIGHT
    ]
    return joined(near, ", ") if near else said("nothing near the beam")


SEEN: Final[dict[str, tuple[PlaceKind, str, Callable[[World, Use], str]]]] = {
    "light of a photo beam": ("guard", "At the small light of a beam's receiver.", _light),
    "lenses of a photo beam": ("guard", "At both lenses of a beam, and the receiver's hood.", _lenses),
    "posts of a photo beam": ("guard", "At both posts of a beam, from one to the other.", _posts),
    "what is near a photo beam": ("guard", "Along a beam: what grows there, what shines.", _around),
}
