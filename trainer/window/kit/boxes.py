"""Boxes that place other widgets: columns, rows, flows, grids and panels with a frame."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import pygame

from trainer.window.kit.style import Colour, Style
from trainer.window.kit.widget import Size, Widget

if TYPE_CHECKING:
    from trainer.window.kit.pen import Pen

Pad = tuple[float, float]


class Box(Widget):
    """A widget with children, a gap between them, padding, and perhaps a ground and an edge."""

    def __init__(
        self,
        *children: Widget,
        label: str = "",
        gap: float = 8.0,
        pad: float | Pad = 0.0,
        fill: Colour | None = None,
        edge: Colour | None = None,
        radius: float = 0.0,
        line: float = 1.0,
        role: str = "group",
        width: float | None = None,
        height: float | None = None,
        grow: float = 0.0,
        help: str = "",
        acts: Iterable[str] = (),
    ) -> None:
        super().__init__(label, width=width, height=height, grow=grow, help=help, acts=acts)
        self.gap = gap
        self.pad: Pad = (pad, pad) if isinstance(pad, (int, float)) else pad
        self.fill = fill
        self.edge = edge
        self.radius = radius
        self.line = line
        self.role = role
        self.fill_with(children)

    def inside(self, style: Style, rect: pygame.Rect) -> pygame.Rect:
        """The area left for children."""
        return rect.inflate(-2 * style.px(self.pad[0]), -2 * style.px(self.pad[1]))

    def draw(self, pen: Pen) -> None:
        """Ground, edge, children."""
        if self.fill is not None or self.edge is not None:
            pen.box(self.rect, self.fill, self.edge, self.radius, self.line)
        super().draw(pen)


class Column(Box):
    """Children under one another, each as wide as the column."""

    def wish(self, style: Style, width: int) -> Size:
        """As high as the children together."""
        inner = width - 2 * style.px(self.pad[0])
        sizes = [child.measure(style, inner) for child in self.shown()]
        height = sum(h for _, h in sizes) + style.px(self.gap) * max(len(sizes) - 1, 0)
        widest = max((w for w, _ in sizes), default=0)
        return widest + 2 * style.px(self.pad[0]), height + 2 * style.px(self.pad[1])

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """What is left over goes to children that grow."""
        super().place(style, rect)
        area, shown, gap = self.inside(style, rect), self.shown(), style.px(self.gap)
        heights = [child.measure(style, area.width)[1] for child in shown]
        spare = area.height - sum(heights) - gap * max(len(shown) - 1, 0)
        heights = shared(heights, [child.grow for child in shown], spare)
        y = area.top
        for child, height in zip(shown, heights, strict=True):
            width = area.width if child.fixed_width is None else style.px(child.fixed_width)
            child.place(style, pygame.Rect(area.left, y, width, height))
            y += height + gap


class Row(Box):
    """Children beside one another, centred on one height (or stretched to it)."""

    stretch = False

    def wish(self, style: Style, width: int) -> Size:
        """As wide as the children together, at most the width there is."""
        inner = width - 2 * style.px(self.pad[0])
        shown = self.shown()
        widths = self._widths(style, inner)
        heights = [child.measure(style, w)[1] for child, w in zip(shown, widths, strict=True)]
        total = sum(widths) + style.px(self.gap) * max(len(shown) - 1, 0)
        return total + 2 * style.px(self.pad[0]), max(heights, default=0) + 2 * style.px(self.pad[1])

    def _widths(self, style: Style, inner: int) -> list[int]:
        shown = self.shown()
        wished = [
            0 if child.grow and child.fixed_width is None else child.measure(style, inner)[0] for child in shown
        ]
        spare = inner - sum(wished) - style.px(self.gap) * max(len(shown) - 1, 0)
        return shared(wished, [child.grow for child in shown], spare)

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """What is left over goes to children that grow."""
        super().place(style, rect)
        area = self.inside(style, rect)
        x = area.left
        for child, width in zip(self.shown(), self._widths(style, area.width), strict=True):
            height = area.height if self.stretch else min(child.measure(style, width)[1], area.height)
            child.place(style, pygame.Rect(x, area.top + (area.height - height) // 2, width, height))
            x += width + style.px(self.gap)


class Stretched(Row):
    """A row whose children are all as high as the row."""

    stretch = True


class Flow(Box):
    """Children beside one another, going on in the next line when the line is full."""

    def __init__(self, *children: Widget, line_gap: float = 6.0, gap: float = 8.0, grow: float = 0.0) -> None:
        self.line_gap = line_gap
        super().__init__(*children, gap=gap, grow=grow)

    def _lines(self, style: Style, width: int) -> list[list[tuple[Widget, Size]]]:
        lines: list[list[tuple[Widget, Size]]] = [[]]
        x, gap = 0, style.px(self.gap)
        for child in self.shown():
            wide, high = child.measure(style, width)
            wide = min(wide, width)
            if lines[-1] and x + wide > width:
                lines.append([])
                x = 0
            lines[-1].append((child, (wide, high)))
            x += wide + gap
        return lines

    def wish(self, style: Style, width: int) -> Size:
        """As high as its lines together."""
        lines = self._lines(style, width)
        height = sum(max((h for _, (_, h) in line), default=0) for line in lines)
        widest = max(
            (sum(w for _, (w, _) in line) + style.px(self.gap) * (len(line) - 1) for line in lines), default=0
        )
        return max(widest, 0), height + style.px(self.line_gap) * (len(lines) - 1)

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """Line after line."""
        Widget.place(self, style, rect)
        y = rect.top
        for line in self._lines(style, rect.width):
            high = max((h for _, (_, h) in line), default=0)
            x = rect.left
            for child, (wide, tall) in line:
                child.place(style, pygame.Rect(x, y + (high - tall), wide, tall))
                x += wide + style.px(self.gap)
            y += high + style.px(self.line_gap)


class Spacer(Widget):
    """Empty room."""

    role = "space"

    def __init__(self, size: float = 0.0, grow: float = 0.0) -> None:
        super().__init__(grow=grow)
        self.size = size

    def wish(self, style: Style, width: int) -> Size:
        """Its size both ways."""
        return style.px(self.size), style.px(self.size)


def shared(sizes: list[int], grows: list[float], spare: int) -> list[int]:
    """Sizes with the spare room given to those that grow; when room lacks, the largest give way first."""
    if spare < 0:
        return _shrunk(sizes, -spare)
    total = sum(grows)
    if total == 0:
        return sizes
    out, given, seen = list(sizes), 0, 0.0
    for n, grow in enumerate(grows):
        seen += grow
        upto = round(spare * seen / total)
        out[n] += upto - given
        given = upto
    return out


def _shrunk(sizes: list[int], lack: int) -> list[int]:
    out = list(sizes)
    while lack > 0 and any(out):
        largest = max(out)
        below = max((size for size in out if size < largest), default=0)
        peak = [n for n, size in enumerate(out) if size == largest]
        cut = min(largest - below, -(-lack // len(peak)))
        for n in peak:
            step = min(cut, lack)
            out[n] -= step
            lack -= step
    return out
