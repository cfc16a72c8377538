"""Bodies from above, in metres about their own middle, looking along +y: outlines that are turned with them."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final, Literal, TypeAlias

Point: TypeAlias = tuple[float, float]
Fill: TypeAlias = Literal["body", "white", "glass", "none"]
Piece: TypeAlias = tuple[Fill, tuple[Point, ...]]
"""How it is filled, and its corners."""

ROUND: Final = 16
"""Corners of a round piece."""


def ellipse(x: float, y: float, across: float, along: float) -> tuple[Point, ...]:
    """A round piece about a middle, by its whole width and length [m]."""
    turns = [2.0 * math.pi * n / ROUND for n in range(ROUND)]
    return tuple((x + across / 2 * math.cos(t), y + along / 2 * math.sin(t)) for t in turns)


def box(x: float, y: float, across: float, along: float, cut: float = 0.0) -> tuple[Point, ...]:
    """A box about a middle; its corners are cut off by `cut` [m]."""
    a, b = across / 2, along / 2
    if cut <= 0.0:
        return ((x - a, y - b), (x + a, y - b), (x + a, y + b), (x - a, y + b))
    return (
        *((x - a + cut, y - b), (x + a - cut, y - b), (x + a, y - b + cut), (x + a, y + b - cut)),
        *((x + a - cut, y + b), (x - a + cut, y + b), (x - a, y + b - cut), (x - a, y - b + cut)),
    )


def _person(across: float, along: float) -> tuple[Piece, ...]:
    return (
        ("body", ellipse(0.0, 0.0, across, along * 0.78)),
        ("white", ellipse(0.0, along * 0.08, across * 0.4, across * 0.4)),
    )


def _test_body(across: float, along: float) -> tuple[Piece, ...]:
    a, b = across / 2, along / 2
    return (("body", box(0, 0, across, along)), ("none", ((-a, -b), (a, b))), ("none", ((-a, b), (a, -b))))


def _pram(across: float, along: float) -> tuple[Piece, ...]:
    b = along / 2
    return (
        *(("glass", box(x * across * 0.44, y * along * 0.3, 0.07, 0.2)) for x in (-1, 1) for y in (-1, 1)),
        ("body", box(0.0, b * 0.16, across * 0.72, along * 0.74, 0.1)),
        ("white", box(0.0, b * 0.56, across * 0.72, along * 0.32, 0.1)),
        ("none", ((-across * 0.36, -b * 0.5), (-across * 0.3, -b), (across * 0.3, -b), (across * 0.36, -b * 0.5))),
    )


def _dog(across: float, along: float) -> tuple[Piece, ...]:
    b = along / 2
    return (
        ("none", ((0.0, -b * 0.55), (across * 0.25, -b))),
        ("body", ellipse(0.0, -b * 0.1, across * 0.85, along * 0.6)),
        ("body", ellipse(0.0, b * 0.66, across * 0.62, along * 0.3)),
        ("none", ((-across * 0.3, b * 0.52), (-across * 0.4, b * 0.36))),
        ("none", ((across * 0.3, b * 0.52), (across * 0.4, b * 0.36))),
    )


def _bicycle(across: float, along: float) -> tuple[Piece, ...]:
    a, b = across / 2, along / 2
    return (
        ("glass", box(0.0, b * 0.62, 0.07, along * 0.36, 0.03)),
        ("glass", box(0.0, -b * 0.62, 0.07, along * 0.36, 0.03)),
        ("none", ((0.0, -b * 0.5), (0.0, b * 0.5))),
        ("none", ((-a, b * 0.3), (-a * 0.4, b * 0.42), (a * 0.4, b * 0.42), (a, b * 0.3))),
        ("body", ellipse(0.0, -b * 0.18, 0.18, 0.26)),
    )


def _car(across: float, along: float) -> tuple[Piece, ...]:
    a, b = across / 2, along / 2
    return (
        ("white", box(0.0, 0.0, across, along, 0.28)),
        ("glass", ((-a * 0.82, b * 0.3), (a * 0.82, b * 0.3), (a * 0.66, b * 0.02), (-a * 0.66, b * 0.02))),
        ("glass", ((-a * 0.66, -b * 0.5), (a * 0.66, -b * 0.5), (a * 0.8, -b * 0.68), (-a * 0.8, -b * 0.68))),
    )


def _van(across: float, along: float) -> tuple[Piece, ...]:
    a, b = across / 2, along / 2
    return (
        ("white", box(0.0, 0.0, across, along, 0.16)),
        ("glass", ((-a * 0.86, b * 0.74), (a * 0.86, b * 0.74), (a * 0.78, b * 0.56), (-a * 0.78, b * 0.56))),
        ("none", ((-a, b * 0.42), (a, b * 0.42))),
        ("none", ((0.0, -b), (0.0, -b * 0.86))),
    )


def _lying(across: float, along: float) -> tuple[Piece, ...]:
    long, short = max(across, along), min(across, along)
    level = across >= along
    head = (-long / 2 + short * 0.4, 0.0) if level else (0.0, long / 2 - short * 0.4)
    middle = (short * 0.4, 0.0) if level else (0.0, -short * 0.4)
    size = (long - short * 0.8, short) if level else (short, long - short * 0.8)
    return (("body", box(*middle, *size, short * 0.3)), ("white", ellipse(*head, short * 0.66, short * 0.66)))


STANDING: Final[Mapping[str, Callable[[float, float], tuple[Piece, ...]]]] = MappingProxyType(
    {
        "test body": _test_body,
        "pram": _pram,
        "dog": _dog,
        "bicycle": _bicycle,
        "car": _car,
        "van": _van,
    }
)
"""Kinds that have an outline of their own; all others are people."""

KEEP_LYING: Final = ("test body", "pram", "bicycle", "car", "van")
"""Kinds that look alike however they lie."""


def pieces(name: str, across: float, along: float, lying: bool) -> tuple[Piece, ...]:
    """What a body is drawn of, by its size on the plan as it stands or lies [m]."""
    if lying and name not in KEEP_LYING:
        return _lying(across, along)
    return STANDING.get(name, _person)(across, along)


def turned(points: tuple[Point, ...], x: float, y: float, turn_deg: float) -> list[Point]:
    """Corners on the plan: turned about the middle from x towards y, and put in place [m]."""
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    return [(x + px * cos - py * sin, y + px * sin + py * cos) for px, py in points]
