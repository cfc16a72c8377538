"""What each action does to the world: one entry per action of the catalogue, one file per group."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from sim.world.effects import (
    access,
    bodies,
    controls,
    instruments,
    isolation,
    mechanics,
    record,
    repair,
    securing,
    sheet,
    timing,
    wiring,
)
from sim.world.effects.effect import Effect

EFFECTS: Final[Mapping[str, Effect]] = MappingProxyType(
    {
        **isolation.EFFECTS,
        **mechanics.EFFECTS,
        **securing.EFFECTS,
        **sheet.EFFECTS,
        **controls.EFFECTS,
        **access.EFFECTS,
        **wiring.EFFECTS,
        **bodies.EFFECTS,
        **instruments.EFFECTS,
        **record.EFFECTS,
        **repair.EFFECTS,
        **timing.EFFECTS,
    }
)
"""Action kind: its effect. A test proves that the catalogue and this table name the same kinds."""

__all__ = ["EFFECTS", "Effect"]
