"""The recording behind the time strip: what happened, sampled, and the marks of acts and events."""

from __future__ import annotations

from bisect import bisect_right

import numpy as np
import numpy.typing as npt

from sim.units import Us, to_seconds
from sim.world.world import World
from trainer.session.view import StripView

_MARKED = {
    "struck": "danger",
    "clash": "danger",
    "danger": "danger",
    "contact": "event",
    "stop reached": "event",
    "guard": "event",
    "learned": "event",
    "force": "event",
    "power": "event",
    "refused": "event",
}


class Strip:
    """Reads the world's recording; keeps nothing of its own but what it has already prepared for drawing."""

    def __init__(self, world: World) -> None:
        self._world = world
        self._marks: list[tuple[Us, str, str]] = []
        self._events_seen = 0
        self._entries_seen = 0
        self._prepared: tuple[int, StripView] | None = None

    def view(self, shown: Us | None) -> StripView:
        """The strip up to now; times in seconds since arrival."""
        recorded = self._world.plant.recorded()
        size = len(recorded.time_us)
        self._collect_marks()
        stamp = size + len(self._marks) * 1_000_003
        if self._prepared is None or self._prepared[0] != stamp:
            self._prepared = (stamp, self._prepare(recorded))
        ready = self._prepared[1]
        end = to_seconds(self._world.now - self._world.arrived)
        return StripView(
            ready.time_s, ready.channels, tuple(self._marks), end, None if shown is None else to_seconds(shown)
        )

    def angles_at(self, when: Us) -> tuple[float, float]:
        """Both leaf angles [rad] at a past instant [µs since arrival], from the recording."""
        recorded = self._world.plant.recorded()
        at = max(0, bisect_right(recorded.time_us, when + self._world.arrived) - 1)  # type: ignore[arg-type]
        return float(recorded.angle[0][at]), float(recorded.angle[1][at])

    def _prepare(self, recorded) -> StripView:  # type: ignore[no-untyped-def]
        time_us = np.asarray(recorded.time_us)
        since = time_us - self._world.arrived
        keep = slice(int(np.searchsorted(since, 0)), None)
        time_s: npt.NDArray[np.float64] = since[keep] / 1e6
        channels = {
            "active angle": np.degrees(recorded.angle[0][keep]),
            "inactive angle": np.degrees(recorded.angle[1][keep]),
            "active current": np.asarray(recorded.current[0][keep]),
            "inactive current": np.asarray(recorded.current[1][keep]),
            "supply": np.asarray(recorded.supply[keep]),
            "guards": _steps(self._world.levels["guards"], time_us[keep]),
            "commands": _steps(self._world.levels["commands"], time_us[keep]),
        }
        return StripView(time_s, channels)

    def _collect_marks(self) -> None:
        world = self._world
        for event in world.events[self._events_seen :]:
            kind = _MARKED.get(event.kind)
            if kind is not None:
                self._marks.append((Us(event.at - world.arrived), kind, event.text))
        for entry in world.entries[self._entries_seen :]:
            words = ", ".join(str(v) for v in entry.action.arguments.values())
            self._marks.append(
                (Us(entry.at - world.arrived), "act", entry.action.kind + (f": {words}" if words else ""))
            )
        self._events_seen, self._entries_seen = len(world.events), len(world.entries)


def _steps(changes: list[tuple[int, int]], time_us: npt.NDArray[np.int64]) -> npt.NDArray[np.float64]:
    """A level at each sample, from its changes (instant [µs], value); 0 before the first."""
    if not changes:
        return np.zeros(len(time_us))
    at = np.array([c[0] for c in changes])
    values = np.array([0, *(c[1] for c in changes)], dtype=float)
    return values[np.searchsorted(at, time_us, side="right")]
