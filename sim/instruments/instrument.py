"""What an instrument is: functions, places it can be put, what putting it there changes, and what it shows.

Placing is an act that may edit a net or the yard; reading is a pure look after it has settled. Every instrument is an
entry of the shelf (`shelf.py`): forms, help and tests are made from what it says of itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, Protocol, TypeAlias

from sim.instruments.shown import Shown
from sim.wiring.netlist import Undo

if TYPE_CHECKING:
    from sim.world.world import World

PlaceKind: TypeAlias = Literal["", "terminal", "core", "leaf", "post", "guard", "transmitter", "joint", "spot"]
"""What an instrument is put on: nothing in particular, a terminal of the cabinet, one core of a cable, a leaf or post
(`active`, `inactive`), a guard, a transmitter by its tag, a joint by its name, or a spot of the function."""

Group: TypeAlias = Literal["electrical", "mechanical", "guards and radio", "surroundings"]


@dataclass(frozen=True, slots=True)
class Function:
    """One thing an instrument measures."""

    name: str
    """In words: `volts dc`, `play at the tip`."""
    unit: str
    help: str
    """One sentence: what it tells, and on what it is put."""
    at: PlaceKind = "terminal"
    against: PlaceKind = ""
    """The second place, when there is one."""
    spots: tuple[str, ...] = ()
    """For `spot`: the names of the places."""
    takes_s: float = 15.0
    """Putting it there [s]. CP, no source."""
    settles_s: float = 3.0
    """Until it has settled [s]. CP, no source."""
    caution: str = ""
    """Shown the moment before, where real work would hurt someone or break something."""


@dataclass(frozen=True, slots=True)
class Use:
    """How an instrument is put in place: plain data."""

    function: str
    at: str = ""
    against: str = ""
    since: int = 0
    """When it was placed [µs]."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What was read: now, and the least and most since it was placed where the instrument remembers them."""

    now: Shown
    least: float | None = None
    most: float | None = None


class Instrument(Protocol):
    """One instrument of the bag, with whatever state of its own it has (a blown fuse, a flat cell)."""

    name: str
    group: Group
    help: str
    functions: tuple[Function, ...]

    def place(self, world: World, use: Use) -> Undo:
        """Put it there; the undo takes it off again. Raises Refused, in words, where it can't be put."""
        ...

    def read(self, world: World, use: Use, index: int) -> Reading:
        """What it shows once it has settled; a pure look. `index` counts its readings, for its noise."""
        ...


def function_of(instrument: Instrument, name: str) -> Function | None:
    """One of its functions by name, None if it has none such."""
    return next((each for each in instrument.functions if each.name == name), None)


def nothing() -> None:
    """The undo of a look."""


__all__ = ["Function", "Group", "Instrument", "PlaceKind", "Reading", "Use", "function_of", "nothing"]
