"""How much light of an emitter comes to a receiver, as a share of what the receiver just needs. No state.

A pair that is aimed, clean and in clear air just works over its rated range, and light thins with the square of the
way (a point source). Off its axis an emitter shines, and a receiver sees, as a generalised Lambertian source: cosᵐ of
the angle, m = −ln 2 / ln cos(half width) (Kahn and Barry, Proceedings of the IEEE 85, 1997, from memory). Air takes
light by Beer and Lambert: exp(−σ·way), with σ = 3.912 / visibility in fog (Koschmieder, a contrast of 2 %) and
1.076·R^0.67 dB/km in rain of R mm/h (Carbonneau and Wisely, 1998, from memory). The sun in a receiver's field raises
what it needs. Mirrors are ways by the image of the emitter.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, TypeAlias

from sim.devices.sightline import Box, Spot, pierced
from sim.mechanics.sun import FULL_SUN_W_M2, direct_w_m2, julian_day, place_of_sun
from sim.site import Beam, Mirror, Site, Surroundings, Weather

CONTRAST: Final = 3.912
"""−ln of the 2 % contrast that is just seen at the visibility [-]: Koschmieder."""

WET_MM_H: Final = 5.0
"""In this much rain a lens without a cover is as wet as it gets [mm/h]. Common practice, no source."""

FAINT: Final = 1e-3
"""Less light than this share of what a receiver needs is none. Ours."""

Light: TypeAlias = tuple[tuple[str, float], ...]
"""Light at one receiver: (guard whose emitter it comes from, share of what the receiver just needs)."""


@dataclass(frozen=True, slots=True)
class Leaves:
    """A box that lets some light through."""

    box: Box
    opacity: float


@dataclass(frozen=True, slots=True)
class Scene:
    """Everything that decides where light comes and how much."""

    beams: Mapping[str, Beam]
    bodies: tuple[Box, ...] = ()
    foliage: tuple[Leaves, ...] = ()
    mirrors: tuple[Mirror, ...] = ()
    visibility_m: float = math.inf
    rain_mm_h: float = 0.0
    sun: Spot = (0.0, 0.0, -1.0)
    """Where the sun stands, as a direction in the gate's axes of length 1."""
    sunlight: float = 0.0
    """How strong it shines as a share of full sun."""


def beams_of(site: Site) -> dict[str, Beam]:
    """The beams that are fitted, by their guards' names."""
    found = {guard: site.guards.device(guard) for guard in ("outer beam", "inner beam")}
    return {guard: device for guard, device in found.items() if isinstance(device, Beam)}


# directions


def lobe(cosine: float, half_width_deg: float) -> float:
    """Strength off the axis as a share of that on it [-], by the cosine of the angle."""
    if cosine <= 0.0:
        return 0.0
    order = -math.log(2.0) / math.log(math.cos(math.radians(half_width_deg)))
    return math.exp(order * math.log(min(1.0, cosine)))


def looks(beam: Beam, *, emitter: bool) -> Spot:
    """Where one end of a pair looks: a direction of length 1."""
    along = 1.0 if (beam.receiver_x_m >= beam.emitter_x_m) is emitter else -1.0
    aim = math.radians(beam.emitter_aim_deg if emitter else beam.receiver_aim_deg)
    lean = math.radians(beam.emitter_lean_deg if emitter else beam.receiver_lean_deg)
    return along * math.cos(aim) * math.cos(lean), math.sin(aim) * math.cos(lean), math.sin(lean)


def stands(beam: Beam, *, emitter: bool) -> Spot:
    """Where one end of a pair stands [m]."""
    return beam.emitter_x_m if emitter else beam.receiver_x_m, beam.y_m, beam.height_m


def _cosine(axis: Spot, start: Spot, end: Spot, way: float) -> float:
    return sum(a * (e - s) for a, s, e in zip(axis, start, end, strict=True)) / way


# what air, rain and lenses leave


def air_share(way_m: float, visibility_m: float, rain_mm_h: float = 0.0) -> float:
    """What fog and rain leave of the light over a way [-]."""
    rain_db = 1.076 * math.pow(rain_mm_h, 0.67) * way_m / 1000.0 if rain_mm_h > 0.0 else 0.0
    return math.exp(-CONTRAST / visibility_m * way_m) * math.pow(10.0, -rain_db / 10.0)


def lens_share(dirt: float, rain_loss: float, rain_mm_h: float) -> float:
    """What a lens lets through [-]."""
    return (1.0 - dirt) * (1.0 - rain_loss * min(1.0, rain_mm_h / WET_MM_H))


def _legs(start: Spot, end: Spot, by: Spot | None) -> tuple[tuple[Spot, Spot], ...]:
    return ((start, end),) if by is None else ((start, by), (by, end))


def _through(scene: Scene, one: Spot, other: Spot) -> float:
    """What foliage leaves of the light on a straight way."""
    share = 1.0
    for each in scene.foliage:
        if pierced(one, other, each.box) is not None:
            share *= 1.0 - each.opacity
    return share


# ways of the light


def _image(mirror: Mirror, spot: Spot) -> Spot | None:
    """The image of a spot in a mirror's plane; None for a mirror without extent."""
    dx, dy = mirror.to_x_m - mirror.from_x_m, mirror.to_y_m - mirror.from_y_m
    length = math.hypot(dx, dy)
    if length == 0.0:
        return None
    off = ((spot[1] - mirror.from_y_m) * dx - (spot[0] - mirror.from_x_m) * dy) / length
    return spot[0] + 2.0 * off * dy / length, spot[1] - 2.0 * off * dx / length, spot[2]


