"""Which part of the sheet is seen: zoom, and what lies in the middle of the window."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

import pygame

from trainer.window.wiring.geometry import Area, Point

NEAREST: Final = 2.5
LEAST_FIT: Final = 0.85
"""At first the sheet is no smaller than this, so that it can be read [logical px per unit]."""

EDGE: Final = 30.0
"""How much of the window stays between a mark and its edge [logical px]."""


@dataclass
class Eye:
    """A window on a sheet."""

    sheet: Point = (100.0, 100.0)
    area: pygame.Rect = field(default_factory=lambda: pygame.Rect(0, 0, 1, 1))
    scale: float = 1.0
    """Screen px per logical px."""
    zoom: float = 0.0
    """Logical px per unit; 0 until it was first fitted."""
    middle: Point = (0.0, 0.0)
    wide: bool = True
    """Nobody has zoomed yet: the width of the sheet goes on fitting the window."""

    @property
    def per_unit(self) -> float:
        """Screen px per unit."""
        return self.zoom * self.scale

    @property
    def corner(self) -> Point:
        """Where the sheet's corner lies on the screen [px]."""
        return (
            self.area.centerx - self.middle[0] * self.per_unit,
            self.area.centery - self.middle[1] * self.per_unit,
        )

    @property
    def whole(self) -> float:
        """The zoom at which all of the sheet is in sight."""
        return min(
            self.area.width / self.scale / self.sheet[0], self.area.height / self.scale / self.sheet[1], NEAREST
        )

    def key(self) -> tuple[object, ...]:
        """Equal while everything lands on the same pixels."""
        return self.zoom, self.middle, self.scale

    def look(self, area: pygame.Rect, scale: float, sheet: Point) -> None:
        """Take the window's place and the sheet's size."""
        turned = sheet != self.sheet
        self.area, self.scale, self.sheet = pygame.Rect(area), scale, sheet
        if self.wide or self.zoom == 0.0 or turned:
            self.fit_width()
        self._keep()

    def fit_width(self) -> None:
        """The width of the sheet fills the window, from its head; it stays large enough to be read."""
        self.wide = True
        self.zoom = max(LEAST_FIT, min(self.area.width / self.scale / self.sheet[0], 1.4))
        half = self.area.width / self.per_unit / 2, self.area.height / self.per_unit / 2
        self.middle = half
        self._keep()

    def fit_all(self) -> None:
        """All of the sheet, however small."""
        self.wide = False
        self.zoom = self.whole
        self.middle = self.sheet[0] / 2, self.sheet[1] / 2
        self._keep()

    def to_sheet(self, point: tuple[int, int]) -> Point:
        """The place on the sheet under a pixel."""
        left, top = self.corner
        return (point[0] - left) / self.per_unit, (point[1] - top) / self.per_unit

    def to_screen(self, at: Point) -> tuple[int, int]:
        """The pixel over a place on the sheet."""
        left, top = self.corner
        return round(left + at[0] * self.per_unit), round(top + at[1] * self.per_unit)

    def zoom_at(self, point: tuple[int, int], times: float) -> None:
        """Zoom so that what is under the pointer stays there."""
        before = self.to_sheet(point)
        self.wide = False
        self.zoom = max(min(self.whole, LEAST_FIT), min(self.zoom * times, NEAREST))
        after = self.to_sheet(point)
        self.move(before[0] - after[0], before[1] - after[1])

    def move(self, along: float, down: float) -> bool:
        """Move over the sheet; whether anything moved."""
        before = self.middle
        self.middle = before[0] + along, before[1] + down
        self._keep()
        return self.middle != before

    def show(self, area: Area) -> None:
        """Move as little as is needed to have an area in sight."""
        left, top = self.to_screen((area[0], area[1]))
        right, foot = self.to_screen((area[0] + area[2], area[1] + area[3]))
        edge = round(EDGE * self.scale)
        seen = self.area.inflate(-2 * edge, -2 * edge)
        along = min(left - seen.left, 0) or max(right - seen.right, 0)
        down = min(top - seen.top, 0) or max(foot - seen.bottom, 0)
        if along or down:
            self.move(along / self.per_unit, down / self.per_unit)

    def _keep(self) -> None:
        """The sheet stays under the window; what is smaller than the window lies in its middle."""
        kept = []
        if self.zoom == 0.0:
            return
        for size, window, at in zip(self.sheet, self.area.size, self.middle, strict=True):
            half = window / self.per_unit / 2
            kept.append(size / 2 if size <= 2 * half else max(half, min(at, size - half)))
        self.middle = kept[0], kept[1]
