"""Text that is shown: a line, a heading, a paragraph, a note with a coloured edge."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pygame

from trainer.window.kit.glyphs import Face
from trainer.window.kit.pen import Anchor, block, leading
from trainer.window.kit.style import INK, RULE, SMALL, SOFT, TEXT, Colour, Style
from trainer.window.kit.widget import Size, Value, Widget

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen


MOST_WIDE = 100_000
"""Room in which every line has place [px]."""


class Label(Widget):
    """A line of text; several where there is no room for one, unless it is to be `alone`: then it is cut short."""

    role = "label"

    def __init__(
        self,
        text: str = "",
        *,
        size: float = TEXT,
        colour: Colour = INK,
        face: Face = Face.REGULAR,
        anchor: Anchor = "left",
        width: float | None = None,
        grow: float = 0.0,
        help: str = "",
        name: str = "",
        alone: bool = False,
    ) -> None:
        super().__init__(name, width=width, grow=grow, help=help)
        self.text = text
        self.size = size
        self.colour = colour
        self.face = face
        self.anchor = anchor
        self.alone = alone
        self._style: Style | None = None

    @property
    def value(self) -> Value:
        """The text."""
        return self.text

    def show(self, text: str, colour: Colour | None = None) -> None:
        """Change the text; room is asked for anew only when another place would be found for it."""
        if colour is not None:
            self.colour = colour
        if text != self.text:
            before, self.text = self.text, text
            settled = self.fixed_width is not None or self.grow
            if not settled or self._height(before) != self._height(text):
                self.stale()

    def _height(self, text: str) -> int:
        return self._block(self._style, text, self.rect.width)[1] if self._style is not None else 0

    def _block(self, style: Style, text: str, width: int) -> Size:
        return block(style, text, self.size, self.face, MOST_WIDE if self.alone else width)

    def wish(self, style: Style, width: int) -> Size:
        """The text's own size."""
        wide, high = self._block(style, self.text, width)
        return min(wide, width), high

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """The style is kept for knowing whether another text needs another place."""
        super().place(style, rect)
        self._style = style

    def draw(self, pen: Pen) -> None:
        """The line."""
        pen.text_in(self.text, self.rect, self.size, self.colour, self.face, self.anchor)


HEAD = 11.0
"""Size of a heading's capitals."""


class Heading(Widget):
    """A small spaced heading over a group of rows, with a rule under it."""

    role = "heading"

    def __init__(self, text: str) -> None:
        super().__init__(text)

    def wish(self, style: Style, width: int) -> Size:
        """A line with air above, or as many as it needs."""
        return width, style.px(26) + leading(style, HEAD, Face.BOLD) * (len(self._lines(style, width)) - 1)

    def _lines(self, style: Style, width: int) -> tuple[str, ...]:
        """The words in lines; a letter takes one logical pixel more than it has by itself."""
        words, spaced = self.label.upper(), style.px(1)
        alone = style.width(words, HEAD, Face.BOLD)
        room = width * alone // max(alone + spaced * len(words), 1)
        return style.glyphs.wrap(words, Face.BOLD, style.px(HEAD), room)

    def draw(self, pen: Pen) -> None:
        """Spaced capitals and the rule."""
        lines, step = self._lines(pen.style, self.rect.width), leading(pen.style, HEAD, Face.BOLD)
        y = self.rect.bottom - pen.style.px(10) - step * (len(lines) - 1)
        with pen.clip(self.rect):
            for n, line in enumerate(lines):
                pen.text(line, (self.rect.left, y + step * n), HEAD, SOFT, Face.BOLD, spacing=1)
        pen.line((self.rect.left, self.rect.bottom - 1), (self.rect.right - 1, self.rect.bottom - 1), RULE)


