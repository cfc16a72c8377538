"""What a case left behind: every scan, every act, what the gate did. Plain data; properties only look at it."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from sim.controller.ports import COMMAND_TERMINALS, GUARD_TERMINALS, Drive, Happening, Inputs, Outputs
from sim.controller.settings import Value
from sim.site import Site
from sim.traces.signal import Trace
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
        """Every row with the instant until which its outputs held."""
        for row, after in zip(self.rows, self.rows[1:], strict=False):
            yield row, after.at
        if self.rows:
            yield self.rows[-1], self.end

    def done(self, *acts: str) -> list[Done]:
        """The steps of these kinds that were carried out."""
        return [step for step in self.steps if step.act in acts and not step.refused]
