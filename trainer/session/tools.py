"""What may be seen of the instruments: what each can do, where it is, what it showed last; and what may be named.

Catalogue data comes from the shelf, so that an instrument more needs no line of a window.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from operator import attrgetter
from typing import TYPE_CHECKING, Final
from weakref import WeakKeyDictionary

from sim.instruments.instrument import Function, Instrument, Reading, Use
from sim.said import joined
from sim.world.mending.row import VERBS
from sim.world.mending.table import targets

if TYPE_CHECKING:
    from sim.instruments.toolbag import Toolbag
    from sim.world.world import World

PLACE_KINDS: Final = ("terminal", "core", "leaf", "post", "guard", "transmitter", "joint")


@dataclass(frozen=True, slots=True)
class FunctionView:
    """One thing an instrument measures."""

    name: str
    unit: str
    help: str
    at: str
    """Kind of place it is put on: '' for none, `spot` for one of `spots`."""
    against: str
    spots: tuple[str, ...]
    caution: str


@dataclass(frozen=True, slots=True)
class InstrumentView:
    """One instrument of the bag."""

    name: str
    group: str
    help: str
    functions: tuple[FunctionView, ...]


@dataclass(frozen=True, slots=True)
class UseView:
    """An instrument in place."""

    instrument: str
    function: str
    at: str
    against: str


@dataclass(frozen=True, slots=True)
class ReadingView:
    """What an instrument showed last, in its own words."""

    instrument: str
    text: str
    function: str = ""
    at: str = ""
    against: str = ""
    """What it was set to, and where it was."""
    least: str = ""
    most: str = ""
    """Least and most since it was placed, where it keeps them."""


@dataclass(frozen=True, slots=True)
class ToolsView:
    """All instruments."""

    instruments: tuple[InstrumentView, ...] = ()
    in_place: tuple[UseView, ...] = ()
    readings: tuple[ReadingView, ...] = ()
    states: tuple[tuple[str, str], ...] = ()
    """(instrument, what is seen of its own state): its fuse is blown."""

    def instrument(self, name: str) -> InstrumentView | None:
        """One by its name."""
        return next((each for each in self.instruments if each.name == name), None)

    def use(self, name: str) -> UseView | None:
        """Where one is in place."""
        return next((use for use in self.in_place if use.instrument == name), None)

    def reading(self, name: str) -> ReadingView | None:
        """What one showed last."""
        return next((reading for reading in self.readings if reading.instrument == name), None)

    def reading_of(self, name: str, function: str) -> ReadingView | None:
        """What one showed last, if it was set to that function."""
        reading = self.reading(name)
        return reading if reading is not None and reading.function == function else None

    def state(self, name: str) -> str:
        """What is seen of one's own state, '' when there is nothing to be seen."""
        return next((words for each, words in self.states if each == name), "")


def catalogue_of(
    instruments: Iterable[Instrument], spots: Callable[[Function], tuple[str, ...]] = attrgetter("spots")
) -> tuple[InstrumentView, ...]:
    """What instruments say of themselves; `spots` answers which of a function's own spots a gate has."""
    return tuple(
        InstrumentView(
            each.name,
            each.group,
            each.help,
            tuple(FunctionView(f.name, f.unit, f.help, f.at, f.against, spots(f), f.caution) for f in each.functions),
        )
        for each in instruments
    )


_catalogues: WeakKeyDictionary[object, tuple[InstrumentView, ...]] = WeakKeyDictionary()


def tools_view(bag: Toolbag) -> ToolsView:
    """The instruments of a bag as they are now."""
    if bag not in _catalogues:
        _catalogues[bag] = catalogue_of(bag.instruments.values(), bag.spots)
    return ToolsView(
        _catalogues[bag],
        tuple(_use(name, use) for name, use in bag.placed.items()),
        tuple(_reading(name, reading, bag.read_at[name]) for name, reading in bag.shown.items()),
        tuple((name, words) for name, each in bag.instruments.items() if (words := getattr(each, "state_words", ""))),
    )


def _use(name: str, use: Use) -> UseView:
    return UseView(name, use.function, use.at, use.against)


def _reading(name: str, reading: Reading, use: Use) -> ReadingView:
    unit = reading.now.unit
    least, most = (
        "" if each is None else joined(filter(None, [f"{each:.4g}", unit])) for each in (reading.least, reading.most)
    )
    return ReadingView(name, reading.now.text, use.function, use.at, use.against, least, most)


class Offers(Mapping[str, tuple[str, ...]]):
    """Names that may be given for a kind of place, or for what a repair is done to; looked up when asked for."""

    def __init__(self, keys: Iterable[str], names: Callable[[str], tuple[str, ...]]) -> None:
        self._keys = tuple(keys)
        self._names = names

    def __getitem__(self, key: str) -> tuple[str, ...]:
        if key not in self._keys:
            raise KeyError(key)
        return self._names(key)

    def __iter__(self) -> Iterator[str]:
        return iter(self._keys)

    def __len__(self) -> int:
        return len(self._keys)


def offers_of(world: World, bag: Toolbag) -> Offers:
    """What may be named on this gate."""

    def names(key: str) -> tuple[str, ...]:
        return targets(world, key) if key in VERBS else bag.places(key)  # type: ignore[arg-type]

    return Offers((*PLACE_KINDS, *VERBS), names)