class Paragraph(Widget):
    """Wrapped text, at most so many lines when told so."""

    role = "text"

    def __init__(
        self,
        text: str = "",
        *,
        size: float = TEXT,
        colour: Colour = INK,
        face: Face = Face.REGULAR,
        most: int | None = None,
        grow: float = 0.0,
        width: float | None = None,
        help: str = "",
    ) -> None:
        super().__init__(grow=grow, width=width, help=help)
        self.text = text
        self.size = size
        self.colour = colour
        self.face = face
        self.most = most

    @property
    def value(self) -> Value:
        """The text."""
        return self.text

    def show(self, text: str, colour: Colour | None = None) -> None:
        """Change the text."""
        if colour is not None:
            self.colour = colour
        if text != self.text:
            self.text = text
            self.stale()

    def wish(self, style: Style, width: int) -> Size:
        """As high as its lines."""
        lines = style.glyphs.wrap(self.text, self.face, style.px(self.size), width)
        count = len(lines) if self.most is None else min(len(lines), self.most)
        wide = max((style.width(line, self.size, self.face) for line in lines), default=0)
        return min(wide, width), count * leading(style, self.size, self.face)

    def draw(self, pen: Pen) -> None:
        """The lines."""
        pen.paragraph(self.text, self.rect, self.size, self.colour, self.face, self.most)


class Note(Paragraph):
    """A paragraph on a wash with a thick coloured edge: something to be noticed. Hidden while empty."""

    role = "note"

    def __init__(self, text: str, edge: Colour, wash: Colour, *, sign: str = "", size: float = TEXT) -> None:
        super().__init__(text, size=size)
        self.edge = edge
        self.wash = wash
        self.sign = sign
        """A mark before the text, so that colour doesn't carry the meaning alone."""

    def recolour(self, edge: Colour, wash: Colour, sign: str) -> None:
        """Another kind of note in the same place."""
        if sign != self.sign:
            self.stale()
        self.edge, self.wash, self.sign = edge, wash, sign

    def _inner(self, style: Style, rect: pygame.Rect) -> pygame.Rect:
        left = style.px(14) + (style.px(22) if self.sign else 0)
        return pygame.Rect(
            rect.left + left, rect.top + style.px(8), rect.width - left - style.px(12), rect.height - style.px(16)
        )

    def wish(self, style: Style, width: int) -> Size:
        """Its lines and the margin."""
        inner = self._inner(style, pygame.Rect(0, 0, width, 0)).width
        _, high = super().wish(style, inner)
        return width, high + style.px(16)

    def draw(self, pen: Pen) -> None:
        """Wash, edge, mark, text."""
        pen.fill(self.rect, self.wash)
        pen.fill(pygame.Rect(self.rect.left, self.rect.top, pen.style.px(4), self.rect.height), self.edge)
        inner = self._inner(pen.style, self.rect)
        if self.sign:
            first = inner.top + leading(pen.style, self.size) / 2
            pen.text(self.sign, (self.rect.left + pen.style.px(14), first), 15, self.edge, Face.BOLD)
        pen.paragraph(self.text, inner, self.size, self.colour, self.face)


class Item(Paragraph):
    """A paragraph with a mark in the margin: a point of a list, a step, something that is waited for."""

    role = "item"

    def __init__(
        self, text: str, sign: str = "·", sign_colour: Colour = INK, *, size: float = TEXT, colour: Colour = INK
    ) -> None:
        super().__init__(text, size=size, colour=colour)
        self.sign = sign
        self.sign_colour = sign_colour

    def wish(self, style: Style, width: int) -> Size:
        """Its lines beside the margin."""
        _, high = super().wish(style, width - style.px(22))
        return width, high + style.px(4)

    def draw(self, pen: Pen) -> None:
        """Mark and lines."""
        margin = pen.style.px(22)
        first = self.rect.top + leading(pen.style, self.size) / 2
        pen.text(self.sign, (self.rect.left + pen.style.px(8), first), 14, self.sign_colour, Face.BOLD, "centre")
        inner = pygame.Rect(self.rect.left + margin, self.rect.top, self.rect.width - margin, self.rect.height)
        pen.paragraph(self.text, inner, self.size, self.colour, self.face)


class Tag(Label):
    """A short word in a thin frame."""

    role = "label"

    def __init__(self, text: str, *, colour: Colour = INK, fill: Colour | None = None, help: str = "") -> None:
        super().__init__(text, size=SMALL, colour=colour, help=help)
        self.fill = fill

    def wish(self, style: Style, width: int) -> Size:
        """The word and its frame."""
        wide, high = block(style, self.text, self.size, self.face, width - style.px(16))
        return wide + style.px(16), max(style.px(22), high + style.px(6))

    def draw(self, pen: Pen) -> None:
        """Frame and word."""
        pen.box(self.rect, self.fill, self.colour)
        pen.text_in(self.text, self.rect.inflate(-pen.style.px(8), 0), self.size, self.colour, self.face, "centre")
