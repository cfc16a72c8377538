"""The gap between the closing edges and the leaf angle that goes with it, the other leaf shut.

A leaf that hangs alone shuts against its closing post, whose face then is the counter edge."""

from __future__ import annotations

import math

from sim.site import Site


def closing_edge_gap(site: Site, leaf: int, angle: float) -> float:
    """Clear distance [m] between a leaf's closing edge at `angle` [rad] and the other leaf's edge when that is shut.

    Law of cosines about the hinge: leaf width w, counter edge at c from the hinge, g² = c² + w² − 2·c·w·cos θ.
    """
    width, counter = edge_and_counter(site, leaf)
    return math.sqrt(max(0.0, counter * counter + width * width - 2.0 * counter * width * math.cos(angle)))


def angle_at_gap(site: Site, leaf: int, gap_m: float) -> float:
    """Leaf angle [rad] at which its closing edge is `gap_m` [m] from the shut counter edge."""
    width, counter = edge_and_counter(site, leaf)
    return math.acos(
        max(-1.0, min(1.0, (counter * counter + width * width - gap_m * gap_m) / (2.0 * counter * width)))
    )


def edge_and_counter(site: Site, leaf: int) -> tuple[float, float]:
    """(leaf width, distance of the shut counter edge from this leaf's hinge) [m]."""
    others = [model.width_m for index, model in enumerate(site.leaves.hung) if index != leaf]
    return site.leaves.pair[leaf].width_m, site.opening_width_m - sum(others)
