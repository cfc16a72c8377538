"""The recording behind the time strip: what happened, sampled, and the marks of acts and events."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from sim.mechanics.recorder import Recording
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
        self._collect_marks()
        if self._prepared is None or self._prepared[0] != self._world.now:
            self._prepared = (self._world.now, self._prepare(self._world.plant.recording()))
        ready = self._prepared[1]
        end = to_seconds(self._world.now - self._world.arrived)
        return StripView(
            ready.time_s, ready.channels, tuple(self._marks), end, None if shown is None else to_seconds(shown)
        )

    def angles_at(self, when: Us) -> tuple[float, float]:
        """Both leaf angles [rad] at a past instant [µs since arrival], from the recording."""
        recorded = self._world.plant.recording()
        wanted = float(when + self._world.arrived)
        return (
            float(np.interp(wanted, recorded.time_us, recorded.active_angle)),
            float(np.interp(wanted, recorded.time_us, recorded.inactive_angle)),
        )

    def _prepare(self, recorded: Recording) -> StripView:
        time_us = recorded.time_us
        since = time_us - self._world.arrived
        # The sample that held on arrival may be older: rest is kept as its first and last sample.
        keep = slice(max(0, int(np.searchsorted(since, 0, side="right")) - 1), None)
        time_s: npt.NDArray[np.float64] = np.maximum(since[keep], 0.0) / 1e6
        channels = {
            "active angle": np.degrees(recorded.active_angle[keep]),
            "inactive angle": np.degrees(recorded.inactive_angle[keep]),
            "active current": recorded.active_current[keep],
            "inactive current": recorded.inactive_current[keep],
            "supply": recorded.supply[keep],
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


def _steps(changes: list[tuple[int, int]], time_us: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """A level at each sample, from its changes (instant [µs], value); 0 before the first."""
    if not changes:
        return np.zeros(len(time_us))
    at = np.array([c[0] for c in changes])
    values = np.array([0, *(c[1] for c in changes)], dtype=float)
    return values[np.searchsorted(at, time_us, side="right")]
