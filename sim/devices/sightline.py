"""Where a straight line of light passes through an upright box: pure geometry."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

from sim.site import Beam

Spot: TypeAlias = tuple[float, float, float]
"""A point [m]: along the opening, towards the inside, above ground."""


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box on the plan [m]: centre, size along its own two sides and up, clear height below it, turn."""

    x: float
    y: float
    along: float
    across: float
    height: float
    bottom: float = 0.0
    turn: float = 0.0
    """How far it is turned about its centre, from x towards y [rad]."""


def pierced(one: Spot, other: Spot, box: Box) -> tuple[float, float] | None:
    """Where a segment passes through a box: (in, out) as shares of its length from its first end, or None.

    The segment is clipped against the box's three pairs of faces in the box's own axes.
    """
    cos, sin = (1.0, 0.0) if box.turn == 0.0 else (math.cos(box.turn), math.sin(box.turn))
    dx, dy = other[0] - one[0], other[1] - one[1]
    x, y = one[0] - box.x, one[1] - box.y
    enters, leaves = 0.0, 1.0
    for start, step, low, high in (
        (x * cos + y * sin, dx * cos + dy * sin, -box.along / 2, box.along / 2),
        (y * cos - x * sin, dy * cos - dx * sin, -box.across / 2, box.across / 2),
        (one[2], other[2] - one[2], box.bottom, box.bottom + box.height),
    ):
        if step == 0.0:
            if not low <= start <= high:
                return None
            continue
        first, last = (low - start) / step, (high - start) / step
        enters, leaves = max(enters, min(first, last)), min(leaves, max(first, last))
    return (enters, leaves) if enters <= leaves else None


def crossing(
    ends: tuple[tuple[float, float], tuple[float, float]], height: float, box: Box
) -> tuple[float, float] | None:
    """Where a level segment passes through a box: (in, out) as distance from its first end [m], or None."""
    (x0, y0), (x1, y1) = ends
    length = math.hypot(x1 - x0, y1 - y0)
    if length == 0.0:
        return None
    found = pierced((x0, y0, height), (x1, y1, height), box)
    return None if found is None else (found[0] * length, found[1] * length)


def cut_at(beam: Beam, box: Box) -> float | None:
    """Where a box cuts a beam: x of the middle of its shadow [m], or None."""
    found = crossing(((beam.emitter_x_m, beam.y_m), (beam.receiver_x_m, beam.y_m)), beam.height_m, box)
    if found is None:
        return None
    towards = 1.0 if beam.receiver_x_m >= beam.emitter_x_m else -1.0
    return beam.emitter_x_m + towards * (found[0] + found[1]) / 2
