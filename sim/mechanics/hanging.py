"""One leaf of a site as a body on its hinge line: mass, moment, inertia, friction, wind, what gives at its edge."""

from __future__ import annotations

import math
from typing import Final

from sim.mechanics import leaf, wind
from sim.site.models import Leaf, Site, Weather


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


RACK_N: Final = 2_000.0
"""Friction of hinges that a racked leaf has pulled out of line, for each metre by which its diagonals differ [N·m/m].
Engineering value, no source."""


def hinge_friction(model: Leaf) -> float:
    """Dry friction of its hinges [N·m]: calculated from their bearings where these are given, else as measured; more
    where a racked leaf has pulled them out of line."""
    bearings, out_of_line = model.bearings, RACK_N * model.out_of_square_m
    if bearings is None:
        return model.hinge_friction_n_m + out_of_line
    mass = whole_mass(model)
    return out_of_line + leaf.bearing_friction(
        mass,
        abs(mass_moment(model)) / mass,
        bearings.friction,
        bearings.thrust_radius_m,
        bearings.journal_radius_m,
        bearings.spacing_m,
    )


SPEC_BOLTS_N_M: Final = 60.0
"""Torque of hinge bolts. CP, no source."""

HOLE_PLAY_M: Final = 0.0015
"""How far a hinge moves on its post once its bolts no longer clamp it: holes of 13.5 mm for bolts of 12 mm. CP."""

SPACING_M: Final = 1.4
"""Lower hinge to upper hinge where nothing else is said [m]. CP."""


def bolt_play(model: Leaf) -> float:
    """Play at the closing edge, up and down, of hinges whose bolts are loose [m]; clamped from half the right torque
    on, and in proportion below."""
    loose = max(0.0, 1.0 - model.hinge_bolts_n_m / (0.5 * SPEC_BOLTS_N_M))
    spacing = SPACING_M if model.bearings is None else model.bearings.spacing_m
    return loose * HOLE_PLAY_M * model.width_m / spacing


def racked(model: Leaf) -> float:
    """How far the closing edge hangs down when the diagonals differ [m].

    A rectangle w by h pushed down by s at one side has diagonals √(w² + (h ± s)²), which differ by 2·h·s/√(w² + h²).
    """
    return model.out_of_square_m * math.hypot(model.width_m, model.height_m) / (2.0 * model.height_m)


def droop(model: Leaf) -> float:
    """How far the closing edge hangs below where it was built [m]: sag, leaning post, racked leaf, loose hinges."""
    return model.sag_m + model.post.lean * model.width_m + racked(model) + bolt_play(model)


def lean_torque(model: Leaf) -> float:
    """Closing torque of a post that leans towards the opening, with the leaf at 90° [N·m]."""
    return leaf.GRAVITY * mass_moment(model) * math.sin(math.atan(model.post.lean))


def leaf_c(model: Leaf, weather: Weather) -> float:
    """How warm the leaf itself is [°C]: as the air, and more in the sun."""
    return weather.temperature_c + model.sun_gain_c * weather.sunshine


def long_now(model: Leaf, weather: Weather) -> float:
    """Its width as warm as it is, built at 20 °C [m]."""
    return model.width_m * (1.0 + model.expansion_per_k * (leaf_c(model, weather) - 20.0))


def meeting_gap(site: Site, weather: Weather) -> float:
    """Narrowest gap between the closing edges with all shut, or from the only one to its closing post [m]: at the
    upper ends where posts lean.

    Negative: so much too long they are for each other, and can't both shut.
    """
    left = site.opening_width_m
    for model in site.leaves.hung:
        top = model.ground_clearance_m + model.height_m
        left = left - long_now(model, weather) - max(0.0, model.post.lean * top)
    return left


def wind_factor(model: Leaf) -> float:
    """Hinge torque of wind square to the leaf for the square of its speed [N·m·s²/m²]."""
    panel = model.width_m - model.hinge_offset_m
    return wind.wind_torque(1.0, panel, model.height_m, model.solidity, model.hinge_offset_m)


def mean_wind(weather: Weather) -> float:
    """Mean wind of the day [m/s]: as given, or by its class."""
    if weather.wind_class is None:
        return weather.wind_m_s
    return wind.class_speed(int(weather.wind_class.removeprefix("class ")))


def weather_words(weather: Weather, leaves: int = 2) -> str:
    """The day's weather in a line: `11 °C, wind 4.0 m/s from outside, gentle breeze, gust intensity 20 %`.

    `leaves`: how many hang here; where it is one, there is no inactive side that wind could come from.
    """
    mean = mean_wind(weather)
    air = f"{weather.temperature_c:g} °C"
    if mean == 0.0:
        return f"{air}, no wind"
    speed = f"wind {mean:.1f} m/s" if weather.wind_class is None else f"wind of {weather.wind_class}, {mean:.1f} m/s"
    told = [air, f"{speed} from {_side(weather.wind_from_deg, leaves)}", wind.beaufort_words(mean)]
    if weather.gust_intensity > 0.0:
        told.append(f"gust intensity {weather.gust_intensity * 100:.0f} %")
    return ", ".join(told)


SIDES: Final = ("inside", "the inactive side", "outside", "the active side")
"""Where wind comes from at 0, 90, 180 and 270°."""

SIDES_OF_ONE: Final = ("inside", "the closing post's side", "outside", "the hinge side")
"""The same at a gate with one leaf."""


def _side(from_deg: float, leaves: int) -> str:
    """Where wind comes from, to an eighth of a circle."""
    sides = SIDES if leaves > 1 else SIDES_OF_ONE
    eighth = round(from_deg / 45.0) % 8
    first, second = sides[eighth // 2], sides[(eighth // 2 + 1) % 4]
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
