"""A leaf's own axes and the plan's: x along the shut leaf from its hinge, y towards the side it opens to [m].

On the plan x runs along the opening from the active hinge and y towards the inside. The inactive leaf is seen in a
mirror across the opening, a leaf that opens outwards in one along it, so that angles mean the same everywhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # whoever draws a leaf needs its axes long before a site is read
    from sim.mechanics.mounting import Point
    from sim.site.models import Site


@dataclass(frozen=True, slots=True)
class LeafAxes:
    """Where one leaf hangs on the plan, and which way its axes point there."""

    hinge_x_m: float
    mirrored: bool
    """The leaf reaches from its hinge towards smaller x."""
    outwards: bool
    """It opens towards the outside."""

    def own(self, point: Point) -> Point:
        """A point of the plan in the leaf's axes [m]."""
        x, y = point[0] - self.hinge_x_m, point[1]
        return -x if self.mirrored else x, -y if self.outwards else y

    def on_plan(self, point: Point) -> Point:
        """A point of the leaf's axes on the plan [m]."""
        x, y = point
        return self.hinge_x_m + (-x if self.mirrored else x), -y if self.outwards else y


def axes_of(site: Site, leaf: int) -> LeafAxes:
    """The axes of a site's leaf."""
    return LeafAxes(0.0 if leaf == 0 else site.opening_width_m, leaf == 1, site.opens_towards == "outside")
