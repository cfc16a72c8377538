"""States a drive is found in that are no facts of the site: a release that somebody left open, a motor still hot."""

from __future__ import annotations

from dataclasses import dataclass

from sim.errors import Refused
from sim.faults.edit import FactKey, Ground
from sim.said import said
from sim.units import LEAVES, LeafName
from sim.wiring.netlist import Undo


@dataclass(frozen=True, slots=True)
class Released:
    """The manual release of a drive was left open."""

    leaf: LeafName

    def apply(self, ground: Ground, share: float) -> Undo:
        """Unlock it, whatever the share."""
        leaf, plant = _index(ground, self.leaf), ground.plant
        if not plant.engaged(leaf):
            raise Refused(said("the {leaf} leaf's release is open already", leaf=self.leaf))
        return plant.found_released(leaf)

    def facts(self) -> tuple[FactKey, ...]:
        """Where its lever stands."""
        return (("drive", f"{self.leaf} release", "engaged"),)


@dataclass(frozen=True, slots=True)
class Hot:
    """A motor has run too long and too often before anybody came."""

    leaf: LeafName
    mild_c: float
    grave_c: float
    case_share: float = 0.7
    """How far the case is between the air and the winding."""

    def apply(self, ground: Ground, share: float) -> Undo:
        """Find it as warm as that."""
        leaf = _index(ground, self.leaf)
        air_c = ground.site.weather.temperature_c
        winding_c = self.mild_c + (self.grave_c - self.mild_c) * share
        return ground.plant.found_warm(leaf, winding_c, air_c + self.case_share * (winding_c - air_c))

    def facts(self) -> tuple[FactKey, ...]:
        """How warm it is."""
        return (("drive", f"{self.leaf} motor", "warmth"),)


def _index(ground: Ground, leaf: LeafName) -> int:
    """Where a leaf stands in every array. Raises Refused where no such leaf hangs."""
    if leaf not in ground.site.leaves.fitted:
        raise Refused(said("there is no {leaf} leaf on this site", leaf=leaf))
    return LEAVES.index(leaf)
