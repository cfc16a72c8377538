"""Where everything of a wiring drawing lies: mains side apart, the board with its blocks, devices beside their block.

All of it follows from the session's view, so that a new device needs no line here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from trainer.window.wiring.clusters import flanks_of
from trainer.window.wiring.flank import FIRST_LANE, Flank, Plugs, place, stack
from trainer.window.wiring.geometry import BLOCK_WIDE, LANE, MARGIN, Area, Layout, Point
from trainer.window.wiring.lanes import Reach, lanes_of, reaches
from trainer.window.wiring.panel import lay_panel
from trainer.window.wiring.runs import Runs

if TYPE_CHECKING:
    from trainer.session.wiring import CoreView, PartView, WiringView

HEAD: Final = 56.0
"""From the wall of the cabinet to the blocks."""

MIDDLE: Final = 34.0
"""Between the two flanks of the board."""

BESIDE: Final = 14.0
"""Board beside its blocks where it has one flank only."""

ONE_WIDE: Final = 764.0
BOTH_WIDE: Final = 1000.0
"""How wide the mains side may be with devices on one side of the board, or on both."""

OVER: Final = 6.0
"""From one line to the next of those that cross over the board."""


@dataclass
class Share:
    """What stands on one flank."""

    flank: Flank
    blocks: Sequence[PartView]
    devices: Sequence[PartView]
    tops: Mapping[str, float]
    lanes: Mapping[str, int]


@lru_cache(maxsize=8)
def lay_out(wiring: WiringView, sides: int) -> Layout:
    """The drawing with devices on one side of the board, or on both."""
    plugs: dict[str, list[PartView]] = {}
    for part in wiring.parts:
        if part.plug_of:
            plugs.setdefault(part.plug_of, []).append(part)
    mains = [part for part in wiring.parts if part.where == "mains"]
    most = ONE_WIDE if sides == 1 else BOTH_WIDE
    panel = lay_panel(mains, wiring.cores, MARGIN, MARGIN, most)
    top = MARGIN + (panel.area[3] + 26.0 if panel.area is not None else 0.0) + HEAD
    shares, over = _shares(wiring, sides, plugs, top)
    board = _stand(shares, MARGIN + 10.0)
    out = {core.run for core in wiring.cores if core.way == "plug" and not core.closed}
    for share in shares:
        place(share.flank, share.blocks, plugs, share.devices, share.tops, out)
    spots = {name: spot for share in shares for name, spot in share.flank.spots.items()} | panel.spots
    boxes = [box for share in shares for box in share.flank.boxes] + panel.boxes
    runs = Runs([(share.flank, share.lanes) for share in shares], spots, panel.spots, over)
    head = top + OVER * len(over) - 32.0
    area = (board[0], head, board[1] - board[0], max(share.flank.foot for share in shares) - head + 4.0)
    right = max(max(share.flank.x(share.flank.wide), board[1]) for share in shares)
    right = max(right, panel.area[0] + panel.area[2] if panel.area is not None else 0.0)
    size = (right + MARGIN, area[1] + area[3] + MARGIN)
    lines = (*panel.lines, *runs.lines(wiring.cores))
    return Layout(size, tuple(boxes), spots, lines, panel.area, area, _wall(shares, area))


def _shares(wiring: WiringView, sides: int, plugs: Plugs, head: float) -> tuple[list[Share], dict[str, float]]:
    """What stands where, at which level, with the lanes of its cores; and the levels of cores that cross over."""
    low = [part for part in wiring.parts if part.where != "mains" and not part.plug_of]
    halves = flanks_of(low, wiring.cores, sides, plugs)
    flanks = [Flank(1)] if sides == 1 else [Flank(-1), Flank(1)]
    side_of = {
        name: n
        for n, (blocks, devices) in enumerate(halves)
        for part in (*blocks, *devices, *(plug for block in blocks for plug in plugs.get(block.name, ())))
        for name, _pin in part.pins
    }
    across = {c.a for c in wiring.cores if side_of.get(c.a, 0) != side_of.get(c.b, side_of.get(c.a, 0))}
    over = {start: head - 38.0 + OVER * n for n, start in enumerate(sorted(across))}
    top = head + OVER * len(over)
    shares = []
    for flank, (blocks, devices) in zip(flanks, halves, strict=True):
        tops = stack(flank, blocks, plugs, devices, wiring.cores, top)
        lanes = lanes_of(_reaches(flank, wiring.cores, over))
        flank.lanes = max(lanes.values(), default=-1) + 1
        shares.append(Share(flank, blocks, devices, tops, lanes))
    return shares, over


def _reaches(flank: Flank, cores: Sequence[CoreView], over: Mapping[str, float]) -> list[Reach]:
    ends = []
    for core in cores:
        if core.way in ("plug", "bridge"):
            continue
        a, b = flank.levels.get(core.a), flank.levels.get(core.b)
        if a is not None and b is not None:
            ends.append((core.a, a, b))
        elif core.a in over and (a is not None or b is not None):
            ends.append((core.a, over[core.a], a if a is not None else b or 0.0))
    return reaches(ends)


def _stand(shares: list[Share], left: float) -> tuple[float, float]:
    """Give each flank its edge of the board; answers where the board begins and ends."""
    if len(shares) == 1:
        shares[0].flank.edge = left + BESIDE + BLOCK_WIDE
        return left, shares[0].flank.edge
    one, other = shares[0].flank, shares[1].flank
    one.edge = left + one.wide
    other.edge = one.edge + 2 * BLOCK_WIDE + MIDDLE
    return one.edge, other.edge


def _wall(shares: list[Share], board: Area) -> tuple[Point, ...]:
    """The wall of the cabinet, once round from its upper left corner: devices in the yard are outside of it."""
    top, foot = board[1] - 20.0, board[1] + board[3] + 12.0
    ways = [_side_of_wall(share.flank, top, foot) for share in shares]
    if len(ways) == 1:
        start = board[0] - 10.0
        return ((start, top), *ways[0], (start, foot))
    return (*reversed(ways[0]), *ways[1])


def _side_of_wall(flank: Flank, top: float, foot: float) -> list[Point]:
    """The wall down one flank: round the devices that stand in the cabinet, before those in the yard."""
    inner = flank.x(FIRST_LANE + flank.lanes * LANE + 6.0)
    outer = flank.x(flank.wide + 8.0)
    devices = sorted((box for box in flank.boxes if box.kind in ("cabinet", "yard")), key=lambda box: box.area[1])
    x = outer if devices and devices[0].kind == "cabinet" else inner
    points = [(x, top)]
    for above, below in pairwise(devices):
        if above.kind != below.kind:
            level = above.area[1] + above.area[3] + 5.0
            x = outer if below.kind == "cabinet" else inner
            points += [(points[-1][0], level), (x, level)]
    if devices and devices[-1].kind == "cabinet" and len(devices) < len(flank.boxes):
        level = devices[-1].area[1] + devices[-1].area[3] + 5.0
        points += [(outer, level), (inner, level)]
    return [*points, (points[-1][0], foot)]
