"""The mains side: its parts beside one another as the supply runs through them, live, neutral and earth in rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final, TypeAlias

from trainer.window.wiring.geometry import PITCH, Area, Box, Line, Point, Spot
from trainer.window.wiring.symbols import symbol_of

if TYPE_CHECKING:
    from trainer.session.wiring import CoreView, PartView

THROUGH_WIDE: Final = 168.0
"""A part that the supply runs through: screws on both sides."""

END_WIDE: Final = 128.0
SMALL_WIDE: Final = 92.0
"""A part with one screw."""

BETWEEN: Final = 34.0
HEAD: Final = 34.0
TITLE: Final = 22.0
GUTTER: Final = 24.0
"""Below a row of parts, for cores that go round."""

LANE: Final = 5.0
MOST_BESIDE: Final = 8
"""Uprights that find room beside a part."""

ROWS: Final = ("live", "neutral", "earth")

Through: TypeAlias = tuple[str, "PartView", "PartView | None"]
"""(what it is called, its inlet, its outlet if it has one)."""


@dataclass
class Panel:
    """The mains side as it is laid out."""

    boxes: list[Box] = field(default_factory=list)
    spots: dict[str, Spot] = field(default_factory=dict)
    lines: list[Line] = field(default_factory=list)
    area: Area | None = None
    row_of: dict[str, int] = field(default_factory=dict)
    """Row that a terminal's part stands in."""
    feet: list[float] = field(default_factory=list)
    """Foot of each row."""
    below: dict[int, int] = field(default_factory=dict)
    """How many cores go round below each row."""


def lay_panel(parts: Sequence[PartView], cores: Sequence[CoreView], left: float, top: float, most: float) -> Panel:
    """Place the parts of the mains side in rows no wider than `most`; empty without any.

    They are placed twice: how many cores go round below a row shows only once it stands.
    """
    panel = Panel()
    if not parts:
        return panel
    rows = _rows(_through(parts), cores, most)
    gutters = [GUTTER] * len(rows)
    for _turn in range(2):
        panel = Panel()
        level, right = top + HEAD, 0.0
        for number, row in enumerate(rows):
            high = max(_rows_of(each) for each in row) * PITCH + TITLE + 6.0
            right = max(right, _place_row(panel, row, cores, left + 30.0, level, high))
            level += high
            panel.feet.append(level)
            level += gutters[number]
        panel.area = (left, top, max(right + 16.0 - left, 260.0), level + 2.0 - top)
        _draw(panel, cores)
        gutters = [max(GUTTER, 14.0 + LANE * panel.below.get(number, 0)) for number in range(len(rows))]
    return panel


def _rows(through: Sequence[Through], cores: Sequence[CoreView], most: float) -> list[list[Through]]:
    """Rows in the order of the parts; what is wired to its neighbours stays with them, as far as a row is wide."""
    chunks: list[list[Through]] = []
    for each in through:
        last = {name for other in chunks[-1] for name in _names(other)} if chunks else set()
        own = _names(each)
        joined = any({core.a, core.b} & own and {core.a, core.b} & last for core in cores)
        if joined:
            chunks[-1].append(each)
        else:
            chunks.append([each])
    rows: list[list[Through]] = [[]]
    x = 0.0
    for chunk in chunks:
        wide = sum(_wide(each) + BETWEEN for each in chunk)
        fresh = bool(rows[-1]) and x + wide - BETWEEN > most - 44.0
        for each in chunk:
            if fresh or (rows[-1] and x + _wide(each) > most - 44.0):
                rows.append([])
                x, fresh = 0.0, False
            rows[-1].append(each)
            x += _wide(each) + BETWEEN
    return rows


def _names(each: Through) -> set[str]:
    _title, inlet, outlet = each
    return {name for part in ((inlet,) if outlet is None else (inlet, outlet)) for name, _pin in part.pins}


