"""The one style table: colours of the draughtsman's sheet and measures in logical pixels."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, NamedTuple

if TYPE_CHECKING:
    from trainer.window.kit.glyphs import Face, Glyphs

Colour = tuple[int, int, int]

PAPER: Final[Colour] = (244, 239, 228)
SHEET: Final[Colour] = (251, 248, 241)
WHITE: Final[Colour] = (255, 255, 255)
TAB: Final[Colour] = (233, 225, 207)
POST: Final[Colour] = (228, 218, 198)
INK: Final[Colour] = (34, 48, 60)
SOFT: Final[Colour] = (88, 100, 111)
"""Secondary text: 5.6 to 1 on the sheet, so that it passes for small text (4.5 to 1 is asked)."""
FAINT: Final[Colour] = (158, 152, 138)
"""Disabled text and construction lines only: carries no meaning alone."""
RULE: Final[Colour] = (207, 198, 180)
GRID: Final[Colour] = (241, 235, 222)
HATCH: Final[Colour] = (185, 174, 154)
FIELD: Final[Colour] = (138, 130, 114)
"""Edge of a field and of a scroll bar: 3.6 to 1 on the sheet, so that it can be seen."""
GO: Final[Colour] = (20, 108, 103)
GO_WASH: Final[Colour] = (224, 238, 233)
STOP: Final[Colour] = (168, 53, 32)
STOP_WASH: Final[Colour] = (246, 230, 223)
WARN: Final[Colour] = (138, 88, 4)
WARN_WASH: Final[Colour] = (249, 238, 214)
WIRE: Final[Colour] = (52, 83, 138)
WIRE_WASH: Final[Colour] = (228, 234, 244)
BODY: Final[Colour] = (241, 217, 168)
SHADE: Final[Colour] = (34, 48, 60)
INK_OVER: Final[Colour] = (52, 72, 90)
"""The ground of a filled button under the mouse."""
STOP_OVER: Final[Colour] = (140, 40, 22)
PICKED: Final[Colour] = (190, 205, 230)
"""Letters that are selected."""
LIT: Final[Colour] = (244, 178, 60)
"""The glass of a lamp that burns."""

SMALL: Final = 12.0
TEXT: Final = 14.0
TITLE: Final = 17.0
LARGE: Final = 22.0
TARGET: Final = 32.0
"""Least height of anything that can be pressed [logical px]."""


class Look(NamedTuple):
    """Other colours in the place of those above, wherever something is drawn; a colour that isn't named stays."""

    name: str
    colours: Mapping[Colour, Colour]


ORDINARY: Final = Look("ordinary, ordinary", MappingProxyType({}))


class Style:
    """Turns logical pixels into screen pixels and measures text; one per root, replaced when scale or look change."""

    def __init__(self, glyphs: Glyphs, scale: float = 1.0, look: Look = ORDINARY) -> None:
        self.glyphs = glyphs
        self.scale = scale
        self.look = look
        self._shown = look.colours
        self._pixels: dict[float, int] = {}
        self.passes = 0
        """Number of the layout pass: widgets keep a measured size for one pass."""

    def px(self, logical: float) -> int:
        """Screen pixels for a length in logical pixels; never less than one for a length above zero."""
        found = self._pixels.get(logical)
        if found is None:
            whole = round(logical * self.scale)
            found = self._pixels[logical] = whole if logical <= 0 else max(1, whole)
        return found

    def seen(self, colour: Colour) -> Colour:
        """The colour as it is drawn in this look."""
        return self._shown.get(colour, colour)

    def width(self, text: str, size: float, face: Face) -> int:
        """Width of a line of text [px]."""
        return self.glyphs.width(text, face, self.px(size))

    def line(self, size: float, face: Face) -> int:
        """Height of a line of text [px]."""
        return self.glyphs.height(face, self.px(size))