def bounce(mirror: Mirror, start: Spot, end: Spot) -> Spot | None:
    """Where light from one spot strikes a mirror on its way to another; None when it misses the mirror."""
    image = _image(mirror, start)
    if image is None:
        return None
    dx, dy = mirror.to_x_m - mirror.from_x_m, mirror.to_y_m - mirror.from_y_m
    way_x, way_y = end[0] - image[0], end[1] - image[1]
    turned = way_x * dy - way_y * dx
    if turned == 0.0:
        return None
    from_x, from_y = mirror.from_x_m - image[0], mirror.from_y_m - image[1]
    share = (from_x * dy - from_y * dx) / turned
    along = (from_x * way_y - from_y * way_x) / turned
    height = image[2] + share * (end[2] - image[2])
    if not (0.0 < share < 1.0 and 0.0 <= along <= 1.0 and mirror.bottom_m <= height <= mirror.top_m):
        return None
    return image[0] + share * way_x, image[1] + share * way_y, height


@dataclass(frozen=True, slots=True)
class Way:
    """One way of the light to a receiver, with nobody about."""

    emitter: str
    """The guard whose emitter it comes from."""
    legs: tuple[tuple[Spot, Spot], ...]
    light: float
    """Share of what the receiver needs now."""


def _gain(scene: Scene, source: Beam, sink: Beam, by: Spot | None, thrown: float) -> float:
    """Light of one emitter at one receiver, straight or by a spot on a mirror, with nobody about."""
    start, end = stands(source, emitter=True), stands(sink, emitter=False)
    first, last = (end, start) if by is None else (by, by)
    legs = _legs(start, end, by)
    way = sum(math.dist(*leg) for leg in legs)
    if way == 0.0:
        return 0.0
    share = thrown * air_share(way, scene.visibility_m, scene.rain_mm_h)
    share *= lobe(_cosine(looks(source, emitter=True), start, first, math.dist(start, first)), source.lobe_deg)
    share *= lobe(_cosine(looks(sink, emitter=False), end, last, math.dist(end, last)), sink.acceptance_deg)
    share *= lens_share(source.emitter_dirt, source.rain_loss, scene.rain_mm_h)
    share *= lens_share(sink.receiver_dirt, sink.rain_loss, scene.rain_mm_h)
    for leg in legs:
        share *= _through(scene, *leg)
    return share * (source.rated_range_m / way) ** 2


def dazzled(scene: Scene, beam: Beam) -> float:
    """How many times what it needs in the dark a receiver needs in this sun [-]."""
    cosine = sum(a * b for a, b in zip(looks(beam, emitter=False), scene.sun, strict=True))
    if scene.sunlight <= 0.0 or cosine <= math.cos(math.radians(beam.hood_deg)):
        return 1.0
    lens = lens_share(beam.receiver_dirt, beam.rain_loss, scene.rain_mm_h)
    return 1.0 + beam.dazzle * scene.sunlight * lobe(cosine, beam.acceptance_deg) * lens


def ways_to(scene: Scene, guard: str) -> tuple[Way, ...]:
    """The ways from every emitter on its channel to a guard's receiver, were nobody about."""
    sink = scene.beams[guard]
    needs, end = dazzled(scene, sink), stands(sink, emitter=False)
    found = []
    for name, source in scene.beams.items():
        if source.channel != sink.channel:
            continue
        start = stands(source, emitter=True)
        spots = [(bounce(mirror, start, end), mirror.reflectance) for mirror in scene.mirrors]
        for by, thrown in [(None, 1.0), *((spot, thrown) for spot, thrown in spots if spot is not None)]:
            light = _gain(scene, source, sink, by, thrown) / needs
            if light >= FAINT:
                found.append(Way(name, _legs(start, end, by), light))
    return tuple(found)


def light_by(ways: tuple[Way, ...], bodies: tuple[Box, ...]) -> Light:
    """What comes by some ways past bodies."""
    total: dict[str, float] = {}
    for way in ways:
        if not any(pierced(*leg, body) is not None for leg in way.legs for body in bodies):
            total[way.emitter] = total.get(way.emitter, 0.0) + way.light
    return tuple(total.items())


def light_at(scene: Scene, guard: str) -> Light:
    """What comes to a guard's receiver of each emitter on its channel, over what it needs now."""
    return light_by(ways_to(scene, guard), scene.bodies)


def sun_over(surroundings: Surroundings, hour: float) -> tuple[Spot, float]:
    """(direction to the sun in the gate's axes, strength of a clear sky's sun as a share of full sun).

    `hour` is what the site's clocks show [h]; 24 and more is the next day.
    """
    julian = julian_day(surroundings.year, surroundings.day, hour - surroundings.clock_ahead_h)
    sun = place_of_sun(julian, math.radians(surroundings.latitude_deg), math.radians(surroundings.longitude_deg))
    from_x = sun.azimuth - math.radians(surroundings.x_bearing_deg)
    level = math.cos(sun.elevation)
    towards = level * math.cos(from_x), -level * math.sin(from_x), math.sin(sun.elevation)
    return towards, direct_w_m2(sun.elevation) / FULL_SUN_W_M2


def clear(site: Site) -> Scene:
    """A site with nobody about, in the weather it was built with, without sun."""
    return in_weather(site, site.weather)


def in_weather(
    site: Site,
    weather: Weather,
    *,
    bodies: tuple[Box, ...] = (),
    foliage: tuple[Leaves, ...] = (),
    sun: tuple[Spot, float] = ((0.0, 0.0, -1.0), 0.0),
) -> Scene:
    """A site as it stands, with who is about and how the sun stands."""
    return Scene(
        beams=beams_of(site),
        bodies=bodies,
        foliage=foliage,
        mirrors=site.surroundings.mirrors,
        visibility_m=weather.visibility_m,
        rain_mm_h=weather.rain_mm_h,
        sun=sun[0],
        sunlight=sun[1] * weather.sunshine,
    )
