"""The light of the photo beams in the yard: who stands in it, what sways into it, where the sun stands.

It is worked out anew when something of that changed, and not before. Gusts move foliage at their knots and the sun
moves at whole minutes of the visible clock; of both only the next instant at which light really changes is queued,
looked for ahead. A site without foliage or without sun queues nothing.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from sim.devices import optics
from sim.devices.beam import RELEASE
from sim.devices.sightline import Box, Spot, cut_at, pierced
from sim.mechanics import gust
from sim.mechanics.hanging import mean_wind
from sim.mechanics.yard import Body
from sim.site import Beam, Foliage, Site, Weather
from sim.units import MINUTE, SCAN, SECOND, next_on_grid
from sim.world.clock import Phase

if TYPE_CHECKING:
    from sim.world.world import World

BEAMS: Final = ("outer beam", "inner beam")

KNOT: Final = round(gust.KNOT_S * SECOND)
"""From knot to knot of the gusts [µs]."""

KNOTS_AHEAD: Final = 240
"""So many knots are looked through at a time: a minute."""

MINUTES_AHEAD: Final = 24 * 60
"""The sun is looked for a day ahead."""

DAZZLE_STEP: Final = 0.02
"""A sun that changes what a receiver needs by less than this share changes nothing. Ours."""

SWAY_WIND_M_S: Final = 10.0
"""The wind for which a site says how far foliage bends."""


def box_of(body: Body) -> Box:
    """The box that a body fills."""
    return Box(body.x_m, body.y_m, *body.size_m, turn=body.turn)


class Beams:
    """What comes to every receiver; one for a world."""

    def __init__(self, world: World) -> None:
        self._world = world
        self.covered: set[str] = set()
        """Beams with a card before their receiver."""
        self.listeners: list[Callable[[], None]] = []
        """Called when light at a receiver changed: nobody polls for it."""
        self._light: dict[str, optics.Light] = {}
        self._faint: set[str] = set()
        """Beams whose own light is too little, with a receiver's hysteresis."""
        self._begun = False
        self._kept: tuple[Site, Weather, tuple[bool, int, int], dict[str, tuple[optics.Way, ...]]] | None = None
        self._asked: dict[str, object] = {}
        self._turns = {"sun": 0, "foliage": 0}

    def begin(self) -> bool:
        """The visible clock starts: sun and foliage count from now on. True if a contact moved."""
        self._begun = True
        return self.changed()

    # -- what comes to the receivers -------------------------------------------------------------------

    def changed(self) -> bool:
        """Something moved, or was turned, wiped or lit: what comes to each receiver. True if a contact moved."""
        world = self._world
        bodies = tuple(box_of(body) for body in world.people.bodies.values())
        moved, before = False, dict(self._light)
        for guard, ways in self._ways_now().items():
            self._light[guard] = optics.light_by(ways, bodies)
            enough = 1.0 if guard in self._faint else RELEASE
            own = dict(self._light[guard]).get(guard, 0.0)
            (self._faint.discard if own >= enough else self._faint.add)(guard)
            moved = world.cabinet.set_beam_blocked(guard, guard in self.covered) or moved
            moved = world.cabinet.set_beam_light(guard, self._light[guard]) or moved
        self._look_ahead()
        if self._light != before:
            for listener in self.listeners:
                listener()
        return moved

    def is_tripped(self, guard: str) -> bool:
        """Whether too little of a pair's own light comes: covered, cut, dirty, turned away, dazzled."""
        beam = self._beam(guard)
        if beam is None:
            return False
        if guard in self.covered or not math.isnan(self.cut_at(guard)):
            return True
        return guard in self._faint

    def cut_at(self, guard: str) -> float:
        """Where along a beam [m from the active hinge] a body cuts it; NaN when none does."""
        beam = self._beam(guard)
        if beam is None:
            return math.nan
        found = (cut_at(beam, box_of(body)) for body in self._world.people.bodies.values())
        return next((at for at in found if at is not None), math.nan)

    def _beam(self, guard: str) -> Beam | None:
        device = self._world.site.guards.device(guard)
        return device if isinstance(device, Beam) else None

    def _ways_now(self) -> dict[str, tuple[optics.Way, ...]]:
        """Every way of the light, worked out anew when something but the bodies changed."""
        world = self._world
        sways = bool(world.site.surroundings.foliage) and world.weather.gust_intensity > 0.0
        shines = world.weather.sunshine > 0.0
        when = (self._begun, int(world.now) // KNOT if sways else 0, self._minute() if shines else 0)
        kept = self._kept
        if kept is None or kept[0] is not world.site or kept[1] is not world.weather or kept[2] != when:
            scene = self._scene()
            ways = {guard: optics.ways_to(scene, guard) for guard in scene.beams}
            self._kept = kept = (world.site, world.weather, when, ways)
        return kept[3]

    def _scene(self) -> optics.Scene:
        world = self._world
        knot = int(world.now) // KNOT
        return optics.in_weather(
            world.site,
            world.weather,
            foliage=self._swayed(self._gusts(knot, 1)[0]),
            sun=self._sun(self._minute()),
        )

    # -- what sways ------------------------------------------------------------------------------------

    def _gusts(self, first: int, count: int) -> list[float]:
        world = self._world
        if not self._begun or not world.site.surroundings.foliage or world.weather.gust_intensity == 0.0:
            return [0.0] * count
        # as the leaves feel it: how long a gust hangs together stays what the site was built with
        found = gust.knots(world.seed, world.designed.weather.gust_time_s, first, count)
        return [float(each) for each in found]

    def _swayed(self, gusty: float) -> tuple[optics.Leaves, ...]:
        """Foliage where wind has bent it, at a gust of so many deviations."""
        weather = self._world.weather
        speed = mean_wind(weather) * (1.0 + weather.gust_intensity * gusty) if self._begun else 0.0
        bent = speed * abs(speed) / SWAY_WIND_M_S**2
        towards = math.radians(weather.wind_from_deg)
        return tuple(
            optics.Leaves(
                Box(
                    each.x_m - each.sway_m * bent * math.sin(towards),
                    each.y_m - each.sway_m * bent * math.cos(towards),
                    each.along_x_m,
                    each.along_y_m,
                    each.top_m - each.bottom_m,
                    each.bottom_m,
                ),
                each.opacity,
            )
            for each in self._world.site.surroundings.foliage
        )

    def _may_sway_in(self, each: Foliage) -> bool:
        """Whether the strongest gust there can be bends it into a beam's own line; with mirrors about, any may."""
        weather = self._world.weather
        most = math.sqrt(3.0 * gust.weights(self._world.designed.weather.gust_time_s).size)
        bent = each.sway_m * (mean_wind(weather) * (1.0 + weather.gust_intensity * most) / SWAY_WIND_M_S) ** 2
        reach = Box(
            each.x_m,
            each.y_m,
            each.along_x_m + 2.0 * bent,
            each.along_y_m + 2.0 * bent,
            each.top_m - each.bottom_m,
            each.bottom_m,
        )
        beams = optics.beams_of(self._world.site).values()
        ends = [(optics.stands(b, emitter=True), optics.stands(b, emitter=False)) for b in beams]
        return bool(self._world.site.surroundings.mirrors) or any(pierced(*pair, reach) is not None for pair in ends)

    def _next_sway(self) -> int | None:
        """The first knot from now on at which foliage changes some light; None when none ever does."""
        world = self._world
        weather = world.weather
        if weather.gust_intensity == 0.0 or mean_wind(weather) == 0.0:
            return None
        if not any(self._may_sway_in(each) for each in world.site.surroundings.foliage):
            return None
        first = int(world.now) // KNOT
        scene = self._scene()
        now = [optics.light_at(scene, guard) for guard in scene.beams]
        for ahead, gusty in enumerate(self._gusts(first + 1, KNOTS_AHEAD), first + 1):
            there = replace(scene, foliage=self._swayed(gusty))
            if [optics.light_at(there, guard) for guard in scene.beams] != now:
                return ahead * KNOT
        return (first + KNOTS_AHEAD) * KNOT

    # -- the sun ---------------------------------------------------------------------------------------

    def _minute(self) -> int:
        """Whole minutes of the visible clock."""
        return int(self._world.now - self._world.arrived) // MINUTE

    def _sun(self, minute: int) -> tuple[Spot, float]:
        site = self._world.site
        if not self._begun or self._world.weather.sunshine == 0.0:
            return (0.0, 0.0, -1.0), 0.0
        return optics.sun_over(site.surroundings, math.fmod(site.starts_at_h + minute / 60.0, 24.0))

    def _next_sun(self) -> int | None:
        """The next whole minute at which the sun dazzles a receiver otherwise than now; None when it never does."""
        world = self._world
        if world.weather.sunshine == 0.0:
            return None
        scene, first = self._scene(), self._minute()
        now = [optics.dazzled(scene, beam) for beam in scene.beams.values()]
        for minute in range(first + 1, first + 1 + MINUTES_AHEAD):
            towards, strength = self._sun(minute)
            there = replace(scene, sun=towards, sunlight=strength * world.weather.sunshine)
            then = [optics.dazzled(there, beam) for beam in scene.beams.values()]
            if any(abs(a - b) > DAZZLE_STEP * b for a, b in zip(then, now, strict=True)):
                return int(world.arrived) + minute * MINUTE
        return None

    # -- looking ahead ---------------------------------------------------------------------------------

    def _look_ahead(self) -> None:
        """Queue what changes next by itself, when what decides it is not what it was."""
        if not self._begun:
            return
        site, weather = self._world.site, self._world.weather
        asked = (optics.beams_of(site), site.surroundings, weather)
        if site.surroundings.foliage:
            self._ask("foliage", asked, self._next_sway)
        if weather.sunshine > 0.0 or "sun" in self._asked:
            self._ask("sun", (*asked, site.starts_at_h), self._next_sun)

    def _ask(self, name: str, asked: object, find: Callable[[], int | None]) -> None:
        if self._asked.get(name) == asked:
            return
        self._asked[name] = asked
        self._turns[name] = turn = self._turns[name] + 1
        when = find()
        if when is None:
            return

        def come() -> None:
            if self._turns[name] == turn:
                del self._asked[name]
                self._world.people.beams_changed()

        at = next_on_grid(max(when, int(self._world.now) + SCAN), SCAN)
        self._world.clock.at(at, Phase.HAND, come, f"{name} in a photo beam")
