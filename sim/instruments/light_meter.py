"""The light meter: how light it is in front of the gate, by day and by the yard light."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from sim.instruments.course import live_now
from sim.instruments.instrument import Function, Group, Use
from sim.instruments.scaled import Row, Scale, Scaled
from sim.mechanics.sun import direct_w_m2, julian_day, place_of_sun
from sim.site.electrics import YardLight

if TYPE_CHECKING:
    from sim.world.world import World

SUN_LM_W: Final = 105.0
"""Light of the direct sun for its strength [lm/W]. Common figure of daylight engineering, from memory."""

SKY_LUX: Final = 12_000.0
"""What an open sky gives under a high sun [lx]; it goes with the sine of the sun's height. CP, no source."""

LAMP_LM_W: Final = 100.0
"""A lamp's light for its watts [lm/W]. CP, no source."""

LAMP_M: Final = 4.0
"""From the yard light to the ground before the gate [m]. CP, no source."""


def daylight_lux(world: World) -> float:
    """On level ground [lx]: direct sun through what clouds leave, and the sky."""
    here = world.site.surroundings
    universal_h = world.hour() - here.clock_ahead_h
    sun = place_of_sun(
        julian_day(here.year, here.day, universal_h),
        math.radians(here.latitude_deg),
        math.radians(here.longitude_deg),
    )
    high = math.sin(sun.elevation)
    if high <= 0.0:
        return 0.0
    return (SUN_LM_W * direct_w_m2(sun.elevation) * world.weather.sunshine + SKY_LUX) * high


def lamp_lux(world: World) -> float:
    """What the yard light gives on the ground before the gate [lx]: half a sphere of it, from its watts."""
    light = world.site.yard_light
    if not isinstance(light, YardLight):
        return 0.0
    amps = float(world.cabinet.look().amps("yard light, load", live_now(world)))
    return LAMP_LM_W * amps * amps * light.ohm / (2.0 * math.pi * LAMP_M**2)


def _lux(world: World, use: Use) -> float:
    return daylight_lux(world) + lamp_lux(world)


class LightMeter(Scaled):
    """The light meter of a bag."""

    name = "light meter"
    group: Group = "surroundings"
    help = "How light it is on the ground before the gate."
    rows = (
        Row(
            Function("light on the ground", "lx", "Laid on the ground in the opening, clear of shadows.", at=""),
            _lux,
            Scale(0.5, 0.3, 0.0, 200_000.0),
        ),
    )
