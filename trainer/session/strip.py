"""The recording behind the time strip: what happened, sampled, and the marks of acts and events.

Kept in growing arrays: a frame adds what is new and hands out views, however long the session is.
"""

from __future__ import annotations

from typing import Final

import numpy as np

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


class Strip:
    """Reads the world's recording; keeps nothing but what is prepared for drawing."""

    def __init__(self, world: World) -> None:
        self._world = world
        self._marks: list[tuple[Us, str, str]] = []
        self._events_seen = 0
        self._entries_seen = 0
        self._table = np.zeros((1024, 1 + len(_SAMPLED) + len(_LEVELS)))
        """A row a sample: time since arrival [s], sampled channels, levels."""
        self._size = 0
        """Rows that will not change any more."""
        self._row = 0
        """The recorder's first row that is not in the table for good."""
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
        marks = tuple(self._marks)
        return StripView(ready.time_s, ready.channels, marks, end, None if shown is None else to_seconds(shown))

    def angles_at(self, when: Us) -> tuple[float, float]:
        """Both leaf angles [rad] at a past instant [µs since arrival], from the recording."""
        ready = self.view(None)
        wanted = to_seconds(when)
        time_s = np.asarray(ready.time_s)
        active, inactive = (np.radians(self._table[: len(time_s), column]) for column in (1, 2))
        return float(np.interp(wanted, time_s, active)), float(np.interp(wanted, time_s, inactive))

    def _prepare(self) -> StripView:
        rows = self._world.plant.rows_from(self._row)[:, : 1 + len(_SAMPLED)]
        if len(rows) > 1:  # the recorder may still move its last row on; all before it stand
            self._size += self._write(rows[:-1], float(rows[-2, 0]))
            self._row += len(rows) - 1
            self._last = rows[-2]
        size = self._size + self._write(rows[-1:], float(self._world.now))
        time_s = self._table[:size, 0]
        names = (*_SAMPLED, *_LEVELS)
        channels = {name: self._table[:size, 1 + at] for at, name in enumerate(names) if name not in self._absent}
        return StripView(time_s, channels)

    def _write(self, rows: Column, until: float) -> int:
        """Put samples up to `until` [µs] behind the rows that stand, with samples beside every step of a level.

        Rest is recorded as its first and last sample, so a step within it would else be drawn as a slope.
        Returns how many were written.
        """
        since = float(self._last[0]) if len(self._last) else float(self._world.arrived) - 1.0
        known = np.vstack([self._last, rows]) if len(self._last) else rows
        levels = [self._world.levels[name] for name in _LEVELS]
        edges = [float(at + side) for changes in levels for at, _ in changes for side in (-1, 0)]
        time_us = np.union1d(rows[:, 0], [*edges, float(self._world.arrived), until])
        time_us = time_us[(time_us > since) & (time_us <= until)]
        count = len(time_us)
        self._make_room(self._size + count)
        target = self._table[self._size : self._size + count]
        target[:, 0] = (time_us - self._world.arrived) / 1e6
        for at in range(1, 1 + len(_SAMPLED)):
            target[:, at] = np.interp(time_us, known[:, 0], known[:, at])
        target[:, 1:3] = np.degrees(target[:, 1:3])
        for at, changes in enumerate(levels):
            target[:, 1 + len(_SAMPLED) + at] = _steps(changes, time_us)
        return count

    def _make_room(self, rows: int) -> None:
        if rows > len(self._table):
            larger = np.zeros((max(rows, 2 * len(self._table)), self._table.shape[1]))
            larger[: self._size] = self._table[: self._size]
            self._table = larger

    def _collect_marks(self) -> None:
        world = self._world
        for event in world.events[self._events_seen :]:
            kind = _MARKED.get(event.kind)
            if kind is not None:
                self._marks.append((Us(event.at - world.arrived), kind, event.text))
        for entry in world.entries[self._entries_seen :]:
            words = joined(map(_words, entry.action.arguments.values()), ", ")
            text = joined(filter(None, [entry.action.kind, words]), ": ")
            self._marks.append((Us(entry.at - world.arrived), "act", text))
        self._events_seen, self._entries_seen = len(world.events), len(world.entries)


def _words(value: Value) -> str:
    """An argument of an act, in words."""
    return said("True" if value else "False") if isinstance(value, bool) else str(value)


def _steps(changes: list[tuple[int, int]], time_us: Column) -> Column:
    """A level at each sample, from its changes (instant [µs], value); 0 before the first."""
    values = np.array([0.0, *(float(value) for _, value in changes)])
    found: Column = values[np.searchsorted(np.array([float(at) for at, _ in changes]), time_us, side="right")]
    return found
