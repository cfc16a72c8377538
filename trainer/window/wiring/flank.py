"""One flank of the board: its blocks under one another, their plugs, and the devices beside them.

Lengths run outwards from the edge of the board, so that both flanks are laid out alike; `x` turns them into places.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal, TypeAlias

from trainer.window.wiring.geometry import (
    BLOCK_WIDE,
    DEVICE_HEAD,
    DEVICE_WIDE,
    GAP,
    LANE,
    PITCH,
    PLUG_OUT,
    PLUG_WIDE,
    STUB,
    Area,
    Box,
    Spot,
)
from trainer.window.wiring.symbols import symbol_of

if TYPE_CHECKING:
    from trainer.session.wiring import CoreView, PartView

Plugs: TypeAlias = Mapping[str, Sequence["PartView"]]
"""Block to what is plugged into it, one under another."""

FIRST_LANE = 3.0 + PLUG_WIDE + PLUG_OUT + 12.0
LEAST_ROWS = 2
LEAST_GAP = 4.0
"""Between two devices where one was moved on: those after it come back to the level of their blocks."""

CLASH = 6.0
"""Levels nearer than this to one another would look like one line."""


@dataclass
class Flank:
    """A flank while it is laid out."""

    side: int
    edge: float = 0.0
    """x of the board's edge."""
    lanes: int = 0
    foot: float = 0.0
    boxes: list[Box] = field(default_factory=list)
    spots: dict[str, Spot] = field(default_factory=dict)
    levels: dict[str, float] = field(default_factory=dict)
    """Level of every terminal on this flank."""
    on_device: set[str] = field(default_factory=set)

    @property
    def device_at(self) -> float:
        """Where devices begin, outwards from the edge."""
        return FIRST_LANE + self.lanes * LANE + STUB

    @property
    def wide(self) -> float:
        """From the board's edge to the outer edge of the devices."""
        return self.device_at + DEVICE_WIDE

    def x(self, outwards: float) -> float:
        """The place of a length outwards."""
        return self.edge + self.side * outwards

    def lane_x(self, lane: int) -> float:
        """Where an upright line stands; lane 0 is nearest to the devices."""
        return self.x(FIRST_LANE + (self.lanes - lane - 0.5) * LANE)

    def area(self, inner: float, wide: float, top: float, high: float) -> Area:
        """An area that begins at a length outwards."""
        left = self.x(inner) if self.side > 0 else self.x(inner + wide)
        return left, top, wide, high


def stack(
    flank: Flank,
    blocks: Sequence[PartView],
    plugs: Plugs,
    devices: Sequence[PartView],
    cores: Sequence[CoreView],
    top: float,
) -> dict[str, float]:
    """Levels for all terminals of a flank: each block has the room that its own devices take beside it, so that most
    cores run straight. Answers the top of each device."""
    partners: dict[str, list[str]] = {}
    for core in cores:
        if core.way not in ("bridge", "plug"):
            partners.setdefault(core.a, []).append(core.b)
            partners.setdefault(core.b, []).append(core.a)
    block_of = {name: block.name for block in blocks for name, _pin in block.pins}
    block_of |= {name: block for block, held in plugs.items() for plug in held for name, _pin in plug.pins}
    home = {device.name: _home(device, block_of, partners) for device in devices}
    wishes: list[tuple[float, PartView]] = []
    level = top
    for block in blocks:
        own = [device for device in devices if home[device.name] == block.name]
        own.sort(key=lambda device: device.where != "cabinet")
        held = plugs.get(block.name, ())
        at = level + (DEVICE_HEAD if own else 0.0)
        for pins in (block.pins, [pin for plug in held for pin in plug.pins]):
            for n, (name, _pin) in enumerate(pins):
                flank.levels[name] = at + (n + 0.5) * PITCH
        foot = at + block_high(block, held) + GAP
        for device in own:
            wishes.append((level, device))
            level += device_high(device) + GAP
        level = max(level, foot)
    placed = {device.name for _wish, device in wishes}
    wishes += [(level, device) for device in devices if device.name not in placed]
    tops, foot = _stack_devices(flank, wishes, partners)
    flank.foot = max(level, foot)
    return tops


