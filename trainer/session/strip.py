"""The recording behind the time strip: what happened, sampled, and the marks of acts and events.

Kept in growing arrays: a frame adds what is new and hands out views, however long the session is.
"""

from __future__ import annotations

from bisect import bisect_right
from operator import itemgetter
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from sim.mechanics.recorder import Column
from sim.said import joined, said
from sim.units import LEAVES, Us, to_seconds
from sim.world.actions import Value
from sim.world.world import World
from trainer.session.view import StripView

_MARKED: Final = {
    "struck": "danger",
    "clash": "danger",
    "danger": "danger",
    "contact": "event",
    "stop reached": "event",
    "guard": "event",
    "learned": "event",
    "force": "event",
    "power": "event",
    "weather": "event",
    "refused": "event",
}

_SAMPLED: Final = ("active angle", "inactive angle", "active current", "inactive current", "supply")
"""Channels in the order of the recorder's columns after the time."""

_LEVELS: Final = ("guards", "commands")


_MEANT: Final = np.array([0.05, 0.05, 0.05, 0.05, 0.05, 0.0, 0.0])
"""So far a straight line between two samples may pass by one that was left out [°, A, V; levels never]. Ours."""

_PASSES: Final = 6
"""How often every second sample is asked whether it is needed: of a steady stretch one in 64 stays."""

_FINE: Final = 1024
"""So many samples, and up to twice as many, stay as they were recorded; older ones are thinned."""


class Strip:
    """Reads the world's recording; keeps nothing but what is prepared for drawing."""

    def __init__(self, world: World) -> None:
        self._world = world
        self._marks: tuple[tuple[Us, str, str], ...] = ()
        self._events_seen = 0
        self._entries_seen = 0
        self._time_s = np.zeros(2 * _FINE)
        """Of each sample, since arrival."""
        self._values = np.zeros((len(_SAMPLED) + len(_LEVELS), 2 * _FINE), dtype=np.float32)
        """A row for each channel and level, a column for each sample."""
        self._size = 0
        """Samples that will not change any more."""
        self._thin = 0
        """So many of them are thinned already."""
        self._row = 0
        """The recorder's first row that is not among them for good."""
        self._last = np.array([])
        """The recorder's last row that is."""
        self._prepared: tuple[int, StripView] | None = None
        absent = LEAVES[len(world.site.leaves.fitted) :]
        self._absent = tuple(name for name in _SAMPLED if name.partition(" ")[0] in absent)
        """Channels of a leaf that doesn't hang here: the recorder has them, nobody sees them."""

    def view(self, shown: Us | None) -> StripView:
        """The strip up to now; times in seconds since arrival."""
        self._collect_marks()
        if self._prepared is None or self._prepared[0] != self._world.now:
            self._prepared = (self._world.now, self._prepare())
        ready = self._prepared[1]
        end = to_seconds(self._world.now - self._world.arrived)
        return StripView(ready.time_s, ready.channels, self._marks, end, None if shown is None else to_seconds(shown))

    def at(self, when: Us) -> dict[str, float]:
        """Every channel at a past instant [µs since arrival], between two samples: [°], [A], [V], levels."""
        ready = self.view(None)
        times, wanted = np.asarray(ready.time_s), to_seconds(when)
        after = min(max(int(np.searchsorted(times, wanted)), 1), len(times) - 1)
        sides = slice(max(after - 1, 0), after + 1)
        return {
            name: float(np.interp(wanted, times[sides], np.asarray(values)[sides]))
            for name, values in ready.channels.items()
        }

    def _prepare(self) -> StripView:
        rows = self._world.plant.rows_from(self._row)[:, : 1 + len(_SAMPLED)]
        if len(rows) > 1:  # the recorder may still move its last row on; all before it stand
            self._size += self._write(rows[:-1], float(rows[-2, 0]))
            self._row += len(rows) - 1
            self._last = rows[-2]
            while self._size - self._thin >= 2 * _FINE:
                self._thin_out()
        size = self._size + self._write(rows[-1:], float(self._world.now))
        names = (*_SAMPLED, *_LEVELS)
        channels = {name: self._values[at, :size] for at, name in enumerate(names) if name not in self._absent}
        return StripView(self._time_s[:size], channels)

    def _thin_out(self) -> None:
        """Leave out what a straight line says as well, among the oldest samples that stand as recorded.

        Which those are hangs on the samples alone, and never on how often somebody looked.
        """
        first, end = self._thin, self._thin + _FINE
        kept = first + needed(self._time_s[first:end], self._values[:, first:end].T, _MEANT)
        rest = self._size - end
        self._thin, self._size = first + len(kept), first + len(kept) + rest
        stays = np.concatenate([kept, np.arange(end, end + rest)])
        for column in (self._time_s, *self._values):
            column[first : self._size] = column[stays]

    def _write(self, rows: Column, until: float) -> int:
        """Put samples up to `until` [µs] behind the rows that stand, with samples beside every step of a level.

        Rest is recorded as its first and last sample, so a step within it would else be drawn as a slope.
        Returns how many were written.
        """
        since = float(self._last[0]) if len(self._last) else float(self._world.arrived) - 1.0
        known = np.vstack([self._last, rows]) if len(self._last) else rows
        levels = [_recent(self._world.levels[name], since) for name in _LEVELS]
        edges = [float(at + side) for changes in levels for at, _ in changes for side in (-1, 0)]
        time_us = np.union1d(rows[:, 0], [*edges, float(self._world.arrived), until])
        time_us = time_us[(time_us > since) & (time_us <= until)]
        count = len(time_us)
        self._make_room(self._size + count)
        there = slice(self._size, self._size + count)
        self._time_s[there] = (time_us - self._world.arrived) / 1e6
        for at in range(len(_SAMPLED)):
            sampled = np.interp(time_us, known[:, 0], known[:, 1 + at])
            self._values[at, there] = np.degrees(sampled) if at < 2 else sampled
        for at, changes in enumerate(levels):
            self._values[len(_SAMPLED) + at, there] = _steps(changes, time_us)
        return count

    def _make_room(self, samples: int) -> None:
        if samples > len(self._time_s):
            more = max(samples, len(self._time_s) + 4 * _FINE) - len(self._time_s)
            self._time_s = np.pad(self._time_s, (0, more))
            self._values = np.pad(self._values, ((0, 0), (0, more)))

    def _collect_marks(self) -> None:
        world, fresh = self._world, []
        for event in world.events[self._events_seen :]:
            kind = _MARKED.get(event.kind)
            if kind is not None:
                fresh.append((Us(event.at - world.arrived), kind, event.text))
        for entry in world.entries[self._entries_seen :]:
            words = joined(map(_words, entry.action.arguments.values()), ", ")
            text = joined(filter(None, [entry.action.kind, words]), ": ")
            fresh.append((Us(entry.at - world.arrived), "act", world.once.of(text, text)))
        self._events_seen, self._entries_seen = len(world.events), len(world.entries)
        if fresh:
            self._marks += tuple(fresh)


