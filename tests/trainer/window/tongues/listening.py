"""An ear at the one door through which all text comes on a screen: a pen that draws nothing and remembers what it was
asked to write, where, and what of it can be seen."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import combinations

import pygame
import pytest

from trainer.window.kit import canvas, root
from trainer.window.kit.canvas import Canvas
from trainer.window.kit.glyphs import Face
from trainer.window.kit.pen import Pen, Sprites
from trainer.window.kit.scroll import Scroll
from trainer.window.kit.style import INK, TEXT
from trainer.window.kit.widget import Widget


@dataclass
class Line:
    """One line as it was written."""

    shown: str
    whole: str
    """What was asked for; longer than `shown` where it was wrapped or cut short."""
    rect: pygame.Rect
    clip: pygame.Rect
    ground: str
    """Role of the drawing on which it stands; '' beside drawings."""
    scrolls: bool
    """More of it can be had by scrolling."""

    canvas: Canvas | None = None
    hidden: bool = False
    """Something was drawn over a part of it."""

    def hide(self, left: pygame.Rect) -> None:
        """Only what is `left` of it can be seen."""
        self.hidden, self.clip = True, self.clip.clip(left)

    @property
    def ink(self) -> pygame.Rect:
        """Where its letters are: a line is higher than they are."""
        high = self.rect.height * 3 // 5
        return pygame.Rect(self.rect.left, self.rect.centery - high // 2, self.rect.width, high).clip(self.clip)


class Ear:
    """What was written in the last frame and can be seen."""

    def __init__(self) -> None:
        self.lines: list[Line] = []
        self.smeared: list[str] = []
        """What was drawn over words on the same drawing."""
        self.canvas: Canvas | None = None
        self.scrolls = 0
        self.whole: str | None = None
        self.window = pygame.Rect(0, 0, 9999, 9999)
        """What may be drawn on round the present drawing."""

    def begin(self) -> None:
        """Forget what was written before."""
        self.lines, self.smeared = [], []

    def cover(self, area: pygame.Rect) -> None:
        """Something opaque was drawn: what lies under it is not seen."""
        for line in self.lines:
            ink = line.ink
            if not area.colliderect(ink):
                continue
            if self.canvas is not None and line.canvas is self.canvas and ink.clip(area).width > 2:
                self.smeared.append(f"{line.shown!r} at {tuple(ink)} lies under {tuple(area)} on {line.ground!r}")
            if area.contains(ink):
                continue
            if area.left <= ink.left and area.right < ink.right:
                line.hide(pygame.Rect(area.right, ink.top, line.clip.right - area.right, ink.height))
            elif area.right >= ink.right and area.left > ink.left:
                line.hide(pygame.Rect(line.clip.left, ink.top, area.left - line.clip.left, ink.height))
            elif area.top <= ink.top:
                line.hide(pygame.Rect(ink.left, area.bottom, ink.width, line.clip.bottom - area.bottom))
            elif area.bottom >= ink.bottom:
                line.hide(pygame.Rect(ink.left, line.clip.top, ink.width, area.top - line.clip.top))
        self.lines = [line for line in self.lines if not area.contains(line.ink)]

    @contextmanager
    def asked(self, text: str) -> Iterator[None]:
        """All that is written meanwhile belongs to this text."""
        before, self.whole = self.whole, self.whole or text
        try:
            yield
        finally:
            self.whole = before


def hear(ear: Ear, patch: pytest.MonkeyPatch) -> None:
    """Put the ear at the door."""

    class Listening(Pen):
        def __init__(self, surface: pygame.Surface, style: object, sprites: Sprites) -> None:
            super().__init__(surface, style, sprites)  # type: ignore[arg-type]
            aside = ear.canvas is not None and surface is not pygame.display.get_surface()
            self.corner = ear.canvas.rect.topleft if aside and ear.canvas is not None else (0, 0)

        def text(self, text, at, size=TEXT, colour=INK, face=Face.REGULAR, anchor="left", spacing=0.0):  # type: ignore[no-untyped-def]
            apart = round(spacing * self.style.scale) if spacing else 0
            wide = self.style.width(text, size, face) + apart * len(text)
            rect = pygame.Rect(round(at[0]), 0, wide, self.style.line(size, face))
            rect.left -= {"left": 0, "centre": wide // 2, "right": wide}[anchor]
            rect.top = round(at[1] - rect.height / 2)
            if text.strip():
                clip = self.surface.get_clip().move(self.corner).clip(ear.window)
                where = ear.canvas.role if ear.canvas is not None else ""
                ear.lines.append(
                    Line(text, ear.whole or text, rect.move(self.corner), clip, where, ear.scrolls > 0, ear.canvas)
                )
            return rect

        def text_in(self, text, *args, **kwargs):  # type: ignore[no-untyped-def]
            with ear.asked(text):
                return super().text_in(text, *args, **kwargs)

        def paragraph(self, text, *args, **kwargs):  # type: ignore[no-untyped-def]
            with ear.asked(text):
                return super().paragraph(text, *args, **kwargs)

        def fill(self, rect, colour):  # type: ignore[no-untyped-def]
            ear.cover(pygame.Rect(rect).clip(self.surface.get_clip()).move(self.corner))

        def box(self, rect, fill=None, edge=None, radius=3.0, line=1.0):  # type: ignore[no-untyped-def]
            if fill is not None:
                ear.cover(rect.clip(self.surface.get_clip()).move(self.corner))

        def wash(self, rect, colour, alpha):  # type: ignore[no-untyped-def]
            if rect == self.surface.get_rect():
                ear.lines.clear()  # a dialog shades the screen under it

        def line(self, *args, **kwargs):  # type: ignore[no-untyped-def]
            pass

        lines = dashes = shape = dot = ring_round = line

    def draw(self, pen, before=Canvas.draw):  # type: ignore[no-untyped-def]
        outer, ear.canvas, ear.window = ear.canvas, self, pen.surface.get_clip()
        self._painted = None  # what is kept as a picture is heard as well
        before(self, pen)
        ear.canvas, ear.window = outer, pen.surface.get_rect()

    def beside(self, pen, before=Widget.draw):  # type: ignore[no-untyped-def]
        outer, ear.canvas = ear.canvas, None if self is ear.canvas else ear.canvas
        before(self, pen)  # what lies over a drawing is no part of it
        ear.canvas = outer

    def scrolled(self, pen, before=Scroll.draw):  # type: ignore[no-untyped-def]
        more = self._content > self.rect.height
        ear.scrolls += more
        before(self, pen)
        ear.scrolls -= more

    speck = pygame.Surface((1, 1))
    patch.setattr(root, "Pen", Listening)
    patch.setattr(canvas, "Pen", Listening)
    patch.setattr(Canvas, "draw", draw)
    patch.setattr(Widget, "draw", beside)
    patch.setattr(Scroll, "draw", scrolled)
    patch.setattr(Sprites, "get", lambda *_args: speck)


def clipped(lines: list[Line], roams: frozenset[str]) -> list[str]:
    """Lines of which a part is outside of what is drawn there. A drawing that `roams` is moved under its window, and
    what scrolls may be cut at its head and foot."""
    found = []
    for line in lines:
        over = max(line.clip.left - line.rect.left, line.rect.right - line.clip.right)
        up = max(line.clip.top - line.ink.top, line.rect.centery + line.rect.height * 3 // 10 - line.clip.bottom)
        seen = line.rect.colliderect(line.clip)
        if line.hidden or line.ground in roams or (line.scrolls and not seen):
            continue
        if over > 2 or (up > 2 and not line.scrolls) or not seen:
            found.append(f"{line.shown!r} at {tuple(line.rect)} is clipped by {tuple(line.clip)} on {line.ground!r}")
    return found


def crossed(lines: list[Line]) -> list[str]:
    """Pairs of lines of which one is written over the other."""
    found = []
    inks = [(line.ink, line) for line in lines]
    for (one, first), (other, second) in combinations([pair for pair in inks if pair[0].width and pair[0].height], 2):
        both = one.clip(other)
        if both.width > 2 and both.height > 2:
            found.append(
                f"{first.shown!r} at {tuple(first.rect)} and {second.shown!r} at {tuple(second.rect)} "
                f"cross on {first.ground or second.ground!r}"
            )
    return found


def cut_short(lines: list[Line]) -> dict[str, pygame.Rect]:
    """Texts that end in an ellipsis of ours, and where."""
    return {
        line.whole: line.rect.clip(line.clip)
        for line in lines
        if line.shown.endswith("…") and not line.whole.endswith(line.shown) and line.ink.height > 2
    }
