"""Looks at a run as it happens: a watcher sees every instant in which something happened, and says what broke.

A watcher remembers little, and all of it in `seen`, a value that never changes but is replaced. So a search that
goes back and forth keeps and restores a watcher for nothing. Instants are remembered as deadlines: up to when
something counts. Two watchers that remember the same but for the exact instants count as one.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from functools import lru_cache
from typing import ClassVar, Final, NamedTuple

from sim.bench.proof.readings import reads_clear
from sim.controller.ports import COMMAND_TERMINALS, CONTACT_THRESHOLD_V, GUARD_TERMINALS, Drive, Inputs, Outputs
from sim.controller.settings import Value

RADIO: Final = "a transmitter"
"""Stands among the commands given for a radio word that was pressed."""

PANEL: Final = "the service panel"
"""Stands among them for what was asked at it."""

Names = frozenset[str]

_NONE: Final[Names] = frozenset()


class Glance(NamedTuple):
    """One instant as a bystander at the terminals sees it."""

    at: int
    """[µs]"""
    powered: bool
    """Whether the board has power."""
    ways: tuple[int, int]
    """Per leaf: +1 driven opening from now on, −1 driven closing, 0 not driven."""
    tripped: Names
    """Guards that don't read clear."""
    pressed: Names
    """Controls that read pressed."""
    given: Names
    """Controls that read pressed now and did not at the instant before; `RADIO` when a word came."""
    lamp: bool
    emitters: bool
    """Whether the beams' emitters are fed from now on."""
    shares: tuple[float, float]
    """Where each leaf is, as a share of its travel from the closed stop. Not a terminal: for promises on the gate."""
    pushed: bool
    """Whether a leaf that was driven up to now takes nearly as much current as its limit lets it."""


class Watcher:
    """Watches for one promise. One is made for each run, with the sheet that is in force."""

    name: ClassVar[str]
    """The promise in a few words."""
    promise: ClassVar[str]
    """In a sentence, with its bounds."""
    source: ClassVar[str]

    seen: Hashable = ()
    """All that it remembers. Instants in it are those up to which something counts."""

    def __init__(self, sheet: Mapping[str, Value]) -> None:
        self.sheet = sheet
        self.held = held_controls(sheet)

    def see(self, glance: Glance) -> str | None:
        """Look at the next instant; what broke, in words, or None."""
        raise NotImplementedError

    def number(self, setting: str) -> float:
        """An amount on the sheet, 0 where the sheet doesn't have it."""
        value = self.sheet.get(setting, 0.0)
        return float(value) if isinstance(value, (int, float)) else 0.0

    def reacting(self, *reactions: str) -> Names:
        """Guards that the sheet gives one of these reactions."""
        return frozenset(name for name in GUARD_TERMINALS if self.sheet.get(name) in reactions)


def held_controls(sheet: Mapping[str, Value]) -> Names:
    """Controls that a sheet makes hold-to-run."""
    key = {"key switch"} if sheet.get("key switch") == "hold-to-run open" else set()
    pair = {"open button", "close button"} if sheet.get("open and close buttons") == "hold-to-run" else set()
    return frozenset(key | pair)


def way(drive: Drive) -> int:
    """+1 driven opening, −1 driven closing, 0 not driven."""
    return 0 if drive.brake else (drive.duty > 0.0) - (drive.duty < 0.0)


def glance(
    at: int,
    inputs: Inputs,
    outputs: Outputs,
    held: Outputs,
    powered: bool,
    before: Names | None,
    shares: tuple[float, float],
) -> Glance:
    """One instant, from what was read and what is driven from then on.

    `held`: what was driven up to then, under which the currents were read; `before`: what was pressed the instant
    before, None where nobody could read it.
    """
    pressed = _pressed(inputs.command_v)
    given = pressed - before if powered and before is not None else _NONE
    if inputs.radio and powered and any(word.pressed for word in inputs.radio):
        given = given | {RADIO}
    if inputs.requests and powered:
        given = given | {PANEL}
    ways = (way(outputs.active), way(outputs.inactive))
    return Glance(
        at,
        powered,
        ways,
        _tripped(inputs.guard_v),
        pressed,
        given,
        outputs.lamp,
        outputs.emitter_supply,
        shares,
        _pushes(inputs, held),
    )


FULL_SHARE: Final = 0.9
"""A motor that takes this share of its limit pushes against something. Common practice, no source."""


def _pushes(inputs: Inputs, outputs: Outputs) -> bool:
    drives = zip((outputs.active, outputs.inactive), inputs.motor_a, strict=True)
    return any(way(drive) and abs(current) >= FULL_SHARE * drive.limit_a for drive, current in drives)


@lru_cache(maxsize=1024)
def _tripped(volts: tuple[float, ...]) -> Names:
    return frozenset(name for name, each in zip(GUARD_TERMINALS, volts, strict=False) if not reads_clear(name, each))


@lru_cache(maxsize=1024)
def _pressed(volts: tuple[float, ...]) -> Names:
    return frozenset(name for name, each in zip(COMMAND_TERMINALS, volts, strict=False) if each < CONTACT_THRESHOLD_V)
