"""A world's past as grading may look at it: times counted from arrival, truth beside the sheet."""

from __future__ import annotations

from sim.units import Us
from sim.world.history import Entry, Event, History
from sim.world.world import World


def history_of(world: World) -> History:
    """All that was done and all that happened, up to now; times in µs since arrival."""
    zero = world.arrived
    entries = tuple(Entry(e.line, Us(e.at - zero), e.action) for e in world.entries)
    events = tuple(Event(Us(e.at - zero), e.kind, e.text, e.data, e.line) for e in world.events)
    return History(entries, events, world.standing(), Us(world.now - zero))
