"""Two parts beside one another where there is room for them, else under one another in one scroll area."""

from __future__ import annotations

import pygame

from trainer.window.kit.boxes import Column, Stretched
from trainer.window.kit.scroll import Scroll
from trainer.window.kit.style import Style
from trainer.window.kit.widget import Widget


class Split(Column):
    """`first` and `second` scroll each for itself when they stand beside one another."""

    def __init__(
        self,
        first: Widget,
        second: Widget,
        *,
        least: float,
        first_width: float | None = None,
        second_width: float | None = None,
        gap: float = 28.0,
    ) -> None:
        self.first = first
        self.second = second
        self.least = least
        """Below this width [logical px] they stand under one another."""
        self.widths = (first_width, second_width)
        self.split_gap = gap
        self._beside: bool | None = None
        super().__init__(gap=0, grow=1.0)
        self._arrange(True)

    def _arrange(self, beside: bool) -> None:
        if beside == self._beside:
            return
        self._beside = beside
        if not beside:
            self.fill_with([Scroll(Column(self.first, self.second, gap=18))])
            return
        parts = []
        for part, width in zip((self.first, self.second), self.widths, strict=True):
            scroll = Scroll(part, label=part.label, grow=1.0)
            parts.append(Column(scroll, width=width, grow=0.0 if width else 1.0))
        self.fill_with([Stretched(*parts, gap=self.split_gap, grow=1.0)])

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """Choose by the width there is."""
        self._arrange(rect.width / style.scale >= self.least)
        super().place(style, rect)
