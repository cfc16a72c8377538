"""How the controller reads its guard inputs, and on which movement each guard acts.

The sheet says what is wired to each. A beam pair, contact edge or stop circuit is a loop: closed is clear, open is
tripped, and a broken wire looks the same. A resistor edge is a line of known resistance: pressed, broken and out of
band look different from clear, and from each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from functools import lru_cache
from typing import Final

from sim.controller.ports import CONTACT_THRESHOLD_V, EDGE_PULL_UP_OHM, EDGE_PULL_UP_V, GUARD_TERMINALS
from sim.controller.settings import BEAM_PAIR, CONTACT_EDGE, NOT_FITTED
from sim.controller.sheet import Sheet, word
from sim.said import said

EDGES: Final = (2, 3)
"""Indices of the safety edges."""

BEAM_INDICES: Final = (0, 1)
"""Indices of the beams, whose emitters hang on the switched supply."""

INPUTS: Final = ("outer beam input", "inner beam input", "active edge input", "inactive edge input")
"""The settings that say what is wired to each guard input; to the stop circuit's a stop is, and nothing else."""

STOP: Final = 4
"""Index of the stop circuit."""

PRESSED_OHM: Final = 5_000.0
"""An edge line below this is pressed [Ω]. Facts 2.2, common practice."""

BAND_OHM: Final = (7_380.0, 9_020.0)
"""An edge line is clear in this band [Ω]: 8.2 kΩ ± 10 %. Facts 2.2, common practice."""

BROKEN_OHM: Final = 100_000.0
"""An edge line above this is broken [Ω]. Common practice, no source."""


CLOSED_OHM: Final = 1_000.0
"""A contact edge's loop at an input for a resistor edge is closed below this [Ω]. Common practice, no source."""


CLOSED: Final = said("closed{of_a_contact}", of_a_contact="")
OPEN: Final = said("open{of_a_contact}", of_a_contact="")


class Reading(Enum):
    """What a guard input says."""

    CLEAR = "clear"
    TRIPPED = "tripped"
    BROKEN = "broken"
    OUT_OF_BAND = "out of band"


CLEAR: Final = Reading.CLEAR.value
"""The word for clear, as the memory keeps readings."""


def line_volts(ohm: float) -> float:
    """Input voltage [V] of an edge line of `ohm` [Ω] behind its pull-up: V·R / (R + pull-up), facts C62."""
    return EDGE_PULL_UP_V * ohm / (ohm + EDGE_PULL_UP_OHM)


def line_ohms(volts: float) -> float | None:
    """Resistance [Ω] of an edge line that reads `volts` [V]; None where the line is open."""
    if volts >= line_volts(BROKEN_OHM):
        return None
    return max(0.0, volts) * EDGE_PULL_UP_OHM / (EDGE_PULL_UP_V - volts)


_PRESSED_V = line_volts(PRESSED_OHM)
_BAND_V = (line_volts(BAND_OHM[0]), line_volts(BAND_OHM[1]))
_BROKEN_V = line_volts(BROKEN_OHM)
_CLOSED_V = line_volts(CLOSED_OHM)


def kind(sheet: Sheet, index: int) -> str:
    """What the sheet says is wired to guard input `index`."""
    return "stop" if index == STOP else word(sheet, INPUTS[index])


def edges(sheet: Sheet) -> list[int]:
    """Indices of the inputs to which a safety edge is wired: what tells of a contact."""
    return [index for index in range(STOP) if kind(sheet, index) != BEAM_PAIR]


def beams(sheet: Sheet) -> list[int]:
    """Indices of the inputs to which a beam pair is wired: what the guard test can try."""
    return [index for index in BEAM_INDICES if kind(sheet, index) == BEAM_PAIR]


def read(index: int, volts: float, wired: str = "") -> Reading:
    """What guard input `index` says at `volts` [V] with that wired to it; without a word, what its name says."""
    if index not in EDGES:
        return Reading.CLEAR if volts < CONTACT_THRESHOLD_V else Reading.TRIPPED
    if wired == CONTACT_EDGE:
        return Reading.CLEAR if volts < _CLOSED_V else Reading.TRIPPED
    if volts < _PRESSED_V:
        return Reading.TRIPPED
    if volts >= _BROKEN_V:
        return Reading.BROKEN
    return Reading.CLEAR if _BAND_V[0] <= volts <= _BAND_V[1] else Reading.OUT_OF_BAND


def read_all(sheet: Sheet, volts: Sequence[float]) -> list[str]:
    """What every guard input says, as words."""
    return list(_all_in_words(tuple(volts), kind(sheet, EDGES[0]), kind(sheet, EDGES[1])))


@lru_cache(maxsize=256)
def _all_in_words(volts: tuple[float, ...], active: str, inactive: str) -> tuple[str, ...]:
    wired = {EDGES[0]: active, EDGES[1]: inactive}
    return tuple(read(index, reading, wired.get(index, "")).value for index, reading in enumerate(volts))


def declared(sheet: Sheet, index: int) -> str:
    """What the sheet says guard `index` does, `not fitted` if it isn't there."""
    return word(sheet, GUARD_TERMINALS[index])


def acts(reaction: str, direction: int) -> bool:
    """Whether a guard with this reaction acts on a movement: +1 opening, −1 closing, 0 either way."""
    if reaction == NOT_FITTED:
        return False
    return reaction != "reopen" or direction <= 0


def not_clear(sheet: Sheet, readings: Sequence[str], direction: int) -> list[int]:
    """Declared guards that act on this movement and don't read clear.

    An edge line that is broken or out of band is a device that can't do its work: it acts both ways.
    """
    found = []
    for index, reading in enumerate(readings):
        if reading == CLEAR:
            continue
        reaction = declared(sheet, index)
        both_ways = reading != Reading.TRIPPED.value and reaction != NOT_FITTED
        if both_ways or acts(reaction, direction):
            found.append(index)
    return found


def stop_is_open(sheet: Sheet, readings: Sequence[str]) -> bool:
    """Whether the declared stop circuit reads open."""
    return readings[STOP] != CLEAR and declared(sheet, STOP) != NOT_FITTED


def in_words(sheet: Sheet, index: int, volts: float) -> str:
    """How the panel shows an input: what it reads and the value."""
    wired = kind(sheet, index)
    if index not in EDGES or wired == CONTACT_EDGE:
        is_closed = read(index, volts, wired) is Reading.CLEAR
        return said("closed ({volts:.1f} V)" if is_closed else "open ({volts:.1f} V)", volts=volts)
    ohms, reading = line_ohms(volts), _EDGE_WORDS[read(index, volts)]
    if ohms is None:
        return said("no resistance found, {reading}", reading=reading)
    return said("{ohms:.1f} kΩ, {reading}", ohms=ohms / 1000, reading=reading)


_EDGE_WORDS: Final = {
    Reading.CLEAR: said("clear"),
    Reading.TRIPPED: said("pressed"),
    Reading.BROKEN: said("line open"),
    Reading.OUT_OF_BAND: said("outside 7.4 to 9.0 kΩ"),
}


def short_words(index: int, reading: str) -> str:
    """How a log line names a reading."""
    if index in EDGES:
        return _EDGE_WORDS[Reading(reading)]
    return CLOSED if reading == Reading.CLEAR.value else OPEN
