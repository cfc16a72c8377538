"""What a world recorded, read as a trace. Reading changes nothing in the world.

Sampled values (angles, currents, supply, contact) come from the kernel's own recording at 100 Hz. Levels (a guard
tripped, a command given) change between samples; every change is an instant of its own here, so that none is lost in
a time of rest. What is said in words (the controller's state, each guard) is kept as changes.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from sim.traces.signal import Changes, Floats, Instants, Signal, Trace
from sim.units import LeafName

if TYPE_CHECKING:
    from sim.world.world import World

STATE = "controller state"
"""Name of the change-only signal that holds the controller's state in words."""


def trace(world: World, leaves: tuple[LeafName, ...] | None = None) -> Trace:
    """Everything recorded since the gate was found.

    `leaves`: whose signals; those of the leaves that hang here, if nothing is said. One that doesn't hang here is
    shut all the time, without current and force: for whoever looks at two, however many there are.
    """
    recorded = world.plant.recording()
    sampled = np.asarray(recorded.time_us, dtype=np.int64)
    changes = [np.array([at for at, _ in steps], dtype=np.int64) for steps in world.levels.values()]
    found = np.array([world.arrived], dtype=np.int64)  # what held then was sampled before
    every = np.unique(np.concatenate([found, sampled, *changes]))
    every = every[(every >= world.arrived) & (every >= (sampled[0] if len(sampled) else 0))]
    row = np.searchsorted(sampled, every, side="right") - 1
    angles = (np.degrees(recorded.active_angle), np.degrees(recorded.inactive_angle))
    currents = (recorded.active_current, recorded.inactive_current)
    contacts = (recorded.active_contact, recorded.inactive_contact)
    named = world.site.leaves.fitted if leaves is None else leaves
    signals = [
        *(Signal(f"{name} leaf angle", "°", _at(angles[leaf], row)) for leaf, name in enumerate(named)),
        *(Signal(f"{name} motor current", "A", _at(currents[leaf], row)) for leaf, name in enumerate(named)),
        *(Signal(f"{name} leaf contact", "N", _at(contacts[leaf], row)) for leaf, name in enumerate(named)),
        Signal("board supply", "V", _at(recorded.supply, row)),
        Signal("any guard tripped", "", _level(world.levels["guards"], every)),
        Signal("any control pressed", "", _level(world.levels["commands"], every)),
    ]
    return Trace(every - int(world.arrived), tuple(signals), _told(world))


def _told(world: World) -> tuple[Changes, ...]:
    """What the world noticed in words, since the gate was found."""
    states: list[tuple[int, str]] = []
    guards: dict[str, list[tuple[int, str]]] = {name: [] for name in world.site.guards.fitted}
    for event in world.events:
        at = int(event.at - world.arrived)
        if event.kind == "state":
            states.append((at, str(event.data["state"])))
        elif event.kind == "guard":
            guards[str(event.data["guard"])].append((at, "tripped" if event.data["tripped"] else "clear"))
    return (Changes.of(STATE, states), *(Changes.of(name, steps) for name, steps in guards.items()))


def _at(values: object, row: Instants) -> Floats:
    return np.asarray(values, dtype=np.float64)[row]


def _level(changes: list[tuple[int, int]], instants: Instants) -> Floats:
    """A level at each instant, from its changes; 0 before the first."""
    at = np.array([instant for instant, _ in changes], dtype=np.int64)
    values = np.array([0, *(value for _, value in changes)], dtype=np.float64)
    return values[np.searchsorted(at, instants, side="right")]
