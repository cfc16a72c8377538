"""What an instructor changes: a plug pulled, a lens covered, a link laid, two cores exchanged, the weather, a fault.

It is no act of whoever is at work, so it stands in no entry; it changes the same physical facts as an act would, and
every symptom follows. It comes at a scan instant, before the scan; asking for what is so already does nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, Literal

from sim.errors import Refused, ScenarioError
from sim.faults.catalogue import named
from sim.mechanics import wind
from sim.mechanics.hanging import mean_wind
from sim.said import said
from sim.site import Weather, with_changes
from sim.units import LEAVES
from sim.world.actions import Value

if TYPE_CHECKING:
    from sim.world.world import World

WEATHER_KEYS: Final = (
    "wind_m_s",
    "wind_class",
    "gust_intensity",
    "wind_from_deg",
    "temperature_c",
    "rain_mm_h",
    "visibility_m",
    "sunshine",
)
"""What of the weather can change while a gate stands; how long a gust hangs together is the place's."""


@dataclass(frozen=True, slots=True)
class Meddling:
    """One change, and whether it is to be so or no longer."""

    what: Literal["swap", "unplug", "bridge", "cover", "weather", "fault"]
    target: str = ""
    """A leaf for `swap`, a fault's name for `fault`, a guard for all else but `weather`."""
    on: bool = True
    """For `swap`: whether the cores are to be exchanged against the drawing. No matter for `weather`."""
    values: Mapping[str, Value | None] = field(default_factory=lambda: MappingProxyType({}))
    """For `weather`: keys of a site's weather and what they are to be. For `fault`: `share`, how grave, 0 to 1."""


def check(world: World, change: Meddling) -> None:
    """Raise Refused for a change there is none of, or a weather there can't be. Changes nothing."""
    reverse(world, change)
    if change.what == "weather":
        _weather(world, change.values)
    if change.what == "fault" and change.on and change.target not in dict(world.faults.present):
        world.faults.check(change.target, _share(change))


def reverse(world: World, change: Meddling) -> Meddling:
    """What would bring everything back to how it stands now. Raises Refused for a change there is none of."""
    if change.what == "weather":
        now = world.weather.model_dump()
        strange = [key for key in change.values if key not in WEATHER_KEYS]
        if strange or not change.values:
            given = said("'{key}'", key=strange[0]) if strange else said("nothing")
            allowed = ", ".join(WEATHER_KEYS)
            raise Refused(
                said(
                    "read {given} for the weather; while a gate stands can change: {keys}", given=given, keys=allowed
                )
            )
        keys = {*change.values, *(("wind_class", "wind_m_s") if "wind_m_s" in change.values else ())}
        return Meddling("weather", values=MappingProxyType({key: now[key] for key in WEATHER_KEYS if key in keys}))
    if change.what == "fault":
        named(change.target)
        share = dict(world.faults.present).get(change.target)
        values = MappingProxyType({"share": share if share is not None else _share(change)})
        return Meddling("fault", change.target, share is not None, values)
    return Meddling(change.what, change.target, _is_so(world, change.what, change.target))


def _share(change: Meddling) -> float:
    """How grave a fault is to be; at its gravest if nothing is said."""
    share = change.values.get("share", 1.0)
    if isinstance(share, (str, bool)) or share is None or not 0.0 <= share <= 1.0:
        raise Refused(
            said(
                "read {share!r} for the share of '{fault}'; allowed: 0 (mild) to 1 (grave)",
                share=share,
                fault=change.target,
            )
        )
    return float(share)


def _is_so(world: World, what: str, target: str) -> bool:
    cabinet = world.cabinet
    if what == "swap" and target in world.site.leaves.fitted:
        return cabinet.leads_swapped(LEAVES.index(target))  # type: ignore[arg-type]
    if what == "unplug":
        return target in cabinet.unplugged
    if what == "bridge":
        return target in cabinet.bridged
    if what == "cover":
        return target in world.people.covered
    raise Refused(
        said("nobody can meddle with '{what}' of '{target}' while the gate stands", what=what, target=target)
    )


def meddle(world: World, change: Meddling) -> None:
    """Make it so. Called by the session at a scan instant; raises Refused if the site has no such part."""
    _change(world, change)
    world.seen()


def _change(world: World, change: Meddling) -> None:
    if change.what == "weather":
        _change_weather(world, _weather(world, change.values))
        return
    if change.what == "fault":
        _ail(world, change)
        return
    if _is_so(world, change.what, change.target) is change.on:
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


def _ail(world: World, change: Meddling) -> None:
    """A fault comes or goes; one that somebody mended meanwhile has gone already."""
    is_there = change.target in dict(world.faults.present)
    if change.on and not is_there:
        world.faults.bring(change.target, _share(change))
    elif is_there and not change.on:
        world.faults.cure(change.target)


def _weather(world: World, values: Mapping[str, Value | None]) -> Weather:
    """The weather with some of it changed; a speed of its own ends a wind by class."""
    changed = dict(values)
    if "wind_m_s" in changed:
        changed.setdefault("wind_class", None)
    standing = world.site.model_copy(update={"weather": world.weather})
    try:
        return with_changes(standing, {f"weather.{key}": value for key, value in changed.items()}).weather
    except ScenarioError as error:
        raise Refused(str(error)) from error


def _change_weather(world: World, weather: Weather) -> None:
    """From now on; it is told, since whoever stands in it feels it."""
    if weather == world.weather:
        return
    world.set_weather(weather)
    mean = mean_wind(weather)
    text = said(
        "wind {wind_m_s:.1f} m/s, {strength}, gust intensity {gusts:.0f} %, air {temperature_c:.0f} °C"
        if weather.gust_intensity > 0.0
        else "wind {wind_m_s:.1f} m/s, {strength}, air {temperature_c:.0f} °C",
        wind_m_s=mean,
        strength=wind.beaufort_words(mean),
        gusts=weather.gust_intensity * 100,
        temperature_c=weather.temperature_c,
    )
    world.tell(
        "weather",
        text,
        wind_m_s=round(mean, 1),
        from_deg=weather.wind_from_deg,
        gust_intensity=weather.gust_intensity,
        temperature_c=weather.temperature_c,
    )
