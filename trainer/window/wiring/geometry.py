"""What a laid-out drawing is made of. Lengths are units of the drawing: one logical pixel at zoom 1."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

if TYPE_CHECKING:
    from trainer.session.wiring import CoreView

Point: TypeAlias = tuple[float, float]
Area: TypeAlias = tuple[float, float, float, float]
"""Left, top, width, height."""

PITCH: Final = 22.0
"""From one terminal of a block to the next."""

BLOCK_WIDE: Final = 172.0
TITLE_WIDE: Final = 92.0
"""A block, and how much of it its name takes."""

PLUG_WIDE: Final = 30.0
PLUG_OUT: Final = 26.0
"""A plug, and how far it stands off when it is out."""

DEVICE_WIDE: Final = 178.0
DEVICE_HEAD: Final = 22.0
STUB: Final = 84.0
"""A device beside the board, its heading, and the room before it where the names of the cores stand."""

LANE: Final = 8.0
"""From one upright line to the next."""

GAP: Final = 10.0
MARGIN: Final = 26.0


@dataclass(frozen=True, slots=True)
class Spot:
    """A terminal on the drawing."""

    name: str
    pin: str
    at: Point
    out: Point
    """The way its core leaves: (1, 0) to the right."""
    part: str
    header: bool = False
    """A pin that a plug goes onto; the core sits on the plug."""
    words_at: Point | None = None
    """Where its pin is named, None for beside the screw; a plug's pins are named by its block as a rule."""


@dataclass(frozen=True, slots=True)
class Box:
    """A part on the drawing."""

    part: str
    title: str
    kind: Literal["block", "plug", "cabinet", "yard", "mains"]
    area: Area
    side: int
    """1: its screws look to the right, -1 to the left, 0 up and down."""
    symbol: str = ""
    closed: bool = True
    """A plug that is in; a switch that is closed."""


@dataclass(frozen=True, slots=True)
class Line:
    """A core on the drawing."""

    core: CoreView
    points: tuple[Point, ...]
    words: str = ""
    """Its short name."""
    words_at: Point = (0.0, 0.0)
    words_end: bool = False
    """The words end there instead of beginning."""
    middle: float = 0.5
    """Where along the line a switch or a fuse sits that shares it with others."""
    free: Point | None = None
    """A place on it where no other core passes: for a link, a fuse, a clamp."""


@dataclass(frozen=True)
class Layout:
    """A whole drawing."""

    size: Point = (100.0, 100.0)
    boxes: tuple[Box, ...] = ()
    spots: dict[str, Spot] = field(default_factory=dict)
    lines: tuple[Line, ...] = ()
    mains: Area | None = None
    board: Area | None = None
    cabinet: tuple[Point, ...] = ()
    """The wall of the cabinet: what is outside of it stands in the yard."""


def short_name(core: CoreView) -> str:
    """What is written on a core: its name without that of its cable."""
    name = core.name.removeprefix(core.run).lstrip(", ")
    return name.removesuffix(" core").removesuffix(" wire") if core.way in ("core", "wire") else core.name
