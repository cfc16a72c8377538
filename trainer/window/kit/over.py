"""One thing that lies over a screen while the screen stays in use round it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pygame

from trainer.window.kit.boxes import Column
from trainer.window.kit.widget import Widget

if TYPE_CHECKING:
    from trainer.window.kit.style import Style


class Floating(Column):
    """Something that finds its own place over a screen."""

    def settle(self, style: Style, screen: pygame.Rect) -> None:
        """Take a place on the screen, whose widgets have theirs; called once per layout pass."""
        raise NotImplementedError


class Over(Widget):
    """A screen, and what floats over it: drawn last, and the pointer finds it first."""

    def __init__(self) -> None:
        super().__init__(grow=1.0)
        self.base: Widget = Widget()
        self.floating: Floating | None = None

    def lay(self, base: Widget, floating: Floating | None) -> None:
        """Take another screen, or another thing that floats over it (None: nothing does)."""
        self.base, self.floating = base, floating
        self.fill_with([base] if floating is None else [base, floating])

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """The screen takes everything; what floats settles when it has."""
        super().place(style, rect)
        self.base.place(style, rect)
        if self.floating is not None:
            self.floating.settle(style, rect)
