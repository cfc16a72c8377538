"""Upright lines between the board and the devices: each core gets one, and no two lie on one another.

Cores that leave the same screw share a line, as on any drawing: they are one conductor there.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

APART: Final = 5.0
"""Least distance of two uprights in one lane, end to end."""


@dataclass(frozen=True, slots=True)
class Reach:
    """How far up and down the cores of one screw go."""

    start: str
    top: float
    foot: float


def reaches(ends: Iterable[tuple[str, float, float]]) -> list[Reach]:
    """One reach for each start, from (start, level there, level at the far end); level cores need none."""
    found: dict[str, tuple[float, float]] = {}
    for start, level, far in ends:
        if abs(level - far) < 0.5 and start not in found:
            continue
        top, foot = found.get(start, (level, level))
        found[start] = (min(top, level, far), max(foot, level, far))
    return [Reach(start, top, foot) for start, (top, foot) in found.items()]


def _apart(reach: Reach, top: float, foot: float) -> bool:
    return reach.foot + APART < top or reach.top - APART > foot


def lanes_of(wanted: Iterable[Reach]) -> dict[str, int]:
    """The lane of each start, 0 nearest to the devices: long reaches first, so that they are crossed least."""
    taken: list[list[tuple[float, float]]] = []
    lanes: dict[str, int] = {}
    for reach in sorted(wanted, key=lambda r: (r.top - r.foot, r.top, r.start)):
        free = (n for n, lane in enumerate(taken) if all(_apart(reach, *each) for each in lane))
        number = next(free, len(taken))
        if number == len(taken):
            taken.append([])
        taken[number].append((reach.top, reach.foot))
        lanes[reach.start] = number
    return lanes
