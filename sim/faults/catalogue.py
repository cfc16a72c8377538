"""Every fault there is, by its name in words."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from sim.errors import DataError, nearest_right
from sim.faults.entries.access import ACCESS
from sim.faults.entries.beams import BEAMS
from sim.faults.entries.cabinet import CABINET
from sim.faults.entries.edges import EDGES
from sim.faults.entries.mechanics import MECHANICS
from sim.faults.entries.mechanics_drive import DRIVE_MECHANICS
from sim.faults.entries.motors import MOTORS
from sim.faults.entries.power import POWER
from sim.faults.entries.radio import RADIO
from sim.faults.entries.sensing import SENSING
from sim.faults.entries.settings import SETTINGS
from sim.faults.entries.supply import SUPPLY
from sim.faults.entries.surroundings import SURROUNDINGS
from sim.faults.entries.trains import TRAINS
from sim.faults.entries.wiring import WIRING
from sim.faults.entry import Fault

_FAMILIES: Final[tuple[tuple[Fault, ...], ...]] = (
    SUPPLY,
    WIRING,
    BEAMS,
    EDGES,
    ACCESS,
    RADIO,
    CABINET,
    MECHANICS,
    DRIVE_MECHANICS,
    SETTINGS,
    SURROUNDINGS,
    POWER,
    MOTORS,
    TRAINS,
    SENSING,
)

FAULTS: Final[Mapping[str, Fault]] = MappingProxyType({each.name: each for family in _FAMILIES for each in family})
"""Every fault, in the order of the families."""


def named(name: str) -> Fault:
    """A fault by its name. Raises DataError naming the nearest right one."""
    if name not in FAULTS:
        raise DataError(f"there is no fault '{name}'{nearest_right(name, FAULTS)}")
    return FAULTS[name]