def _home(device: PartView, block_of: Mapping[str, str], partners: Mapping[str, list[str]]) -> str:
    """The block a device stands beside: where its first core goes that shares its screw with none, else its first."""
    ends = [end for name, _pin in device.pins for end in partners.get(name, ()) if end in block_of]
    alone = [end for end in ends if sum(other.rsplit(", ", 1)[0] != block_of[end] for other in partners[end]) <= 1]
    return block_of[(alone or ends)[0]] if ends else ""


def block_high(block: PartView, held: Sequence[PartView]) -> float:
    """Height of a block with what is plugged into it."""
    return PITCH * max(len(block.pins), sum(len(plug.pins) for plug in held), LEAST_ROWS)


def device_high(device: PartView) -> float:
    """Height of a device."""
    return DEVICE_HEAD + PITCH * max(len(device.pins), LEAST_ROWS) + 4.0


def _stack_devices(
    flank: Flank, wishes: Sequence[tuple[float, PartView]], partners: Mapping[str, list[str]]
) -> tuple[dict[str, float], float]:
    taken = [(flank.levels[name], name) for name in flank.levels if name in partners]
    tops: dict[str, float] = {}
    level = 0.0
    for wish, device in wishes:
        at = _clear(device, max(level, wish), taken, partners)
        tops[device.name] = at
        for n, (name, _pin) in enumerate(device.pins):
            flank.levels[name] = at + DEVICE_HEAD + (n + 0.5) * PITCH
            flank.on_device.add(name)
        level = at + device_high(device) + LEAST_GAP
    return tops, level + GAP


def _clear(device: PartView, wish: float, taken: list[tuple[float, str]], partners: Mapping[str, list[str]]) -> float:
    """The nearest place from `wish` on where no core of the device runs along another one."""
    for step in range(12):
        at = wish + step * 4.0
        rows = [(at + DEVICE_HEAD + (n + 0.5) * PITCH, name) for n, (name, _pin) in enumerate(device.pins)]
        if not any(
            abs(level - row) < CLASH and not (abs(level - row) < 0.5 and partners.get(name) == [other])
            for row, name in rows
            if partners.get(name)
            for level, other in taken
        ):
            return at
    return wish


def place(
    flank: Flank,
    blocks: Sequence[PartView],
    plugs: Plugs,
    devices: Sequence[PartView],
    tops: Mapping[str, float],
    out: set[str],
) -> None:
    """Boxes and spots, once the number of lanes is known. `out`: plugs that are out."""
    for block in blocks:
        held = plugs.get(block.name, ())
        level = flank.levels[block.pins[0][0]] - PITCH / 2
        area = flank.area(-BLOCK_WIDE, BLOCK_WIDE, level, block_high(block, held))
        flank.boxes.append(Box(block.name, block.name, "block", area, flank.side))
        for name, pin in block.pins:
            at = (flank.x(-11.0), flank.levels[name])
            flank.spots[name] = Spot(name, pin, at, (float(flank.side), 0.0), block.name, header=bool(held))
        for n, plug in enumerate(held):
            _place_plug(flank, plug, plug.name not in out, named=n > 0)
    for device in devices:
        area = flank.area(flank.device_at, DEVICE_WIDE, tops[device.name], device_high(device))
        kind: Literal["cabinet", "yard"] = "cabinet" if device.where == "cabinet" else "yard"
        flank.boxes.append(Box(device.name, device.name, kind, area, flank.side, symbol_of(device.name)))
        for name, pin in device.pins:
            at = (flank.x(flank.device_at + 11.0), flank.levels[name])
            flank.spots[name] = Spot(name, pin, at, (-float(flank.side), 0.0), device.name)


def _place_plug(flank: Flank, plug: PartView, closed: bool, named: bool) -> None:
    """`named`: its pins lie below those of the block, so that they need words of their own."""
    off = 3.0 + (0.0 if closed else PLUG_OUT)
    top = flank.levels[plug.pins[0][0]] - PITCH / 2
    area = flank.area(off, PLUG_WIDE, top + 1.0, PITCH * len(plug.pins) - 2.0)
    flank.boxes.append(Box(plug.name, plug.name, "plug", area, flank.side, closed=closed))
    for name, pin in plug.pins:
        level = flank.levels[name]
        words = (flank.x(-27.0), level) if named else None
        at = (flank.x(off + PLUG_WIDE / 2), level)
        flank.spots[name] = Spot(name, pin, at, (float(flank.side), 0.0), plug.name, words_at=words)
