"""What surrounds the gate: where on earth it lies and on what day, what mirrors light there, what grows."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from sim.site.fields import PRACTICE, SURVEY, Frozen, part, quantity, words


class Mirror(Frozen):
    """An upright surface that throws light back: polished metal, a window. A straight line on the plan."""

    name: str = words("bright wall", "what it is", 60)
    from_x_m: float = quantity(0.0, "m", -50.0, 50.0, "one end, along the opening", SURVEY)
    from_y_m: float = quantity(0.0, "m", -50.0, 50.0, "one end, towards the inside", SURVEY)
    to_x_m: float = quantity(4.0, "m", -50.0, 50.0, "other end, along the opening", SURVEY)
    to_y_m: float = quantity(0.0, "m", -50.0, 50.0, "other end, towards the inside", SURVEY)
    bottom_m: float = quantity(0.0, "m", 0.0, 5.0, "where it begins, above ground", SURVEY)
    top_m: float = quantity(1.0, "m", 0.0, 5.0, "where it ends, above ground", SURVEY)
    reflectance: float = quantity(
        0.04,
        "-",
        0.0,
        1.0,
        "share of the light it throws back like a mirror; render 0.01, metal 0.6 to 0.9",
        PRACTICE,
    )


class Foliage(Frozen):
    """A branch or a bush that wind moves: an upright box on the plan that leans before the wind."""

    name: str = words("bush", "what it is", 60)
    x_m: float = quantity(0.0, "m", -20.0, 30.0, "its middle in calm air, along the opening", SURVEY)
    y_m: float = quantity(-1.5, "m", -30.0, 30.0, "its middle in calm air, towards the inside", SURVEY)
    along_x_m: float = quantity(0.3, "m", 0.02, 10.0, "extent along the opening", SURVEY)
    along_y_m: float = quantity(0.3, "m", 0.02, 10.0, "extent towards the inside", SURVEY)
    bottom_m: float = quantity(0.0, "m", 0.0, 10.0, "where it begins, above ground", SURVEY)
    top_m: float = quantity(1.0, "m", 0.0, 10.0, "where it ends, above ground", SURVEY)
    opacity: float = quantity(1.0, "-", 0.0, 1.0, "share of the light it keeps back", SURVEY)
    sway_m: float = quantity(
        0.2, "m", 0.0, 3.0, "how far wind of 10 m/s bends it; it goes with the square of the wind", PRACTICE
    )


class Surroundings(Frozen):
    """Place on earth, day, bearing of the gate, and what stands around it."""

    latitude_deg: float = quantity(50.0, "°", -90.0, 90.0, "north of the equator; negative is south", SURVEY)
    longitude_deg: float = quantity(0.0, "°", -180.0, 180.0, "east of Greenwich; negative is west", SURVEY)
    clock_ahead_h: float = quantity(0.0, "h", -12.0, 14.0, "how far its clocks are ahead of universal time", SURVEY)
    year: int = quantity(2026, "-", 1950, 2050, "year", SURVEY)
    day: int = quantity(172, "-", 1, 366, "day of the year; 172 is midsummer in the north", SURVEY)
    x_bearing_deg: float = quantity(
        90.0, "°", 0.0, 360.0, "bearing from the active hinge to the inactive one; 0 north, 90 east", SURVEY
    )
    mirrors: Annotated[tuple[Mirror, ...], Field(strict=False)] = part(
        "surfaces that throw light back", most=10, default=()
    )
    foliage: Annotated[tuple[Foliage, ...], Field(strict=False)] = part(
        "what grows near the beams", most=10, default=()
    )


__all__ = ["Foliage", "Mirror", "Surroundings"]
