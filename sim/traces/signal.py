"""The recording of a world as named signals, all on the same instants.

Sampled values (angles, currents, supply, contact) come from the kernel's own recording at 100 Hz, in which a time of
rest is kept as its first and its last sample. Levels (a guard tripped, a command given) change between them; every
change is an instant of its own here, so that none is lost in a time of rest.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sim.units import LEAVES
from sim.world.world import World

Floats = npt.NDArray[np.float64]
Instants = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Signal:
    """One named column."""

    name: str
    unit: str
    """`°`, `A`, `V`, `N`, or empty for a level (0 or 1)."""
    values: Floats

    @property
    def title(self) -> str:
        """Name and unit, as a table's head shows it."""
        return f"{self.name} [{self.unit}]" if self.unit else self.name


@dataclass(frozen=True, slots=True)
class Trace:
    """Signals and their common instants [µs], counted from the moment the gate was found."""

    time_us: Instants
    signals: tuple[Signal, ...]

    def __getitem__(self, name: str) -> Floats:
        """The values of a signal. Raises KeyError listing the names."""
        for signal in self.signals:
            if signal.name == name:
                return signal.values
        raise KeyError(f"there is no signal '{name}'; the signals are: {', '.join(s.name for s in self.signals)}")


def trace(world: World) -> Trace:
    """Everything recorded since the gate was found."""
    recorded = world.plant.recorded()
    sampled = np.asarray(recorded.time_us, dtype=np.int64)
    changes = [np.array([at for at, _ in steps], dtype=np.int64) for steps in world.levels.values()]
    every = np.unique(np.concatenate([sampled, *changes]))
    every = every[(every >= world.arrived) & (every >= (sampled[0] if len(sampled) else 0))]
    row = np.searchsorted(sampled, every, side="right") - 1
    signals = [
        *(
            Signal(f"{name} leaf angle", "°", np.degrees(recorded.angle[leaf])[row])
            for leaf, name in enumerate(LEAVES)
        ),
        *(Signal(f"{name} motor current", "A", _at(recorded.current[i], row)) for i, name in enumerate(LEAVES)),
        *(Signal(f"{name} leaf contact", "N", _at(recorded.contact[i], row)) for i, name in enumerate(LEAVES)),
        Signal("board supply", "V", _at(recorded.supply, row)),
        Signal("any guard tripped", "", _level(world.levels["guards"], every)),
        Signal("any control pressed", "", _level(world.levels["commands"], every)),
    ]
    return Trace(every - int(world.arrived), tuple(signals))


def _at(values: object, row: Instants) -> Floats:
    return np.asarray(values, dtype=np.float64)[row]


def _level(changes: list[tuple[int, int]], instants: Instants) -> Floats:
    """A level at each instant, from its changes; 0 before the first."""
    at = np.array([instant for instant, _ in changes], dtype=np.int64)
    values = np.array([0, *(value for _, value in changes)], dtype=np.float64)
    return values[np.searchsorted(at, instants, side="right")]