def _draw(panel: Panel, cores: Sequence[CoreView]) -> None:
    """The lines; what sits in series between the same two screws shares one."""
    own = [core for core in cores if core.a in panel.spots and core.b in panel.spots]
    ends = [frozenset((core.a, core.b)) for core in own]
    for n, core in enumerate(own):
        middle = (ends[:n].count(ends[n]) + 1) / (ends.count(ends[n]) + 1)
        panel.lines.append(Line(core, _run(panel, core), middle=middle))


def _through(parts: Sequence[PartView]) -> list[Through]:
    """Inlet and outlet of one thing belong together."""
    by_name = {part.name: part for part in parts}
    found: list[Through] = []
    for part in parts:
        stem = part.name.removesuffix(" outlet")
        if stem != part.name and f"{stem} inlet" in by_name:
            continue
        stem = part.name.removesuffix(" inlet")
        outlet = by_name.get(f"{stem} outlet") if stem != part.name else None
        found.append((stem if outlet is not None else part.name, part, outlet))
    return found


def _wide(each: Through) -> float:
    if each[2] is not None:
        return THROUGH_WIDE
    return END_WIDE if len(each[1].pins) > 1 else SMALL_WIDE


def _rows_of(each: Through) -> int:
    _title, inlet, outlet = each
    parts = (inlet,) if outlet is None else (inlet, outlet)
    return max(row for part in parts for row in _levels(part).values()) + 1


def _levels(part: PartView) -> dict[str, int]:
    """Row of each terminal: live, neutral and earth have their own, others the next that is free."""
    found = {name: ROWS.index(pin) for name, pin in part.pins if pin in ROWS}
    for name, _pin in part.pins:
        if name not in found:
            found[name] = next(n for n in range(99) if n not in found.values())
    return found


def _place_row(
    panel: Panel, row: Sequence[Through], cores: Sequence[CoreView], x: float, level: float, high: float
) -> float:
    for title, inlet, outlet in row:
        wide = _wide((title, inlet, outlet))
        own = {name for name, _pin in inlet.pins}
        closed = all(core.closed for core in cores if core.way == "switch" and core.a in own)
        panel.boxes.append(Box(inlet.name, title, "mains", (x, level, wide, high), 0, symbol_of(title), closed))
        ends = ((inlet, _way(inlet, cores)),) if outlet is None else ((inlet, -1.0), (outlet, 1.0))
        for part, out in ends:
            for name, pin in part.pins:
                at = (x + 12.0 if out < 0 else x + wide - 12.0, level + TITLE + PITCH * (_levels(part)[name] + 0.5))
                panel.spots[name] = Spot(name, pin, at, (out, 0.0), part.name)
                panel.row_of[name] = len(panel.feet)
        x += wide + BETWEEN
    return x - BETWEEN


def _way(part: PartView, cores: Sequence[CoreView]) -> float:
    """Screws of a part that only feeds others look to the right, those of all others to the left."""
    own = {name for name, _pin in part.pins}
    feeds = len(own) > 1 and any(core.a in own for core in cores) and not any(core.b in own for core in cores)
    return 1.0 if feeds else -1.0


def _run(panel: Panel, core: CoreView) -> tuple[Point, ...]:
    """Straight where both ends face one another with nothing between, else round below the upper row."""
    a, b = panel.spots[core.a], panel.spots[core.b]
    near = abs(a.at[0] - b.at[0]) < BETWEEN + 30.0 and a.out[0] != b.out[0]
    inside = core.a.rsplit(" ", 2)[0] == core.b.rsplit(" ", 2)[0] and a.out[0] != b.out[0]
    if a.at[1] == b.at[1] and (near or inside):
        return a.at, b.at
    row = min(panel.row_of[core.a], panel.row_of[core.b])
    lane = panel.below.get(row, 0)
    panel.below[row] = lane + 1
    level = panel.feet[row] + 7.0 + lane * LANE
    far = 17.0 + (sum(panel.below.values()) - 1) % MOST_BESIDE * 3.6
    from_x, to_x = a.at[0] + a.out[0] * far, b.at[0] + b.out[0] * far
    return a.at, (from_x, a.at[1]), (from_x, level), (to_x, level), (to_x, b.at[1]), b.at
