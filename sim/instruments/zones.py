"""Which places of a gate are zones in the UL-style sense: the lengths that decide, taken from the site."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sim.instruments.rule_sets import BOTTOM_ZONE, HINGE_ZONE, WALL_ZONE, Zone
from sim.mechanics.axes import axes_of
from sim.site import Site
from sim.units import LeafName


@dataclass(frozen=True, slots=True)
class FoundZone:
    """One place of one leaf, with the length that decides."""

    leaf: LeafName
    zone: Zone
    length_mm: float

    @property
    def is_zone(self) -> bool:
        """Whether it has to be guarded."""
        return self.zone.holds(self.length_mm)


def edge_to_wall_mm(site: Site, leaf: int) -> float | None:
    """From the closing edge at its open stop to the nearest masonry on the plan [mm]; None where there is none."""
    model = site.leaves.pair[leaf]
    stop = math.radians(model.open_stop_deg)
    edge = (model.width_m * math.cos(stop), model.width_m * math.sin(stop))
    x, y = axes_of(site, leaf).on_plan(edge)
    found = []
    for wall in site.walls:
        dx = max(wall.x_m - x, 0.0, x - (wall.x_m + wall.along_x_m))
        dy = max(wall.y_m - y, 0.0, y - (wall.y_m + wall.along_y_m))
        found.append(math.hypot(dx, dy) * 1000.0)
    return min(found, default=None)


def zones_of(site: Site) -> tuple[FoundZone, ...]:
    """The places of every leaf: under the leaf, at its hinge, and from the open leaf's edge to the nearest wall."""
    found = []
    for leaf, (name, model) in enumerate(zip(site.leaves.fitted, site.leaves.hung, strict=True)):
        found.append(FoundZone(name, BOTTOM_ZONE, model.ground_clearance_m * 1000.0))
        found.append(FoundZone(name, HINGE_ZONE, model.hinge_gap.post_m * 1000.0))
        wall = edge_to_wall_mm(site, leaf)
        if wall is not None:
            found.append(FoundZone(name, WALL_ZONE, wall))
    return tuple(found)
