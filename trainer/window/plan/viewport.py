"""Metres on the plan to pixels on the screen and back."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

import pygame

MARGIN_M: Final = 2.25
"""Ground shown beside the opening at first [m]."""

FRONT_M: Final = 2.0
BEHIND_M: Final = 0.7
"""Ground shown before the opening, and beyond the reach of the leaves [m]."""

NEAREST: Final = 4.0
"""How far one may zoom in, as a multiple of the first scale."""


@dataclass
class Viewport:
    """A window on the plan: its middle [m], its zoom, and the area it fills [px]."""

    opening_m: float = 4.4
    reach_m: float = 2.2
    """How far the leaves reach when they are open [m]."""
    area: pygame.Rect = field(default_factory=lambda: pygame.Rect(0, 0, 1, 1))
    zoom: float = 1.0
    shift_m: tuple[float, float] = (0.0, 0.0)
    outwards: bool = False
    """The leaves open to the outside: what is shown before and behind the opening changes places."""

    @property
    def fitted(self) -> float:
        """Pixels per metre at which the whole yard is in sight."""
        across = self.area.width / (self.opening_m + 2 * MARGIN_M)
        along = self.area.height / (self.reach_m + FRONT_M + BEHIND_M)
        return max(min(across, along), 1.0)

    @property
    def scale(self) -> float:
        """Pixels per metre."""
        return self.fitted * self.zoom

    @property
    def middle_m(self) -> tuple[float, float]:
        """What lies in the middle of the area [m]."""
        across = self.opening_m / 2
        along = (self.reach_m + BEHIND_M - FRONT_M) / 2 * (-1.0 if self.outwards else 1.0)
        return across + self.shift_m[0], along + self.shift_m[1]

    def key(self) -> tuple[object, ...]:
        """Equal while everything lands on the same pixels."""
        shown = (self.area.topleft, self.area.size, self.zoom, self.shift_m)
        return (*shown, self.opening_m, self.reach_m, self.outwards)

    def to_screen(self, x_m: float, y_m: float) -> tuple[float, float]:
        """Pixels of a point on the plan."""
        mx, my = self.middle_m
        return self.area.centerx + (x_m - mx) * self.scale, self.area.centery - (y_m - my) * self.scale

    def to_plan(self, point: tuple[int, int]) -> tuple[float, float]:
        """The point on the plan under a pixel [m]."""
        mx, my = self.middle_m
        return mx + (point[0] - self.area.centerx) / self.scale, my - (point[1] - self.area.centery) / self.scale

    def rect(self, x_m: float, y_m: float, along_x_m: float, along_y_m: float) -> pygame.Rect:
        """Pixels of an upright rectangle given by its least corner and its sides [m]."""
        left, bottom = self.to_screen(x_m, y_m)
        right, top = self.to_screen(x_m + along_x_m, y_m + along_y_m)
        return pygame.Rect(
            round(left), round(top), max(round(right) - round(left), 1), max(round(bottom) - round(top), 1)
        )

    def zoom_at(self, point: tuple[int, int], times: float) -> None:
        """Zoom so that what is under the pointer stays there."""
        before = self.to_plan(point)
        self.zoom = max(1.0, min(self.zoom * times, NEAREST))
        after = self.to_plan(point)
        self.move(before[0] - after[0], before[1] - after[1])

    def move(self, x_m: float, y_m: float) -> None:
        """Move the window over the plan, no further than the yard."""
        limit_x, limit_y = self.opening_m / 2 + MARGIN_M, self.reach_m
        self.shift_m = (
            max(-limit_x, min(self.shift_m[0] + x_m, limit_x)),
            max(-limit_y, min(self.shift_m[1] + y_m, limit_y)),
        )

    def fit(self) -> None:
        """The whole yard again."""
        self.zoom, self.shift_m = 1.0, (0.0, 0.0)
