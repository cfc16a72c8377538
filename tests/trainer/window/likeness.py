"""When two pictures of a screen are alike, and how a picture is kept.

Pictures of the size that every change is held to are kept whole. Those of the other sizes are kept as small ones:
`NARROWED` px wide, each pixel the mean of the area that it stands for, each channel on one of 16 levels. A
small picture takes some 8 kB and can still be looked at.

Two pictures are unlike when too many pixels differ in the whole, or too many of them in one place: one word that
changes is far less than a thousandth of a screen.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pygame
from PIL import Image

Pixels = np.ndarray
"""Rows of columns of red, green, blue."""

MOST_DIFFERING = 0.001
"""Share of the pixels of a whole picture that may differ. Common practice, no source."""

MOST_STEP = 12
"""A pixel differs when one of its channels does by more than this. Common practice, no source."""

NARROWED = 400
"""Width of a small picture [px]."""

LEVEL = 17
"""Distance of two levels of a small picture."""

MOST_STEP_SMALL = 14
"""As `MOST_STEP`, for small pictures: half a level is lost when one is kept, and fine lines have become pale."""

PLACE = {False: 32, True: 10}
"""Side of the square that is looked at by itself [px], in a whole picture and in a small one."""

MOST_IN_PLACE = {False: 20, True: 5}
"""Pixels that may differ in one such square: less than one letter that has become another."""


def pixels_of(surface: pygame.Surface) -> Pixels:
    """What a surface shows."""
    return np.ascontiguousarray(pygame.surfarray.array3d(surface).swapaxes(0, 1))


def narrowed(pixels: Pixels) -> Pixels:
    """The small picture of a picture, not yet on levels."""
    high, wide = pixels.shape[:2]
    size = (NARROWED, round(high * NARROWED / wide))
    return np.asarray(Image.fromarray(pixels).resize(size, Image.Resampling.BOX))


def levelled(pixels: Pixels) -> Pixels:
    """Each channel on the nearest of 16 levels."""
    return ((pixels.astype(int) + LEVEL // 2) // LEVEL * LEVEL).astype(np.uint8)


def keep(pixels: Pixels, path: Path, *, small: bool) -> None:
    """Write a picture without loss."""
    path.parent.mkdir(parents=True, exist_ok=True)
    Image.fromarray(levelled(pixels) if small else pixels).save(path, lossless=True, quality=60, method=4)


def kept(path: Path) -> Pixels:
    """Read a picture."""
    with Image.open(path) as image:
        return np.asarray(image.convert("RGB"))


def differing(expected: Pixels, actual: Pixels, *, small: bool) -> Pixels:
    """Which pixels differ."""
    step = MOST_STEP_SMALL if small else MOST_STEP
    return np.any(np.abs(expected.astype(int) - actual.astype(int)) > step, axis=2)


def most_in_place(wrong: Pixels, *, small: bool) -> int:
    """Most differing pixels in one square; squares lie half over one another, so that no edge hides anything."""
    side = PLACE[small]
    half = side // 2
    high, wide = (-(-length // half) * half for length in wrong.shape)
    padded = np.zeros((high, wide), bool)
    padded[: wrong.shape[0], : wrong.shape[1]] = wrong
    halves = padded.reshape(high // half, half, wide // half, half).sum(axis=(1, 3))
    squares = halves[:-1, :-1] + halves[1:, :-1] + halves[:-1, 1:] + halves[1:, 1:]
    return int(squares.max())


def unlike(wrong: Pixels, *, small: bool) -> bool:
    """Whether two pictures in which these pixels differ are two different pictures."""
    return bool(wrong.mean() > MOST_DIFFERING or most_in_place(wrong, small=small) > MOST_IN_PLACE[small])
