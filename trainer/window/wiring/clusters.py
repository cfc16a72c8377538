"""Which part stands on which flank of the board: what is wired together stands together."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from trainer.window.wiring.flank import Plugs, block_high, device_high
from trainer.window.wiring.geometry import GAP

if TYPE_CHECKING:
    from trainer.session.wiring import CoreView, PartView

SHARED: Final = 3
"""A screw with as many cores feeds many parts: it need not stand on their flank when that would make one too long."""

LOPSIDED: Final = 0.62
"""More of the whole than this on one flank is too much."""

Half = tuple[list["PartView"], list["PartView"]]
"""Blocks and devices of one flank."""


def flanks_of(parts: Sequence[PartView], cores: Sequence[CoreView], sides: int, plugs: Plugs) -> list[Half]:
    """Blocks and devices for each flank; blocks that feed devices in the cabinet stand at its top."""
    groups = _groups(parts, cores, plugs, most=None)
    if sides == 1:
        return [_half([part for group in groups for part in group], cores, plugs)]
    total = sum(_high(group, plugs) for group in groups)
    if max((_high(group, plugs) for group in groups), default=0.0) > LOPSIDED * total:
        groups = _groups(parts, cores, plugs, most=SHARED)
    halves: list[list[PartView]] = [[], []]
    heights = [0.0, 0.0]
    for group in groups:
        to = heights.index(min(heights))
        halves[to] += group
        heights[to] += _high(group, plugs)
    order = {part.name: n for n, part in enumerate(parts)}
    return [_half(sorted(half, key=lambda part: order[part.name]), cores, plugs) for half in halves]


def _half(parts: Sequence[PartView], cores: Sequence[CoreView], plugs: Plugs) -> Half:
    inside = {name for part in parts if part.where == "cabinet" for name, _pin in part.pins}
    first = {core.a for core in cores if core.b in inside} | {core.b for core in cores if core.a in inside}
    blocks = [part for part in parts if part.where == "board"]
    own = {block.name: [block, *plugs.get(block.name, ())] for block in blocks}
    blocks.sort(key=lambda block: not any(name in first for part in own[block.name] for name, _pin in part.pins))
    return blocks, [part for part in parts if part.where != "board"]


def _high(group: Sequence[PartView], plugs: Plugs) -> float:
    blocks = sum(block_high(part, plugs.get(part.name, ())) + GAP for part in group if part.where == "board")
    return max(blocks, sum(device_high(part) + GAP for part in group if part.where != "board"))


def _groups(
    parts: Sequence[PartView], cores: Sequence[CoreView], plugs: Plugs, most: int | None
) -> list[list[PartView]]:
    """Parts that cores join, in the order of their first part; largest first."""
    at = {name: part.name for part in parts for name, _pin in part.pins}
    at |= {name: block for block, held in plugs.items() for plug in held for name, _pin in plug.pins}
    count: dict[str, int] = {}
    for core in cores:
        count[core.a] = count.get(core.a, 0) + 1
    chief = {part.name: part.name for part in parts}

    def find(name: str) -> str:
        while chief[name] != name:
            name = chief[name]
        return name

    for core in cores:
        feeds = most is not None and count[core.a] >= most
        if core.a in at and core.b in at and not feeds and at[core.a] in chief and at[core.b] in chief:
            one, other = find(at[core.a]), find(at[core.b])
            chief[other] = one
    groups: dict[str, list[PartView]] = {}
    for part in parts:
        groups.setdefault(find(part.name), []).append(part)
    return sorted(groups.values(), key=lambda group: -_high(group, plugs))
