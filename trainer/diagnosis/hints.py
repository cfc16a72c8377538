"""Hints in rising strength: what is known to be good, which part of the system, which place, which measurement.

None names a cause. What each costs is stated here, from 1.3 of practice; the answer itself is not for sale.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from sim.bench.fault_seen import CYCLED, EYES, RADIO, SHEET, TRIPPED
from sim.bench.fault_sweep import ISOLATED, UNPLUGGED, Column
from sim.faults.catalogue import FAULTS
from sim.faults.entry import Family
from sim.said import said
from sim.units import LEAVES
from trainer.diagnosis.priors import NOTHING
from trainer.diagnosis.site_table import parts_of
from trainer.diagnosis.table import Probabilities

COSTS: Final[Mapping[int, float]] = MappingProxyType({1: 0.02, 2: 0.04, 3: 0.08, 4: 0.20})
"""Share of all points that a hint of each strength costs. Practice 1.3."""

STRONGEST: Final = 4

LITTLE_BIT: Final = 0.05
"""A measurement that is expected to tell less is redundant [bit]. Practice 1.2 (F3)."""

SIDES: Final[Mapping[Family, str]] = MappingProxyType(
    {
        "supply and wiring": said("the supply and the wiring"),
        "motor and drive": said("the drives and the leaves"),
        "mechanics": said("the drives and the leaves"),
        "surroundings": said("the drives and the leaves"),
        "guards": said("the guards and what asks for the gate"),
        "access and radio": said("the guards and what asks for the gate"),
        "settings": said("the board and its sheet"),
        "commissioning": said("the board and its sheet"),
    }
)
"""Which part of the system a family of faults belongs to."""

READY: Final = MappingProxyType(
    {
        ISOLATED: said("with both sources off and proved dead"),
        UNPLUGGED: said("with both sources off, proved dead and the plugs pulled"),
    }
)


def side(causes: Sequence[str], belief: Probabilities) -> str:
    """The part of the system in which most of what still fits lies; empty where no fault fits best of all."""
    shares: dict[str, float] = {}
    for name, share in zip(causes, belief, strict=True):
        for part in parts_of(name):
            where = SIDES[FAULTS[part].family]
            shares[where] = shares.get(where, 0.0) + float(share)
    nothing = float(belief[list(causes).index(NOTHING)])
    most = max(shares, key=lambda each: shares[each], default="")
    return most if most and shares[most] > nothing else ""


def good(read: int) -> str:
    """The first hint: a question."""
    if read == 0:
        return said(
            "What do you know is still good? Nothing was tried or measured yet. Ask it to open, watch each leaf, and "
            "read what the panel says."
        )
    return said(
        "What do you know is still good? Go through what you read and saw ({count} so far), say of each what it "
        "rules out, and look only at what is left.",
        count=read,
    )


def which_side(where: str) -> str:
    """The second hint: which part of the system."""
    if not where:
        return said("What was found so far fits a sound gate best. Is what the customer tells a fault at all?")
    return said("Most of what still fits what you found lies with {where}.", where=where)


def which_place(column: Column) -> str:
    """The third hint: where to look next."""
    state, instrument, function, at, _ = column
    if instrument == EYES and state == CYCLED:
        return said("Ask the gate to move once more, and watch.")
    if function == SHEET:
        return said("Look at the sheet.")
    if function == RADIO:
        return said("Look at the transmitters.")
    return (
        said("Look next at: {place}.", place=_named(at)) if at else said("Look next with: {tool}.", tool=instrument)
    )


def enough() -> str:
    """In place of a measurement where none tells much more."""
    return said("What was found already leaves little to measure. Go through it once more, and conclude.")


def _named(place: str) -> str:
    """A place as one says it: a leaf's name alone is none."""
    return said("the {leaf} leaf", leaf=place) if place in LEAVES else place


def at_place(at: str, against: str) -> str:
    """Where somebody measures; empty where nowhere in particular."""
    return said("{at} and {against}", at=at, against=against) if against else _named(at)


def which_measurement(column: Column) -> str:
    """The fourth hint: what to measure next."""
    state, instrument, function, at, against = column
    if instrument == EYES:
        return _by_eye(column)
    place = at_place(at, against)
    ready = READY.get(state)
    if ready:
        return said(
            "Next, {ready}: {instrument}, {function}, {place}.",
            ready=ready,
            instrument=instrument,
            function=function,
            place=place,
        )
    if state == CYCLED:
        return said(
            "Next, through an opening and a closing: {instrument}, {function}, {place}.",
            instrument=instrument,
            function=function,
            place=place or said("nothing in particular"),
        )
    return said(
        "Next: {instrument}, {function}, {place}.",
        instrument=instrument,
        function=function,
        place=place or said("nothing in particular"),
    )


def _by_eye(column: Column) -> str:
    _, _, function, at, _ = column
    if function == SHEET:
        return said("Next: read on the sheet what stands for {setting}.", setting=at)
    if function == TRIPPED:
        return said("Next: trip the {guard} by hand while the gate rests, and read its line on the panel.", guard=at)
    if function == RADIO:
        return said("Next: press the {transmitter} close by, and see whether the gate answers.", transmitter=at)
    if function == "opening":
        return said("Next: ask the shut gate to open; watch both leaves and the panel.")
    return said("Next: ask the open gate to close; watch both leaves and the panel.")
