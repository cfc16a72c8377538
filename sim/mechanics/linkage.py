"""What a drive does for its leaf at each angle, by the very numbers and functions that the kernel steps with.

A linkage has an output (how far a ram has run, how far a crank or pin has turned, nothing with the leaf shut) and a
lever: output per leaf angle, which is also leaf torque per force or torque of the output (facts 6.4, 6.5).
"""

from __future__ import annotations

from sim.kernel.linkage import output
from sim.kernel.trigonometry import sin_cos
from sim.mechanics.constants import constants_of
from sim.site.models import Site


class Linkage:
    """The linkage of one leaf's drive on a site. Lengths in m, angles in rad; a ram's output is a length."""

    def __init__(self, site: Site, leaf: int) -> None:
        self._constants = constants_of(site).tolist()
        self._leaf = leaf

    def travel(self, angle_rad: float) -> float:
        """Output since the leaf was shut [m of a ram, rad of a crank or pin]: its stroke, at the open stop."""
        travelled, _ = output(self._constants, self._leaf, angle_rad, *sin_cos(angle_rad))
        return travelled

    def lever(self, angle_rad: float) -> float:
        """Output per leaf angle [m of a ram, - of a crank or pin]."""
        _, lever = output(self._constants, self._leaf, angle_rad, *sin_cos(angle_rad))
        return lever

    def time(self, open_rad: float, output_per_s: float) -> float:
        """From shut to an angle while the output keeps one speed [s]."""
        return self.travel(open_rad) / output_per_s

    def speed_at(self, angle_rad: float, radius_m: float, output_per_s: float) -> float:
        """Speed of a point of the leaf while the output keeps one speed [m/s]: v·r/h. A ram's shut end is fast."""
        return output_per_s * radius_m / self.lever(angle_rad)

    def force_at(self, angle_rad: float, radius_m: float, thrust: float) -> float:
        """What a ram's force [N] or a crank's torque [N·m] amounts to at a radius of the leaf [N]: F·h/r.

        A ram's shut end is weak.
        """
        return thrust * self.lever(angle_rad) / radius_m
