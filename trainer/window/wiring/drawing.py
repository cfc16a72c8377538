"""The wiring drawing as a canvas: pan, zoom, name what is under the mouse, put leads on screws by mouse and keys."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Final

import pygame

from trainer.language import _
from trainer.window.folder.bench import Bench
from trainer.window.kit.canvas import Canvas
from trainer.window.kit.glyphs import Face
from trainer.window.kit.pen import leading
from trainer.window.kit.style import INK, RULE, SHEET, SOFT, Style
from trainer.window.wiring.eye import Eye
from trainer.window.wiring.geometry import Layout, Line, Point, Spot
from trainer.window.wiring.ink import Ink
from trainer.window.wiring.layout import lay_out
from trainer.window.wiring.leads import draw_leads, draw_mark, tool_rect
from trainer.window.wiring.sheet import draw_sheet
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.session.wiring import WiringView
    from trainer.window.hands import Hands
    from trainer.window.kit.pen import Pen

BOTH_SIDES: Final = 1060.0
"""From this width on devices stand on both sides of the board [logical px]."""

REACH: Final = 10.0
"""A screw is hit this near [units]; a core at half of it."""

CLICK_PX: Final = 4
STEPS: Final = {
    pygame.K_LEFT: (-1.0, 0.0),
    pygame.K_RIGHT: (1.0, 0.0),
    pygame.K_UP: (0.0, -1.0),
    pygame.K_DOWN: (0.0, 1.0),
}


class WiringDrawing(Canvas):
    """Left click puts the red lead, right click the black one; keys do the same at the marked screw."""

    role = "wiring drawing"
    takes_focus = True
    takes_repeats = True

    def __init__(self, hands: Hands, bench: Bench, on_tool: Callable[[], None]) -> None:
        super().__init__(_("wiring drawing"))
        self.keys_help = _("Arrows go from screw to screw; R and B put the red and the black lead, X takes both off.")
        self.hands = hands
        self.bench = bench
        self.on_tool = on_tool
        """The instrument beside the drawing was clicked."""
        self.eye = Eye()
        self.mark = ""
        self.layout = Layout()
        self.over: Spot | Line | None = None
        self._for: tuple[WiringView, int] | None = None
        self._down: tuple[int, int] | None = None
        self._panning: tuple[int, int] | None = None
        self._button = 1

    # -- layout and drawing

    @property
    def view(self) -> View:
        """The latest look."""
        return self.hands.view

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """As many sides as there is room for; the eye follows the window."""
        super().place(style, rect)
        sides = 2 if rect.width / style.scale >= BOTH_SIDES else 1
        self._lay_out(sides)
        self.eye.look(rect, style.scale, self.layout.size)

    def _lay_out(self, sides: int) -> None:
        wiring = self.view.wiring
        if self._for is None or self._for[0] is not wiring or self._for[1] != sides:
            self._for = wiring, sides
            self.layout = lay_out(wiring, sides)
            if self.mark not in self.layout.spots:
                self.mark = next(iter(self.layout.spots), "")
            self.over = None

    def show(self) -> None:
        """The wiring may have changed."""
        if self._for is not None and self._for[0] is not self.view.wiring:
            self._lay_out(self._for[1])
            self.eye.look(self.eye.area, self.eye.scale, self.layout.size)

    def key_of(self) -> object:
        """The still part changes with the wiring and with what is seen of it."""
        return self.eye.key(), self._for, self._live()

    def _live(self) -> tuple[bool, bool]:
        view = self.view
        return view.mains_on, view.mains_on or view.battery_linked

    def paint(self, pen: Pen) -> None:
        """The sheet, with the corner of the canvas at (0, 0)."""
        corner = self.eye.corner
        ink = Ink(pen, self.eye.per_unit, (corner[0] - self.rect.left, corner[1] - self.rect.top))
        draw_sheet(ink, self.layout, self._live())

    def draw_over(self, pen: Pen) -> None:
        """What is marked, the leads, and the instrument they come from."""
        ink = Ink(pen, self.eye.per_unit, self.eye.corner)
        if self.over is not None and pen.hover is self:
            draw_mark(ink, self.over)
        if pen.focus is self and pen.ring and self.mark in self.layout.spots:
            draw_mark(ink, self.layout.spots[self.mark])
        draw_leads(ink, self.rect, self.layout, self.bench, self.view)
        self._name(pen)
        pen.box(self.rect, None, INK, 0, 1.5)
        if pen.focus is self and pen.ring:
            pen.ring_round(self.rect.inflate(-pen.style.px(8), -pen.style.px(8)))

    def _name(self, pen: Pen) -> None:
        """What is under the mouse, or marked by the keys, in a slip in the corner."""
        what = self.over or (self.layout.spots.get(self.mark) if pen.focus is self else None)
        if what is None:
            words = _("Click a screw: red lead. Right click: black lead. Drag: move the sheet.")
        else:
            words = first_upper(_(what.name)) if isinstance(what, Spot) else core_words(what)
        box = tool_rect(self.rect, self.eye.scale, self.bench, self.view)
        px = pen.style.px
        wide = min((box.left if box.width else self.rect.right) - self.rect.left - px(24), self.rect.width) - px(14)
        lines = pen.style.glyphs.wrap(words, Face.REGULAR, px(12), wide)
        slip = pygame.Rect(0, 0, max(pen.style.width(line, 12, Face.REGULAR) for line in lines) + px(14), 0)
        slip.height = leading(pen.style, 12) * len(lines) + px(4)
        slip.bottomleft = (self.rect.left + px(8), self.rect.bottom - px(8))
        pen.box(slip, SHEET, RULE, 3)
        room = pygame.Rect(slip.left + px(7), slip.top + px(2), wide, slip.height)
        pen.paragraph(words, room, 12, SOFT if what is None else INK)

    def tree(self) -> dict[str, Any]:
        """Each terminal is told as a child, with the lead that is on it; then each core, with where it goes."""
        told = super().tree()
        children = []
        for spot in self.layout.spots.values():
            at = pygame.Rect(0, 0, 12, 12)
            at.center = self.eye.to_screen(spot.at)
            lead = "red" if spot.name == self.bench.red else "black" if spot.name == self.bench.black else ""
            children.append(
                {"role": "terminal", "label": spot.name, "value": lead, "enabled": True, "rect": tuple(at)}
            )
        for line in self.layout.lines:
            at = pygame.Rect(*self.eye.to_screen(line.points[0]), 1, 1)
            children.append(
                {
                    "role": "core",
                    "label": line.core.name,
                    "value": core_words(line),
                    "enabled": True,
                    "rect": tuple(at),
                }
            )
        told["children"] = children
        return told

    # -- what is under the mouse

    def spot_at(self, point: tuple[int, int]) -> Spot | None:
        """The screw under a pixel."""
        at = self.eye.to_sheet(point)
        near = min(self.layout.spots.values(), key=lambda spot: math.dist(spot.at, at), default=None)
        return near if near is not None and math.dist(near.at, at) <= max(REACH, 8 / self.eye.zoom) else None

    def line_at(self, point: tuple[int, int]) -> Line | None:
        """The core under a pixel."""
        at = self.eye.to_sheet(point)
        found = [(min(_off(at, a, b) for a, b in zip(li.points, li.points[1:], strict=False)), n, li)
                 for n, li in enumerate(self.layout.lines)]  # fmt: skip
        near = min(found, default=None, key=lambda each: each[:2])
        return near[2] if near is not None and near[0] <= max(REACH / 2, 4 / self.eye.zoom) else None

    def hover(self, point: tuple[int, int]) -> None:
        """Name what is under the mouse."""
        if tool_rect(self.rect, self.eye.scale, self.bench, self.view).collidepoint(point):
            self.over, self.help = None, _("The instrument in hand. Click to turn to it.")
            return
        self.over = self.spot_at(point) or self.line_at(point)
        if isinstance(self.over, Spot):
            live = any(t.live for t in self.view.terminals if t.name == self.over.name)
            told = _("May be live. ") if live else ""
            self.help = f"{first_upper(_(self.over.name))}. {told}" + _("Left click: red lead; right click: black.")
        else:
            self.help = core_words(self.over) if self.over is not None else ""
            if self.over is not None and self._wants() == "core":
                self.help += _(". Click: the {tool} goes round it.").format(tool=_(self.bench.tool))

    def leave(self) -> None:
        """Nothing is named."""
        self.over, self.help = None, ""

    def help_rect(self) -> pygame.Rect:
        """Help stands at what it is about."""
        if isinstance(self.over, Spot):
            at = pygame.Rect(0, 0, 16, 16)
            at.center = self.eye.to_screen(self.over.at)
            return at
        return pygame.Rect(*pygame.mouse.get_pos(), 4, 12) if self.over is not None else self.rect

    # -- events

    def press(self, point: tuple[int, int], button: int) -> bool:
        """Begin a click or a drag."""
        self._down = self._panning = point
        self._button = button
        return True

    def drag(self, point: tuple[int, int]) -> None:
        """The sheet follows the mouse."""
        if self._down is None or self._panning is None or math.dist(point, self._down) < CLICK_PX:
            return
        per_unit = self.eye.per_unit
        self.eye.move((self._panning[0] - point[0]) / per_unit, (self._panning[1] - point[1]) / per_unit)
        self._panning = point

    def drop(self, point: tuple[int, int]) -> None:
        """A click puts a lead."""
        down, self._down, self._panning = self._down, None, None
        if down is None or math.dist(point, down) >= CLICK_PX:
            return
        if tool_rect(self.rect, self.eye.scale, self.bench, self.view).collidepoint(point):
            self.on_tool()
            return
        spot = self.spot_at(point)
        if spot is not None:
            self.mark = spot.name
            self.bench.put(spot.name, "black" if self._button == 3 else "red", self.view)
            return
        line, kind = self.line_at(point), self._wants()
        if line is not None and kind == "core" and line.core.name in self.view.offers.get("core", ()):
            self.bench.choose(kind, "at", line.core.name)

    def _wants(self) -> str:
        """The kind of place that what is in hand is put on."""
        function = self.bench.function(self.view)
        return function.at if function is not None else ""

    def blurred(self) -> None:
        """A drag that was begun ends where it is."""
        self._down = self._panning = None

    def wheel(self, turns: float, point: tuple[int, int]) -> bool:
        """Scroll; with Ctrl zoom, with Shift sideways."""
        mods = pygame.key.get_mods()
        step = turns * 60.0 / self.eye.zoom
        if mods & pygame.KMOD_CTRL:
            self.eye.zoom_at(point, 1.15**turns)
        elif mods & pygame.KMOD_SHIFT:
            self.eye.move(-step, 0.0)
        else:
            self.eye.move(0.0, -step)
        return True

    def key(self, event: pygame.event.Event) -> bool:
        """Arrows go from screw to screw; R, B and Enter put a lead, X takes both off; plus and minus zoom."""
        if event.key in STEPS and self.layout.spots:
            self.mark = neighbour(self.layout, self.mark, STEPS[event.key])
            x, y = self.layout.spots[self.mark].at
            self.eye.show((x - 60.0, y - 12.0, 120.0, 24.0))
            return True
        lead = {pygame.K_r: "red", pygame.K_b: "black", pygame.K_RETURN: "", pygame.K_SPACE: ""}.get(event.key)
        if lead is not None and self.mark in self.layout.spots:
            self.bench.put(self.mark, lead, self.view)
        elif event.key == pygame.K_x:
            self.bench.red = self.bench.black = ""
        elif event.key in (pygame.K_PLUS, pygame.K_KP_PLUS, pygame.K_EQUALS) and not event.mod & pygame.KMOD_CTRL:
            self.eye.zoom_at(self._marked(), 1.25)
        elif event.key in (pygame.K_MINUS, pygame.K_KP_MINUS) and not event.mod & pygame.KMOD_CTRL:
            self.eye.zoom_at(self._marked(), 0.8)
        elif event.key in (pygame.K_PAGEUP, pygame.K_PAGEDOWN):
            way = -1.0 if event.key == pygame.K_PAGEUP else 1.0
            self.eye.move(0.0, way * 0.8 * self.rect.height / self.eye.per_unit)
        elif event.key == pygame.K_HOME:
            self.eye.fit_width()
        else:
            return False
        return True

    def _marked(self) -> tuple[int, int]:
        spot = self.layout.spots.get(self.mark)
        return self.eye.to_screen(spot.at) if spot is not None else self.rect.center


def core_words(line: Line) -> str:
    """A core in words: its name, and where it goes from and to."""
    core = line.core
    ends = _("{a} → {b}").format(a=_(core.a) or _("loose end"), b=_(core.b) or _("loose end"))
    state = "" if core.closed else _(" (open)")
    return f"{first_upper(_(core.name))}{state}: {ends}"


def neighbour(layout: Layout, mark: str, way: Point) -> str:
    """The nearest screw in a direction; the same one where there is none."""
    here = layout.spots[mark].at
    best, least = mark, math.inf
    for spot in layout.spots.values():
        dx, dy = spot.at[0] - here[0], spot.at[1] - here[1]
        ahead = dx * way[0] + dy * way[1]
        aside = abs(dx * way[1]) + abs(dy * way[0])
        if ahead > 3.0 and ahead + 3.0 * aside < least and aside <= (8.0 + ahead if way[1] == 0 else 240.0):
            best, least = spot.name, ahead + 3.0 * aside
    return best


def _off(at: Point, a: Point, b: Point) -> float:
    """Distance of a place from a stretch."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = dx * dx + dy * dy or 1.0
    part = max(0.0, min(1.0, ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / length))
    return math.hypot(at[0] - a[0] - part * dx, at[1] - a[1] - part * dy)
