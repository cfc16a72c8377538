"""What a case left behind: every scan, every act, what the gate did. Plain data; properties only look at it."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final

from sim.controller.ports import (
    COMMAND_TERMINALS,
    GUARD_TERMINALS,
    Controller,
    Drive,
    Enrolled,
    Happening,
    Inputs,
    Outputs,
)
from sim.controller.settings import Value
from sim.site import Site
from sim.traces.signal import Trace
from sim.units import LEAVES
from sim.world.history import Event

DECLARED: Final[Mapping[str, Value]] = {
    "outer beam": "reopen",
    "inner beam": "hold",
    "active edge": "back off",
    "inactive edge": "back off",
    "stop circuit": "halt",
}
"""What the guards are taken to do where a controller shows no sheet of its own."""


def _way(drive: Drive) -> int:
    return 0 if drive.brake else (drive.duty > 0.0) - (drive.duty < 0.0)


@dataclass(frozen=True, slots=True)
class Row:
    """One scan: what the controller read, what it drives from then on, what its panel says."""

    at: int
    """Since the gate was found [µs]."""
    inputs: Inputs
    outputs: Outputs
    state: str
    message: str
    travel: tuple[int | None, int | None] = (None, None)
    """Learned travel as the panel shows it [counts]."""

    def drive(self, leaf: int) -> Drive:
        """What is asked of a leaf: 0 the active one, 1 the inactive one."""
        return self.outputs.inactive if leaf else self.outputs.active

    @property
    def ways(self) -> tuple[int, int]:
        """Per leaf: +1 driven opening, −1 driven closing, 0 not driven."""
        one, other = (
            (d.duty > 0.0) - (d.duty < 0.0) if not d.brake else 0
            for d in (self.outputs.active, self.outputs.inactive)
        )
        return one, other

    @property
    def driven(self) -> bool:
        """Whether any leaf is driven."""
        return any(self.ways)

    @property
    def closes(self) -> bool:
        """Whether any leaf is driven closing."""
        return -1 in self.ways

    @property
    def opens(self) -> bool:
        """Whether any leaf is driven opening."""
        return 1 in self.ways

    def pressed(self, control: str) -> bool:
        """Whether a command terminal reads closed."""
        index = COMMAND_TERMINALS.index(control)
        return index < len(self.inputs.command_v) and self.inputs.command_v[index] < 12.0

    def guard_v(self, guard: str) -> float:
        """What a guard terminal reads [V]."""
        return self.inputs.guard_v[GUARD_TERMINALS.index(guard)]


@dataclass(frozen=True, slots=True)
class Done:
    """One step that was carried out, or that made no sense when its turn came."""

    at: int
    """Since the gate was found [µs]."""
    act: str
    arguments: Mapping[str, Value]
    refused: str = ""
    """Why it made no sense then; empty when it was done."""


@dataclass(frozen=True, slots=True)
class Record:
    """All of it. Instants are µs since the gate was found; rows are in order, and outputs hold between them."""

    rows: tuple[Row, ...]
    steps: tuple[Done, ...]
    events: tuple[Event, ...]
    """What the world noticed; their `at` counts since the gate was found as well."""
    trace: Trace
    sheets: tuple[tuple[int, Mapping[str, Value]], ...]
    """(from when, settings in force); the first from the beginning."""
    site: Site
    """As it stood at the end."""
    happenings: tuple[Happening, ...] = ()
    """What the controller took note of during the play; `at` since the gate was found."""
    first_note: int = 0
    """Number of the last note that stood in its log before the play."""
    travel: tuple[int | None, int | None] = (None, None)
    """Learned travel at the beginning [counts]."""
    faults: tuple[str, ...] = ()
    """Every fault that was brought at any time."""
    power: tuple[tuple[int, bool], ...] = ()
    """(from when, whether the board has power): changes only."""
    found: int = 0
    """When the gate was found, on the world's clock [µs]."""
    enrolled: tuple[Enrolled, ...] = ()
    """Transmitters in the controller's memory at the beginning."""
    counters: Mapping[str, int] = field(default_factory=dict)
    """Serial of each of them: counter of its last word that was taken before the play."""
    before: Row | None = None
    """How it stood before the first step, at an instant before the first."""
    twin: Controller | None = None
    """A copy of the controller as it was at the beginning; None where it can't be copied."""
    end: int = 0
    taken: frozenset[tuple[str, str]] = frozenset()
    """(trigger, state it was fired in): rows of the reference controller's table that were taken."""
    failed: str = ""
    """What went wrong with the controller itself, in words; empty when nothing did."""

    def sheet(self, at: int) -> Mapping[str, Value]:
        """Settings in force at an instant."""
        place = bisect_right([start for start, _ in self.sheets], at) - 1
        return self.sheets[max(0, place)][1]

    def row_at(self, at: int) -> Row | None:
        """The last scan at or before an instant, None before the first."""
        place = bisect_right(self.rows, at, key=lambda row: row.at) - 1
        return self.rows[place] if place >= 0 else None

    def spans(self) -> Iterator[tuple[Row, int]]:
        """Every row with the instant until which its outputs held: the next scan, or the loss of power."""
        lost = [at for at, on in self.power if not on]
        for place, row in enumerate(self.rows):
            until = self.rows[place + 1].at if place + 1 < len(self.rows) else self.end
            if lost:
                next_loss = bisect_right(lost, row.at)
                until = min(until, lost[next_loss]) if next_loss < len(lost) else until
            yield row, until

    def angle_deg(self, leaf: int, at: int) -> float:
        """Where a leaf stands at an instant [°], 0 shut; 0 before anything was recorded."""
        place = int(self.trace.time_us.searchsorted(at, side="right")) - 1
        name = f"{LEAVES[leaf]} leaf angle"
        values = next(signal.values for signal in self.trace.signals if signal.name == name)
        return float(values[place]) if place >= 0 else 0.0

    def powered_off(self, after: int, until: int) -> bool:
        """Whether the board lost its power after one instant and not after another."""
        return any(after < at <= until and not on for at, on in self.power)

    def done(self, *acts: str) -> list[Done]:
        """The steps of these kinds that were carried out."""
        return [step for step in self.steps if step.act in acts and not step.refused]
