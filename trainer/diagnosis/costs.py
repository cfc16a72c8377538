"""What a measurement costs: a stated table of minutes. Common practice without a source, but where 1.3 of practice is
named."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from sim.bench.fault_seen import CYCLED, EYES, LIVE, SHEET
from sim.bench.fault_sweep import ISOLATED, UNPLUGGED, Column

HAND_MIN: Final[Mapping[str, float]] = MappingProxyType(
    {
        EYES: 0.5,  # practice 1.3: operate
        "look": 0.3,  # practice 1.3: a glance
        "service panel": 0.3,
        "stopwatch": 0.5,
        "multimeter": 1.0,  # practice 1.3: a voltage
        "thermal view": 0.5,
        "oscilloscope": 2.5,
        "dial gauge": 2.0,
        "level": 1.5,
        "straight edge": 1.5,
        "light meter": 0.5,
        "anemometer": 0.5,
    }
)
"""Minutes with an instrument at one place, whatever was done to get there."""

GLANCE_MIN: Final = 0.3
"""A look at one line of the sheet. Practice 1.3: a glance."""

OTHERWISE_MIN: Final = 1.0
"""Minutes with any other."""

REACHED_MIN: Final[Mapping[str, Mapping[str, float]]] = MappingProxyType(
    {
        LIVE: MappingProxyType({LIVE: 0.0, CYCLED: 1.0, ISOLATED: 2.0, UNPLUGGED: 4.0}),
        ISOLATED: MappingProxyType({LIVE: 1.0, CYCLED: 2.0, ISOLATED: 0.0, UNPLUGGED: 2.0}),
        UNPLUGGED: MappingProxyType({LIVE: 2.0, CYCLED: 3.0, ISOLATED: 0.0, UNPLUGGED: 0.0}),
    }
)
"""Minutes from the state a gate is in to the one that a measurement wants: an instrument in place through a cycle;
both sources off and proved dead (practice 1.3: 3 with the reading); the plugs pulled as well; and back again."""


def minutes(column: Column, state: str = LIVE) -> float:
    """What a measurement costs [min], greater than 0, for somebody before a gate in a state."""
    wanted, instrument = column[:2]
    if instrument == EYES and wanted == CYCLED:
        wanted = LIVE  # the time of the movement itself is the hand's
    hand = GLANCE_MIN if column[2] == SHEET else HAND_MIN.get(instrument, OTHERWISE_MIN)
    return hand + REACHED_MIN[state][wanted]
