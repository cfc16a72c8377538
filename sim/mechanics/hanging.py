"""One leaf of a site as a body on its hinge line: mass, moment, inertia, friction, wind, what gives at its edge."""

from __future__ import annotations

from typing import Final

from sim.mechanics import leaf, wind
from sim.site.models import Leaf, Weather


def whole_mass(model: Leaf) -> float:
    """With all fittings [kg]."""
    return model.mass_kg + sum(fitting.mass_kg for fitting in model.fittings)


def mass_moment(model: Leaf) -> float:
    """Mass times its distance from the hinge line [kg·m]: a plain leaf about the middle of its panel."""
    plain = model.mass_kg * (model.width_m + model.hinge_offset_m) / 2.0
    return plain + sum(fitting.mass_kg * fitting.along_m for fitting in model.fittings)


def inertia(model: Leaf) -> float:
    """About the hinge line, with offset, thickness and fittings [kg·m²]."""
    panel = model.width_m - model.hinge_offset_m
    plain = leaf.inertia(model.mass_kg, panel, model.thickness_m, model.hinge_offset_m)
    return plain + sum(leaf.point_inertia(fitting.mass_kg, fitting.along_m) for fitting in model.fittings)


def hinge_friction(model: Leaf) -> float:
    """Dry friction of its hinges [N·m]: calculated from their bearings where these are given, else as measured."""
    bearings = model.bearings
    if bearings is None:
        return model.hinge_friction_n_m
    mass = whole_mass(model)
    return leaf.bearing_friction(
        mass,
        abs(mass_moment(model)) / mass,
        bearings.friction,
        bearings.thrust_radius_m,
        bearings.journal_radius_m,
        bearings.spacing_m,
    )


def wind_factor(model: Leaf) -> float:
    """Hinge torque of wind square to the leaf for the square of its speed [N·m·s²/m²]."""
    panel = model.width_m - model.hinge_offset_m
    return wind.wind_torque(1.0, panel, model.height_m, model.solidity, model.hinge_offset_m)


def mean_wind(weather: Weather) -> float:
    """Mean wind of the day [m/s]: as given, or by its class."""
    if weather.wind_class is None:
        return weather.wind_m_s
    return wind.class_speed(int(weather.wind_class.removeprefix("class ")))


def weather_words(weather: Weather) -> str:
    """The day's weather in a line: `11 °C, wind 4.0 m/s from outside, gentle breeze, gust intensity 20 %`."""
    mean = mean_wind(weather)
    air = f"{weather.temperature_c:g} °C"
    if mean == 0.0:
        return f"{air}, no wind"
    speed = f"wind {mean:.1f} m/s" if weather.wind_class is None else f"wind of {weather.wind_class}, {mean:.1f} m/s"
    told = [air, f"{speed} from {_side(weather.wind_from_deg)}", wind.beaufort_words(mean)]
    if weather.gust_intensity > 0.0:
        told.append(f"gust intensity {weather.gust_intensity * 100:.0f} %")
    return ", ".join(told)


SIDES: Final = ("inside", "the inactive side", "outside", "the active side")
"""Where wind comes from at 0, 90, 180 and 270°."""


def _side(from_deg: float) -> str:
    """Where wind comes from, to an eighth of a circle."""
    eighth = round(from_deg / 45.0) % 8
    first, second = SIDES[eighth // 2], SIDES[(eighth // 2 + 1) % 4]
    return first if eighth % 2 == 0 else f"between {first} and {second}"


def edge_stiffness(model: Leaf, drive_height_m: float, height_m: float) -> float | None:
    """What the frame gives at the closing edge at a height above ground [N/m]; None for a rigid one.

    It bends level with the drive and twists above and below it, both in series.
    """
    parts = [model.edge_give_n_m] if model.edge_give_n_m is not None else []
    off = height_m - drive_height_m
    if model.edge_twist_n_m_rad is not None and off != 0.0:
        parts.append(model.edge_twist_n_m_rad / (off * off))
    return leaf.series_stiffness(*parts) if parts else None
