"""A presence loop as inductance: what a rectangle of wire has, what metal above it takes away, how a detector tunes.

Metal near a loop carries eddy currents against it, like a second loop mirrored in the metal: the inductance falls.
Flesh carries none worth naming, so a loop never sees people.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, TypeAlias

from sim.site import PresenceLoop
from sim.wiring.conductor import core_ohm

Point: TypeAlias = tuple[float, float]

FEEDER_H_PER_M: Final = 0.72e-6
"""A twisted pair [H/m]. Facts 5.6, common practice."""

WIRE_MM2: Final = 1.5
"""Copper of a loop's wire and of its feeder [mm²]. CP, no source."""

WIRE_RADIUS_M: Final = math.sqrt(WIRE_MM2 * 1e-6 / math.pi)


@dataclass(frozen=True, slots=True)
class Underside:
    """What of a body a loop sees: a sheet of metal at a height, closed to a share."""

    height_m: float
    closed: float


UNDERSIDES: Final = MappingProxyType(
    {
        # Chosen so that a car takes some 5 % of a 100 µH loop (facts 5.6, SEEN S28); the rest beside it: CP.
        "car": Underside(0.25, 0.5),
        "van": Underside(0.35, 0.5),
        "bicycle": Underside(0.30, 0.02),
    }
)
"""Every kind of body with metal underneath; all others leave a loop alone."""


def _parallel(length_m: float, apart_m: float) -> float:
    """Mutual inductance of two parallel straight wires opposite each other [H].

    µ0/2π·(l·ln((l + √(l² + d²))/d) − √(l² + d²) + d): F. W. Grover, Inductance Calculations, from memory.
    """
    slant = math.sqrt(length_m * length_m + apart_m * apart_m)
    return 2e-7 * (length_m * math.log((length_m + slant) / apart_m) - slant + apart_m)


def rectangles_h(one_m: float, other_m: float, apart_m: float) -> float:
    """Mutual inductance of two equal rectangles of one turn, one straight above the other [H].

    With the mean distance of a bundle from itself for `apart_m` it is the inductance of one turn of that bundle.
    """
    across_other, across_one = math.hypot(apart_m, other_m), math.hypot(apart_m, one_m)
    return 2.0 * (
        _parallel(one_m, apart_m)
        - _parallel(one_m, across_other)
        + _parallel(other_m, apart_m)
        - _parallel(other_m, across_one)
    )


def bundle_m(turns: int, pitch_m: float) -> float:
    """Geometric mean distance of a bundle of wires in one slot from itself [m]; a round wire's own is r·e^(−1/4)."""
    total = turns * math.log(WIRE_RADIUS_M * math.exp(-0.25))
    for gap in range(1, turns):
        total += 2.0 * (turns - gap) * math.log(gap * pitch_m)
    return math.exp(total / (turns * turns))


def loop_h(loop: PresenceLoop) -> float:
    """Inductance of the loop alone, without metal near it [H]."""
    one_turn = rectangles_h(loop.along_x_m, loop.along_y_m, bundle_m(loop.turns, loop.wire_pitch_m))
    return loop.turns * loop.turns * one_turn


def feeder_h(loop: PresenceLoop) -> float:
    """Inductance of its feeder [H]."""
    return FEEDER_H_PER_M * loop.feeder_m


def wire_ohm(loop: PresenceLoop) -> float:
    """Resistance of the turns [Ω]."""
    return core_ohm(2.0 * (loop.along_x_m + loop.along_y_m) * loop.turns, WIRE_MM2, "solid", 20.0)


def image_share(loop: PresenceLoop, height_m: float) -> float:
    """Share of the loop's inductance that a whole sheet of metal at a height takes: its mirror image is twice as
    far below the sheet as the sheet is above the loop."""
    one_turn = rectangles_h(loop.along_x_m, loop.along_y_m, bundle_m(loop.turns, loop.wire_pitch_m))
    return rectangles_h(loop.along_x_m, loop.along_y_m, 2.0 * height_m) / one_turn


def missing_share(loop: PresenceLoop, above: Iterable[tuple[str, float]]) -> float:
    """Share of loop and feeder together that is missing, by the bodies above: (kind, share of the loop it covers)."""
    share = loop.stray_metal
    for kind, covered in above:
        under = UNDERSIDES.get(kind)
        if under is not None:
            share += image_share(loop, under.height_m) * under.closed * covered
    alone, feeder = loop_h(loop), feeder_h(loop)
    return min(0.95, share) * alone / (alone + feeder)


def resonance_hz(henry: float, farad: float) -> float:
    """1/(2π√(LC)) [Hz]."""
    return 1.0 / (2.0 * math.pi * math.sqrt(henry * farad))


def frequency_hz(loop: PresenceLoop, missing: float) -> float:
    """What the detector's oscillator runs at while a share of the inductance is missing [Hz]."""
    return resonance_hz((loop_h(loop) + feeder_h(loop)) * (1.0 - missing), loop.capacitor_nf * 1e-9)


def covered_share(loop: PresenceLoop, x_m: float, y_m: float, size_m: Point, turn: float = 0.0) -> float:
    """How much of the loop's area a box on the plan stands over: its footprint clipped to the loop's rectangle."""
    cos, sin = math.cos(turn), math.sin(turn)
    half_x, half_y = size_m[0] / 2, size_m[1] / 2
    corners: list[Point] = [
        (x_m + sx * cos - sy * sin, y_m + sx * sin + sy * cos)
        for sx, sy in ((-half_x, -half_y), (half_x, -half_y), (half_x, half_y), (-half_x, half_y))
    ]
    for axis, middle, extent in ((0, loop.x_m, loop.along_x_m), (1, loop.y_m, loop.along_y_m)):
        corners = _clipped(corners, axis, middle - extent / 2, above=True)
        corners = _clipped(corners, axis, middle + extent / 2, above=False)
    return abs(_area(corners)) / (loop.along_x_m * loop.along_y_m)


def _clipped(corners: list[Point], axis: int, at: float, *, above: bool) -> list[Point]:
    """What of a polygon lies on one side of a line (Sutherland and Hodgman)."""
    kept: list[Point] = []
    for here, there in zip(corners, corners[1:] + corners[:1], strict=True):
        inside, next_inside = ((p[axis] >= at) is above or p[axis] == at for p in (here, there))
        if inside:
            kept.append(here)
        if inside != next_inside:
            part = (at - here[axis]) / (there[axis] - here[axis])
            kept.append((here[0] + part * (there[0] - here[0]), here[1] + part * (there[1] - here[1])))
    return kept


def _area(corners: list[Point]) -> float:
    """Area of a polygon, signed [m²]."""
    pairs = zip(corners, corners[1:] + corners[:1], strict=True)
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs) / 2.0
