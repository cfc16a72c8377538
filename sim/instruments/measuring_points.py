"""Where a swing leaf is measured: openings, heights, directions; and the leaf angle that goes with an opening.

An opening is a clear distance. Closing, it lies between the closing edge and the edge of the other, shut leaf;
opening, between the closing edge and the place where that edge stands with the leaf at its open stop.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

from sim.instruments.rule_sets import OPENINGS_MM, Figure
from sim.said import said
from sim.site import Site
from sim.units import LEAVES, Direction, LeafName
from sim.world.gaps import angle_at_gap, closing_edge_gap

HeightName = Literal["low", "middle", "high"]

_SWING: Final = "SEEN-V; MEM-mid EN 12445 5.2.2"

OPENINGS: Final[tuple[float, ...]] = tuple(figure.value for figure in OPENINGS_MM)
"""The openings of a whole plan [mm]."""

LOW: Final = Figure(50, "mm", _SWING)
"""The low place: this far above the lower edge."""

MIDDLE: Final = Figure(0.5, "of the height", _SWING)
"""The middle place."""

BELOW_TOP: Final = Figure(300, "mm", _SWING)
"""The high place: this far below the upper edge."""

HIGHEST: Final = Figure(2500, "mm", _SWING)
"""Nothing is measured higher than this above the ground."""


@dataclass(frozen=True, slots=True)
class Height:
    """One of the heights of a leaf."""

    name: HeightName
    place: str
    """In words."""
    above_edge_mm: float
    """Above the leaf's lower edge [mm]."""


@dataclass(frozen=True, slots=True)
class Point:
    """One point of a plan: where the gauge stands and which way the leaf comes."""

    leaf: LeafName
    direction: Direction
    gap_mm: float
    """Clear opening at the contact [mm]."""
    height: HeightName
    place: str
    """The height, in words."""
    above_edge_mm: float
    """Above the leaf's lower edge [mm]."""
    height_mm: float
    """Above the ground [mm]."""

    def __str__(self) -> str:
        return said(
            "{leaf} leaf, {direction}, gap {gap_mm:g} mm, {place}",
            leaf=self.leaf,
            direction=self.direction,
            gap_mm=self.gap_mm,
            place=self.place,
        )


def measuring_heights(leaf_height_mm: float, clearance_mm: float = 0.0) -> tuple[Height, Height, Height]:
    """Low, middle and high place of a leaf of that height [mm], which hangs `clearance_mm` above the ground."""
    high = min(leaf_height_mm - BELOW_TOP.value, HIGHEST.value - clearance_mm)
    under = leaf_height_mm - high
    return (
        Height("low", said("{length} above the lower edge", length=str(LOW)), LOW.value),
        Height("middle", said("half height"), MIDDLE.value * leaf_height_mm),
        Height("high", said("{under_mm:g} mm below the upper edge", under_mm=under), high),
    )


def points(
    site: Site,
    leaf: LeafName,
    direction: Direction,
    openings_mm: tuple[float, ...] = OPENINGS,
) -> tuple[Point, ...]:
    """Every point of one leaf and one direction: each opening at each height."""
    model = site.leaves.pair[LEAVES.index(leaf)]
    clearance = model.ground_clearance_m * 1000.0
    heights = measuring_heights(round(model.height_m * 1000.0, 6), round(clearance, 6))
    return tuple(
        Point(leaf, direction, gap, height.name, height.place, height.above_edge_mm, height.above_edge_mm + clearance)
        for gap in openings_mm
        for height in heights
    )


def gap_at_angle(site: Site, leaf: int, direction: Direction, angle: float) -> float:
    """The opening [m] that a leaf at `angle` [rad] leaves in its direction."""
    if direction == "closing":
        return closing_edge_gap(site, leaf, angle)
    model = site.leaves.pair[leaf]
    return 2.0 * model.width_m * math.sin(0.5 * abs(math.radians(model.open_stop_deg) - angle))


def touch_angle(site: Site, leaf: int, direction: Direction, gap_m: float) -> float:
    """The leaf angle [rad] at which the opening is `gap_m` [m]; as near as the leaf can come where it never is."""
    if direction == "closing":
        return angle_at_gap(site, leaf, gap_m)
    model = site.leaves.pair[leaf]
    return math.radians(model.open_stop_deg) - 2.0 * math.asin(min(1.0, gap_m / (2.0 * model.width_m)))


def impossible(site: Site, point: Point) -> str:
    """Why there is no such point on this gate, in words; empty if there is one."""
    leaf = LEAVES.index(point.leaf)
    stop = math.radians(site.leaves.pair[leaf].open_stop_deg)
    shut, opened = (gap_at_angle(site, leaf, point.direction, angle) * 1000.0 for angle in (0.0, stop))
    if point.gap_mm >= max(shut, opened):
        return said(
            "the opening is only {gap_mm:.0f} mm with the leaf at its open stop"
            if point.direction == "closing"
            else "the opening is only {gap_mm:.0f} mm with the leaf shut",
            gap_mm=max(shut, opened),
        )
    if point.gap_mm <= min(shut, opened):
        return said("the opening is never less than {gap_mm:.0f} mm", gap_mm=min(shut, opened))
    return ""
