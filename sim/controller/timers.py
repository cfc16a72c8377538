"""Named deadlines on the scan grid, kept as plain data."""

from __future__ import annotations

from sim.units import SCAN, from_seconds, next_on_grid

Timers = dict[str, int]
"""Name: the scan instant at which it is due [µs]."""


def start(timers: Timers, name: str, now: int, seconds: float) -> None:
    """Have `name` due at the first scan instant that is at least `seconds` [s] from `now`."""
    timers[name] = next_on_grid(now + from_seconds(seconds), SCAN)


def stop(timers: Timers, name: str) -> None:
    """Forget a deadline, if there is one."""
    timers.pop(name, None)


def running(timers: Timers, name: str) -> bool:
    """Whether a deadline is set and not yet taken."""
    return name in timers


def take(timers: Timers, name: str, now: int) -> bool:
    """Whether `name` is due; it is due once."""
    due = timers.get(name)
    if due is None or now < due:
        return False
    del timers[name]
    return True
