"""The looks of the window: ordinary or high contrast, each in ordinary colours or in a set that is safe for all eyes.

High contrast: WCAG 2.2, 1.4.6 asks 7 to 1 of text. The safe set: Okabe and Ito's bluish green, vermilion, reddish
purple and blue, darkened until each passes for text, and moved apart until no two of them, nor any and the ink, come
near one another for any of the three kinds of dichromat.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from trainer.window.kit.style import (
    BODY,
    FAINT,
    FIELD,
    GO,
    GO_WASH,
    GRID,
    HATCH,
    INK,
    INK_OVER,
    PAPER,
    PICKED,
    POST,
    RULE,
    SHEET,
    SOFT,
    STOP,
    STOP_OVER,
    STOP_WASH,
    TAB,
    WARN,
    WARN_WASH,
    WHITE,
    WIRE,
    WIRE_WASH,
    Colour,
    Look,
)

_HIGH: Final[dict[Colour, Colour]] = {
    PAPER: (250, 250, 250),
    SHEET: WHITE,
    TAB: (226, 226, 226),
    POST: (206, 200, 188),
    INK: (0, 0, 0),
    INK_OVER: (60, 60, 60),
    SOFT: (48, 54, 60),
    FAINT: (110, 110, 110),
    RULE: (120, 120, 120),
    GRID: (228, 228, 228),
    HATCH: (110, 102, 88),
    FIELD: (64, 64, 64),
    GO: (0, 84, 78),
    GO_WASH: (226, 246, 240),
    STOP: (146, 16, 0),
    STOP_OVER: (90, 10, 0),
    STOP_WASH: (255, 234, 228),
    WARN: (96, 58, 0),
    WARN_WASH: (255, 243, 214),
    WIRE: (16, 48, 120),
    WIRE_WASH: (226, 235, 250),
    PICKED: (176, 200, 240),
    BODY: (255, 206, 110),
}

_SAFE: Final[dict[Colour, Colour]] = {
    GO: (0, 97, 59),
    GO_WASH: (222, 241, 231),
    STOP: (198, 51, 9),
    STOP_OVER: (158, 38, 4),
    STOP_WASH: (253, 234, 226),
    WARN: (171, 47, 125),
    WARN_WASH: (250, 231, 243),
    WIRE: (0, 101, 230),
    WIRE_WASH: (229, 239, 253),
}

_SAFE_HIGH: Final[dict[Colour, Colour]] = {
    GO: (18, 93, 68),
    GO_WASH: (232, 250, 243),
    STOP: (159, 20, 0),
    STOP_OVER: (100, 12, 0),
    STOP_WASH: (255, 236, 230),
    WARN: (153, 15, 120),
    WARN_WASH: (255, 242, 252),
    WIRE: (18, 41, 64),
    WIRE_WASH: (226, 235, 250),
}

_TABLES: Final[dict[tuple[str, str], dict[Colour, Colour]]] = {
    ("ordinary", "ordinary"): {},
    ("high", "ordinary"): _HIGH,
    ("ordinary", "safe"): _SAFE,
    ("high", "safe"): {**_HIGH, **_SAFE_HIGH},
}
LOOKS: Final = MappingProxyType(
    {key: Look(", ".join(key), MappingProxyType(table)) for key, table in _TABLES.items()}
)
"""Look by (contrast, colours), as the preferences call them."""
