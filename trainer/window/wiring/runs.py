"""The way of each core on the drawing: out of its screw, along its lane, into the other screw."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Final

from trainer.window.wiring.geometry import STUB, Line, Point, Spot, short_name

if TYPE_CHECKING:
    from trainer.session.wiring import CoreView
    from trainer.window.wiring.flank import Flank

LOOSE: Final = 26.0
"""How much of a core is drawn whose other end hangs in the air."""

BULGE: Final = 12.0
"""How far a bridge bows out."""


class Runs:
    """Lines of all cores that aren't wholly on the mains side."""

    def __init__(
        self,
        flanks: Sequence[tuple[Flank, Mapping[str, int]]],
        spots: Mapping[str, Spot],
        mains: Mapping[str, Spot],
        over: Mapping[str, float],
    ) -> None:
        self.flanks = flanks
        self.spots = spots
        self.mains = mains
        self.over = over

    def lines(self, cores: Iterable[CoreView]) -> list[Line]:
        """One line for each core; poles of plugs are drawn with the plug."""
        found = []
        for core in cores:
            ends = [self.spots.get(name) for name in (core.a, core.b)]
            both_mains = core.a in self.mains and core.b in self.mains
            if core.way == "plug" or both_mains or not any(ends):
                continue
            if ends[0] is None or ends[1] is None:
                found.append(_loose(core, ends[0] or ends[1]))
            elif core.way == "bridge":
                found.append(_bow(core, ends[0], ends[1]))
            else:
                found.append(self._line(core, ends[0], ends[1]))
        return found

    def _line(self, core: CoreView, a: Spot, b: Spot) -> Line:
        inner = [point for point in self._between(core, a, b) if point not in (a.at, b.at)]
        points = (a.at, *inner, b.at)
        words, at, ends, free = short_name(core), (0.0, 0.0), False, None
        device = next((spot for spot in (b, a) if self._is_device(spot)), None)
        if device is None:
            words = ""
        else:
            way = device.out[0]
            at, ends = (device.at[0] + way * 18.0, device.at[1] - 6.0), way < 0
            free = (device.at[0] + way * STUB * 0.55, device.at[1])
        return Line(core, points, words, at, ends, free=free)

    def _is_device(self, spot: Spot) -> bool:
        return any(spot.name in flank.on_device for flank, _lanes in self.flanks)

    def _between(self, core: CoreView, a: Spot, b: Spot) -> list[Point]:
        one, other = self._flank(a), self._flank(b)
        if one is None or other is None:
            middle = (a.at[0] + b.at[0]) / 2
            return [(middle, a.at[1]), (middle, b.at[1])]
        if one is other:
            lane = self.flanks[self._index(one)][1].get(core.a)
            if lane is None or abs(a.at[1] - b.at[1]) < 0.5:
                return []
            x = one.lane_x(lane)
            return [(x, a.at[1]), (x, b.at[1])]
        level = self.over[core.a]
        from_x, to_x = (flank.lane_x(self.flanks[self._index(flank)][1].get(core.a, 0)) for flank in (one, other))
        return [(from_x, a.at[1]), (from_x, level), (to_x, level), (to_x, b.at[1])]

    def _index(self, wanted: Flank) -> int:
        return next(n for n, (flank, _lanes) in enumerate(self.flanks) if flank is wanted)

    def _flank(self, spot: Spot) -> Flank | None:
        return next((flank for flank, _lanes in self.flanks if spot.name in flank.levels), None)


def _loose(core: CoreView, end: Spot | None) -> Line:
    assert end is not None
    to = (end.at[0] + end.out[0] * LOOSE, end.at[1] + end.out[1] * LOOSE)
    return Line(core, (end.at, to), short_name(core), (to[0] + 4.0, to[1] - 6.0))


def _bow(core: CoreView, a: Spot, b: Spot) -> Line:
    """A bridge bows to the inner side of its screws, where no core leaves."""
    x = a.at[0] - a.out[0] * BULGE
    return Line(core, (a.at, (x, a.at[1]), (x, b.at[1]), b.at))
