"""Every kind of action there is. Panels, command line and drills are made from these entries."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from sim.world.catalogue import (
    bodies,
    closing,
    controls,
    instruments,
    isolation,
    mechanics,
    repair,
    securing,
    sheet,
    survey,
    wiring,
)
from sim.world.kinds import Kind

_GROUPS: Final = (
    survey.ENTRIES,
    isolation.ENTRIES,
    mechanics.ENTRIES,
    securing.ENTRIES,
    sheet.ENTRIES,
    controls.ENTRIES,
    wiring.ENTRIES,
    repair.ENTRIES,
    bodies.ENTRIES,
    instruments.ENTRIES,
    closing.ENTRIES,
)

CATALOGUE: Final[Mapping[str, Kind]] = MappingProxyType({entry.name: entry for group in _GROUPS for entry in group})
"""Every kind of action there is, in the order of the work."""