def needed(times: Column, values: npt.NDArray[np.floating[Any]], meant: Column) -> npt.NDArray[np.intp]:
    """Which samples are needed so that straight lines between them pass all others within `meant`, one a channel.

    The first and the last always are. Every second one is left out where its neighbours say the same, and so on with
    those that are left; each time within a part of what is meant, so that all together stay within it.
    """
    kept = np.arange(len(times))
    for _ in range(_PASSES):
        before, middle, after = kept[:-2:2], kept[1:-1:2], kept[2::2]
        share = (times[middle] - times[before]) / (times[after] - times[before])
        guess = values[before] + share[:, None] * (values[after] - values[before])
        same = (np.abs(values[middle] - guess) <= meant / _PASSES).all(axis=1)
        kept = np.delete(kept, 1 + 2 * np.flatnonzero(same))
    return kept


def _words(value: Value) -> str:
    """An argument of an act, in words."""
    return said("True" if value else "False") if isinstance(value, bool) else str(value)


def _recent(changes: list[tuple[int, int]], since: float) -> list[tuple[int, int]]:
    """The last change of a level up to an instant [µs], and all after it: of a long session few."""
    return changes[max(bisect_right(changes, since, key=itemgetter(0)) - 1, 0) :]


def _steps(changes: list[tuple[int, int]], time_us: Column) -> Column:
    """A level at each sample, from its changes (instant [µs], value); 0 before the first."""
    values = np.array([0.0, *(float(value) for _, value in changes)])
    found: Column = values[np.searchsorted(np.array([float(at) for at, _ in changes]), time_us, side="right")]
    return found
