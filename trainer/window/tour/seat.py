"""Where a callout sits: beside what it points at, inside the window, and never on the stop button."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import pygame


def _beside(size: tuple[int, int], target: pygame.Rect, gap: int) -> Iterator[pygame.Rect]:
    """Under, over, right and left of the target; then inside its corners."""
    place = pygame.Rect((0, 0), size)
    for own, theirs, dx, dy in (
        ("midtop", "midbottom", 0, gap),
        ("midbottom", "midtop", 0, -gap),
        ("midleft", "midright", gap, 0),
        ("midright", "midleft", -gap, 0),
        ("topright", "topright", -gap, gap),
        ("topleft", "topleft", gap, gap),
        ("bottomright", "bottomright", -gap, -gap),
        ("bottomleft", "bottomleft", gap, -gap),
    ):
        seat = place.copy()
        x, y = getattr(target, theirs)
        setattr(seat, own, (x + dx, y + dy))
        yield seat


def _corners(size: tuple[int, int], screen: pygame.Rect) -> Iterator[pygame.Rect]:
    place = pygame.Rect((0, 0), size)
    for corner in ("topleft", "topright", "bottomleft", "bottomright", "center"):
        seat = place.copy()
        setattr(seat, corner, getattr(screen, corner))
        yield seat


def _aside(seat: pygame.Rect, free: pygame.Rect, gap: int) -> Iterator[pygame.Rect]:
    """A seat moved off what has to stay free: to the left, right, up or down of it."""
    if not seat.colliderect(free):
        return
    yield seat.move(free.left - gap - seat.right, 0)
    yield seat.move(free.right + gap - seat.left, 0)
    yield seat.move(0, free.top - gap - seat.bottom)
    yield seat.move(0, free.bottom + gap - seat.top)


def _shared(a: pygame.Rect, b: pygame.Rect) -> int:
    both = a.clip(b)
    return both.width * both.height


def seat_for(
    size: tuple[int, int], target: pygame.Rect, screen: pygame.Rect, keep_free: Sequence[pygame.Rect], gap: int
) -> pygame.Rect:
    """A place for a callout of a size [px].

    What has to stay free comes first, then seeing the target, then being near it. `gap` is the distance to the
    target and to the edges of the screen [px].
    """
    inner = screen.inflate(-2 * gap, -2 * gap)
    seats = [seat.clamp(inner) for seat in (*_beside(size, target, gap), *_corners(size, inner))]
    seats += [moved.clamp(inner) for seat in seats for free in keep_free for moved in _aside(seat, free, gap)]

    def cost(seat: pygame.Rect) -> tuple[int, float, float]:
        covered = _shared(seat, target) / max(target.width * target.height, 1)
        return (
            sum(_shared(seat, free) for free in keep_free),
            covered,
            math.dist(seat.center, target.center),
        )

    return min(seats, key=cost)
