"""What floats above the screen: short messages that go by themselves, and help in a bubble."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

import pygame

from trainer.window.kit.glyphs import Face
from trainer.window.kit.pen import leading
from trainer.window.kit.style import INK, SHEET, SMALL, STOP, STOP_WASH, WHITE

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen

STAYS_S: Final = 6.0
"""How long a message stays [s]; longer ones stay longer. CP."""

MOST: Final = 3


@dataclass
class Toast:
    """One message."""

    text: str
    bad: bool
    left_s: float


class Toasts:
    """Messages from the foot of the window upwards, newest lowest."""

    def __init__(self) -> None:
        self.shown: list[Toast] = []

    def say(self, text: str, bad: bool = False) -> None:
        """Add a message; the same one again only stays longer."""
        self.shown = [toast for toast in self.shown if toast.text != text]
        self.shown.append(Toast(text, bad, STAYS_S + len(text) / 25))
        del self.shown[:-MOST]

    def clear(self) -> None:
        """Take all away."""
        self.shown.clear()

    def advance(self, wall_s: float) -> None:
        """Let time pass."""
        for toast in self.shown:
            toast.left_s -= wall_s
        self.shown = [toast for toast in self.shown if toast.left_s > 0]

    def tree(self) -> list[dict[str, Any]]:
        """As plain data."""
        return [
            {"role": "message", "label": toast.text, "value": "refused" if toast.bad else "", "enabled": True}
            for toast in self.shown
        ]

    def draw(self, pen: Pen, screen: pygame.Rect) -> None:
        """Each on its own slip."""
        bottom = screen.bottom - pen.style.px(18)
        for toast in reversed(self.shown):
            width = min(pen.style.px(560), screen.width - pen.style.px(60))
            lines = pen.style.glyphs.wrap(toast.text, Face.REGULAR, pen.style.px(13), width - pen.style.px(44))
            if len(lines) == 1:
                width = pen.style.width(lines[0], 13, Face.REGULAR) + pen.style.px(46)
            height = leading(pen.style, 13) * len(lines) + pen.style.px(18)
            box = pygame.Rect(0, 0, width, height)
            box.midbottom = (screen.centerx, bottom)
            pen.wash(box.move(2, 3), INK, 50)
            pen.box(box, STOP_WASH if toast.bad else INK, STOP if toast.bad else INK, 4)
            inner = pygame.Rect(
                box.left + pen.style.px(32), box.top + pen.style.px(9), width - pen.style.px(44), height
            )
            ink = INK if toast.bad else WHITE
            pen.text(
                "⊘" if toast.bad else "✓", (box.left + pen.style.px(18), inner.top + leading(pen.style, 13) / 2), 14,
                STOP if toast.bad else WHITE, anchor="centre",
            )  # fmt: skip
            pen.paragraph(toast.text, inner, 13, ink)
            bottom = box.top - pen.style.px(8)


class Bubble:
    """Help about one thing, beside it."""

    def __init__(self) -> None:
        self.text = ""
        self.about = pygame.Rect(0, 0, 0, 0)

    def show(self, text: str, about: pygame.Rect) -> None:
        """Help about what lies at a place."""
        self.text, self.about = text, about

    def hide(self) -> None:
        """No help."""
        self.text = ""

    def tree(self) -> list[dict[str, Any]]:
        """As plain data."""
        return [{"role": "help", "label": self.text, "value": None, "enabled": True}] if self.text else []

    def draw(self, pen: Pen, screen: pygame.Rect) -> None:
        """Under what it is about, or over it where there is no room."""
        if not self.text:
            return
        room = min(pen.style.px(300), screen.width - 20)
        lines = pen.style.glyphs.wrap(self.text, Face.REGULAR, pen.style.px(SMALL), room)
        wide = max(pen.style.width(line, SMALL, Face.REGULAR) for line in lines)
        box = pygame.Rect(0, 0, wide + pen.style.px(18), leading(pen.style, SMALL) * len(lines) + pen.style.px(12))
        box.midtop = (self.about.centerx, self.about.bottom + pen.style.px(6))
        if box.bottom > screen.bottom - 6:
            box.bottom = self.about.top - pen.style.px(6)
        box.clamp_ip(screen.inflate(-12, -12))
        pen.wash(box.move(2, 3), INK, 40)
        pen.box(box, SHEET, INK, 3)
        pen.paragraph(self.text, box.inflate(-pen.style.px(18), -pen.style.px(12)), SMALL)
