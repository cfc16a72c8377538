"""What a run leaves behind, as data: sampled signals on common instants, and change-only ones with their own.

A trace is pure data and knows nothing of the world it came from. Between two samples a value holds: a recording
keeps a time of rest as its first and its last sample.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Instants = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Signal:
    """One sampled column. Two are compared by `sim.traces.digest`, not by `==`."""

    name: str
    unit: str
    """`°`, `A`, `V`, `N`, or empty for a level (0 or 1)."""
    values: Floats

    @property
    def title(self) -> str:
        """Name and unit, as a table's head shows it."""
        return f"{self.name} [{self.unit}]" if self.unit else self.name


@dataclass(frozen=True, slots=True)
class Changes:
    """A signal kept only where it changes: a state in words, a guard tripped."""

    name: str
    steps: tuple[tuple[int, str], ...]
    """(instant [µs], value from there on), in order; no value stands twice in a row."""

    @classmethod
    def of(cls, name: str, steps: Iterable[tuple[int, str]]) -> Changes:
        """The signal with repeated values left out. Raises ValueError if the instants go back."""
        kept: list[tuple[int, str]] = []
        for at, value in steps:
            if kept and at < kept[-1][0]:
                raise ValueError(f"'{name}' goes back from {kept[-1][0]} to {at} µs")
            if not kept or kept[-1][1] != value:
                kept.append((int(at), value))
        return cls(name, tuple(kept))

    def at(self, instant: int, before: str = "") -> str:
        """The value at an instant [µs]; `before` if that is earlier than the first."""
        value = before
        for at, after in self.steps:
            if at > instant:
                break
            value = after
        return value


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """Signals and their common instants [µs], counted from the moment the gate was found.

    Two are compared by `sim.traces.digest`, not by `==`.
    """

    time_us: Instants
    signals: tuple[Signal, ...]
    changes: tuple[Changes, ...] = ()

    def __post_init__(self) -> None:
        """Raises ValueError if the columns don't fit together."""
        if len(self.time_us) > 1 and (np.diff(self.time_us) <= 0).any():
            raise ValueError("the instants of a trace rise")
        for signal in self.signals:
            if len(signal.values) != len(self.time_us):
                raise ValueError(f"'{signal.name}' has {len(signal.values)} values for {len(self.time_us)} instants")
        names = self.names
        if twice := {name for name in names if names.count(name) > 1}:
            raise ValueError(f"a trace has each name once, not twice {min(twice)!r}")

    @property
    def names(self) -> list[str]:
        """Every signal there is, sampled ones first."""
        return [*(signal.name for signal in self.signals), *(change.name for change in self.changes)]

    def __getitem__(self, name: str) -> Floats:
        """The values of a sampled signal. Raises KeyError listing the names."""
        for signal in self.signals:
            if signal.name == name:
                return signal.values
        raise KeyError(f"there is no signal '{name}'; the signals are: {', '.join(s.name for s in self.signals)}")

    def steps(self, name: str) -> Changes:
        """A change-only signal. Raises KeyError listing the names."""
        for change in self.changes:
            if change.name == name:
                return change
        raise KeyError(f"nothing changes as '{name}'; what changes: {', '.join(c.name for c in self.changes)}")

    def followed_by(self, later: Trace) -> Trace:
        """This trace and a later block of the same signals as one.

        Raises ValueError if the signals differ or the block begins before this one ends.
        """
        if [(s.name, s.unit) for s in self.signals] != [(s.name, s.unit) for s in later.signals]:
            raise ValueError(f"a block with {', '.join(later.names)} can't follow one with {', '.join(self.names)}")
        if [c.name for c in self.changes] != [c.name for c in later.changes]:
            raise ValueError(f"a block with {', '.join(later.names)} can't follow one with {', '.join(self.names)}")
        return Trace(
            np.concatenate([self.time_us, later.time_us]),
            tuple(
                replace(a, values=np.concatenate([a.values, b.values]))
                for a, b in zip(self.signals, later.signals, strict=True)
            ),
            tuple(Changes.of(a.name, (*a.steps, *b.steps)) for a, b in zip(self.changes, later.changes, strict=True)),
        )
