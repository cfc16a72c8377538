"""Every property there is, in the order they are printed; one file a subject."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from sim.bench.proof.catalogue import (
    closing,
    contract,
    force,
    guards,
    motion,
    power,
    radio,
    record_keeping,
    reversing,
    sameness,
    starting,
)
from sim.bench.proof.catalogue.either_end import at_either_end
from sim.bench.proof.entry import Property

_EACH: Final[tuple[Property, ...]] = (
    *contract.ENTRIES,
    *guards.ENTRIES,
    *reversing.ENTRIES,
    *force.ENTRIES,
    *motion.ENTRIES,
    *starting.ENTRIES,
    *closing.ENTRIES,
    *power.ENTRIES,
    *radio.ENTRIES,
    *record_keeping.ENTRIES,
    *sameness.ENTRIES,
)

_ALL: Final = (*_EACH, at_either_end(_EACH))

CATALOGUE: Final[Mapping[str, Property]] = MappingProxyType({each.name: each for each in _ALL})
"""Property by name."""
