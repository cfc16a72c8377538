"""The pen: everything that is drawn on a surface goes through it, in screen pixels with measures from the style."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import Final, Literal

import pygame

from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import FIELD, INK, TEXT, WIRE, Colour, Style

Point = tuple[float, float]
Anchor = Literal["left", "centre", "right"]
Cut = tuple[pygame.Rect, str]
"""Where on its surface a text was cut short [px], and the whole of it."""

FINE: Final = 4
"""Sprites are drawn this many times larger and scaled down, which smooths their edges."""

MOST_SPRITE_PIXELS: Final = 6_000_000
"""Pixels kept in all sprites together: 24 MB. A turning leaf is a new picture each frame."""


STEPS: Final = sorted(
    ((across / 2, down / 2) for across in range(-3, 4) for down in range(-12, 13)),
    key=lambda step: (abs(step[0]) * 5 + abs(step[1]), step[1] < 0, step[0] < 0),
)
"""Ways of words on a drawing that make way for others, in their own widths and heights, the shortest first."""


class Sprites:
    """Smooth small pictures, kept by key."""

    def __init__(self) -> None:
        self._kept: OrderedDict[object, pygame.Surface] = OrderedDict()
        self._pixels = 0

    def get(
        self,
        key: object,
        size: tuple[int, int],
        ground: Colour,
        paint: Callable[[pygame.Surface, int], None],
        fine: int = FINE,
    ) -> pygame.Surface:
        """The picture under `key`; drawn by `paint(surface, times)` at `times` its size when it is new.

        `ground` is the colour that smoothed edges fade to: the colour of the outline.
        """
        found = self._kept.get(key)
        if found is not None:
            self._kept.move_to_end(key)
            return found
        width, height = max(size[0], 1), max(size[1], 1)
        large = pygame.Surface((width * fine, height * fine), pygame.SRCALPHA)
        large.fill((*ground, 0))
        paint(large, fine)
        found = self._kept[key] = pygame.transform.smoothscale(large, (width, height))
        self._pixels += width * height
        while self._pixels > MOST_SPRITE_PIXELS and len(self._kept) > 1:
            _key, old = self._kept.popitem(last=False)
            self._pixels -= old.get_width() * old.get_height()
        return found


class Pen:
    """Draws on one surface. Widgets get it in `draw`, once a frame."""

    def __init__(self, surface: pygame.Surface, style: Style, sprites: Sprites) -> None:
        self.surface = surface
        self.style = style
        self.sprites = sprites
        self._seen = style.seen
        self.now = 0.0
        """Wall time since the window opened [s]: for blinking only."""
        self.calm = False
        """Reduced motion: nothing blinks."""
        self.cuts: list[Cut] = []
        """What was cut short, since there was no room for it: whoever points there is told the whole."""
        self.taken: list[pygame.Rect] = []
        """Where words stand on a drawing: others keep off."""
        self._waiting: list[tuple[bool, Callable[[], None]]] | None = None
        self.hover: object = None
        self.focus: object = None
        self.ring = False
        """Whether focus shows: after the keyboard moved it."""

    def fill(self, rect: pygame.Rect, colour: Colour) -> None:
        """A plain area."""
        self.surface.fill(self._seen(colour), rect)

    def wash(self, rect: pygame.Rect, colour: Colour, alpha: int) -> None:
        """A see-through area."""
        area = rect.clip(self.surface.get_clip())
        if area.width > 0 and area.height > 0:
            veil = pygame.Surface(area.size, pygame.SRCALPHA)
            veil.fill((*self._seen(colour), alpha))
            self.surface.blit(veil, area)

    def box(
        self,
        rect: pygame.Rect,
        fill: Colour | None = None,
        edge: Colour | None = None,
        radius: float = 3.0,
        line: float = 1.0,
    ) -> None:
        """A box with smooth rounded corners; `radius` and `line` in logical px."""
        if rect.width <= 0 or rect.height <= 0:
            return
        fill, edge = fill and self._seen(fill), edge and self._seen(edge)
        corner, thick = self.style.px(radius) if radius > 0 else 0, self.style.px(line)
        if corner == 0:
            if fill is not None:
                self.surface.fill(fill, rect)
            if edge is not None:
                pygame.draw.rect(self.surface, edge, rect, thick)
            return
        key = ("box", rect.size, fill, edge, corner, thick)

        def paint(large: pygame.Surface, times: int) -> None:
            area = large.get_rect()
            if fill is not None:
                pygame.draw.rect(large, fill, area, 0, corner * times)
            if edge is not None:
                pygame.draw.rect(large, edge, area, thick * times, corner * times)

        ground = edge if edge is not None else (fill if fill is not None else self._seen(INK))
        self.surface.blit(self.sprites.get(key, rect.size, ground, paint), rect)

    def share(self, rect: pygame.Rect, part: float, colour: Colour = INK) -> None:
        """A bar for a whole, and in it how much of it there is, 0 to 1, from the left."""
        self.box(rect, None, FIELD, 0)
        self.fill(pygame.Rect(rect.left, rect.top, round(rect.width * part), rect.height), colour)

    def ring_round(self, rect: pygame.Rect) -> None:
        """The mark of keyboard focus round a widget."""
        self.box(rect.inflate(self.style.px(6), self.style.px(6)), None, WIRE, 5, 2)

    def text(
        self,
        text: str,
        at: Point,
        size: float = TEXT,
        colour: Colour = INK,
        face: Face = Face.REGULAR,
        anchor: Anchor = "left",
        spacing: float = 0.0,
    ) -> pygame.Rect:
        """One line; `at` is the middle of its height, and left, centre or right of its width."""
        run = self.style.glyphs.run(
            text, face, self.style.px(size), self._seen(colour), round(spacing * self.style.scale) if spacing else 0
        )
        x, y = round(at[0]), round(at[1] - run.get_height() / 2)
        if anchor == "centre":
            x -= run.get_width() // 2
        elif anchor == "right":
            x -= run.get_width()
        return self.surface.blit(run, (x, y))

    def text_in(
        self,
        text: str,
        rect: pygame.Rect,
        size: float = TEXT,
        colour: Colour = INK,
        face: Face = Face.REGULAR,
        anchor: Anchor = "left",
    ) -> pygame.Rect:
        """Text in the middle of a box: one line, or as many as it needs and there is room for; what has no room is
        cut short with an ellipsis."""
        x = {"left": rect.left, "centre": rect.centerx, "right": rect.right}[anchor]
        shown = self.style.glyphs.elide(text, face, self.style.px(size), rect.width)
        if shown == text:
            return self.text(text, (x, rect.centery), size, colour, face, anchor)
        step = leading(self.style, size, face)
        if rect.height < 2 * step:
            self.tell_whole(text, rect)
            return self.text(shown, (x, rect.centery), size, colour, face, anchor)
        lines = self._lines(text, rect, size, face, rect.height // step)
        y = rect.centery - step * (len(lines) - 1) / 2
        drawn = [self.text(line, (x, y + step * n), size, colour, face, anchor) for n, line in enumerate(lines)]
        return drawn[0].unionall(drawn[1:])

    def _lines(self, text: str, rect: pygame.Rect, size: float, face: Face, most: int) -> tuple[str, ...]:
        """The text in lines as wide as a box, the last one cut short when there would be more than `most`."""
        pixels, glyphs = self.style.px(size), self.style.glyphs
        lines = glyphs.wrap(text, face, pixels, rect.width)
        if len(lines) <= most:
            return lines
        self.tell_whole(text, rect)
        last = glyphs.elide(lines[most - 1] + " …", face, pixels, rect.width)
        return (*lines[: most - 1], last if last.endswith("…") else last + "…")

    def tell_whole(self, text: str, rect: pygame.Rect) -> None:
        """A text had no room there: who points at the place is told all of it."""
        self.cuts.append((rect.clip(self.surface.get_clip()), text))

    def paragraph(
        self,
        text: str,
        rect: pygame.Rect,
        size: float = TEXT,
        colour: Colour = INK,
        face: Face = Face.REGULAR,
        most: int | None = None,
    ) -> int:
        """Wrapped text from the top of a box; answers the height drawn [px]. At most `most` lines, and no more than
        the box has room for."""
        step = leading(self.style, size, face)
        lines = self._lines(text, rect, size, face, max(min(most or 1000, (rect.height + 2) // step), 1))
        for n, line in enumerate(lines):
            if line:
                self.text(line, (rect.left, rect.top + step * n + step / 2), size, colour, face)
        return step * len(lines)

    def free(self, wished: pygame.Rect, must: bool = False) -> pygame.Rect | None:
        """The nearest place to the one wished on a drawing where no words stand yet; it is taken then. When there is
        none about: the one wished if it `must` be, else None."""
        inside = self.surface.get_clip()
        for across, down in STEPS:
            at = wished.move(round(across * wished.width), round(down * (wished.height + 1)))
            if at.collidelist(self.taken) < 0 and (at == wished or inside.contains(at)):
                self.taken.append(at)
                return at
        if must:
            self.taken.append(wished)
        return wished if must else None

    @contextmanager
    def words_last(self) -> Iterator[None]:
        """Words of a drawing are put on when all else is drawn: those that matter first, since room may run out."""
        self._waiting = []
        yield
        waiting, self._waiting = self._waiting, None
        for _first, put in sorted(waiting, key=lambda each: not each[0]):
            put()

    def put(self, words: Callable[[], None], first: bool) -> None:
        """Put words on a drawing, now or with the others; `first` when they matter more than those."""
        if self._waiting is None:
            words()
        else:
            self._waiting.append((first, words))

    def line(self, start: Point, end: Point, colour: Colour = INK, width: float = 1.0) -> None:
        """A straight line; level and plumb lines are crisp, others smooth. `width` in logical px."""
        thick, colour = self.style.px(width), self._seen(colour)
        if round(start[0]) == round(end[0]) or round(start[1]) == round(end[1]):
            pygame.draw.line(self.surface, colour, _whole(start), _whole(end), thick)
        else:
            pygame.draw.aaline(self.surface, colour, start, end, thick)

    def lines(self, points: Sequence[Point], colour: Colour = INK, width: float = 1.0) -> None:
        """A smooth line through points."""
        thick, colour = self.style.px(width), self._seen(colour)
        if len(points) < 2:
            return
        if thick > 1:
            pygame.draw.lines(self.surface, colour, False, points, thick)
        if len(points) == 2:  # the library draws a line of two points forth and back, and so too dark
            pygame.draw.aaline(self.surface, colour, points[0], points[1])
        else:
            pygame.draw.aalines(self.surface, colour, False, points)

    def dashes(
        self,
        start: Point,
        end: Point,
        colour: Colour = INK,
        width: float = 1.0,
        on: float = 6.0,
        off: float = 4.0,
    ) -> None:
        """A dashed line; measures in logical px. Level and plumb ones are kept as pictures: most stand still."""
        across, down = end[0] - start[0], end[1] - start[1]
        length = (across**2 + down**2) ** 0.5
        if length < 1:
            return
        along = (across / length, down / length)
        dashes = _dashes(length, self.style.px(on), self.style.px(on) + self.style.px(off))
        if 0.0 not in along:
            for at, to in dashes:
                ends = [(start[0] + along[0] * way, start[1] + along[1] * way) for way in (at, to)]
                self.line(ends[0], ends[1], colour, width)
            return
        thick, seen, margin = self.style.px(width), self._seen(colour), self.style.px(width)
        size = (round(abs(across)) + 2 * margin, round(abs(down)) + 2 * margin)
        zero = (margin - min(0, round(across)), margin - min(0, round(down)))

        def paint(large: pygame.Surface, _times: int) -> None:
            for at, to in dashes:
                ends = [(zero[0] + along[0] * way, zero[1] + along[1] * way) for way in (at, to)]
                pygame.draw.line(large, seen, _whole(ends[0]), _whole(ends[1]), thick)

        key = ("dashes", size, along, thick, seen, tuple(dashes[:1]), len(dashes))
        place = (round(start[0]) - zero[0], round(start[1]) - zero[1])
        self.surface.blit(self.sprites.get(key, size, seen, paint, fine=1), place)

    def shape(self, points: Sequence[Point], fill: Colour | None, edge: Colour | None, width: float = 1.0) -> None:
        """A closed shape with smooth edges."""
        fill, edge = fill and self._seen(fill), edge and self._seen(edge)
        if fill is not None:
            pygame.draw.polygon(self.surface, fill, points)
            pygame.draw.aalines(self.surface, fill, True, points)
        if edge is not None:
            thick = self.style.px(width)
            if thick > 1:
                pygame.draw.polygon(self.surface, edge, points, thick)
            pygame.draw.aalines(self.surface, edge, True, points)

    def dot(self, centre: Point, radius: float, fill: Colour | None, edge: Colour | None = None) -> None:
        """A smooth disc or ring; `radius` in logical px."""
        fill, edge, reach = fill and self._seen(fill), edge and self._seen(edge), self.style.px(radius)
        if fill is not None:
            pygame.draw.aacircle(self.surface, fill, centre, reach)
        if edge is not None:
            pygame.draw.aacircle(self.surface, edge, centre, reach, self.style.px(1.5))

    @contextmanager
    def clip(self, rect: pygame.Rect) -> Iterator[pygame.Rect]:
        """Draw only inside `rect` (and inside what was already clipped)."""
        before = self.surface.get_clip()
        inside = before.clip(rect)
        self.surface.set_clip(inside)
        try:
            yield inside
        finally:
            self.surface.set_clip(before)


def leading(style: Style, size: float, face: Face = Face.REGULAR) -> int:
    """Distance of lines in a paragraph [px]."""
    return round(style.line(size, face) * 1.18)


def block(style: Style, text: str, size: float, face: Face, width: int) -> tuple[int, int]:
    """Room that text takes where `width` [px] is there: one line, or as many as it needs."""
    alone = style.width(text, size, face)
    if alone <= width:
        return alone, round(style.line(size, face) * 1.1)
    return width, leading(style, size, face) * len(style.glyphs.wrap(text, face, style.px(size), width))


def _dashes(length: float, dash: int, step: int) -> list[tuple[float, float]]:
    """Where dashes begin and end along a line [px]."""
    count = -int(-length // step)
    return [(float(n * step), min(float(n * step + dash), length)) for n in range(count)]


def _whole(point: Point) -> tuple[int, int]:
    return round(point[0]), round(point[1])
