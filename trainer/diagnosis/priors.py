"""How usual each cause is, before anything was read: a stated table, for whole families and for single faults.

Rates are relative to each other. They are common practice, no source: what is called out most are guards that got
dirty or out of line, joints and cables, worn drives; what nobody touched seldom changes by itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

import numpy as np

from sim.faults.entry import Family
from trainer.diagnosis.table import Probabilities

NOTHING: Final = "no fault"
"""The cause that there is none: a gate as it should be, or a customer who took something for a fault."""

RATE_OF_NOTHING: Final = 0.125
"""Share of calls at which nothing is wrong. Practice 1.3: one in eight."""

RATES: Final[Mapping[Family, float]] = MappingProxyType(
    {
        "guards": 4.0,
        "supply and wiring": 3.0,
        "mechanics": 3.0,
        "motor and drive": 2.0,
        "settings": 2.0,
        "access and radio": 2.0,
        "surroundings": 2.0,
        "commissioning": 1.0,
    }
)
"""How usual one fault of a family is against one of another. Common practice, no source."""


def prior(causes: Iterable[str], families: Mapping[str, Family]) -> Probabilities:
    """Belief before anything was read; adds up to 1. `families`: of every cause but `NOTHING`.

    Raises KeyError for a cause that has no family.
    """
    names = list(causes)
    rates = np.array([0.0 if name == NOTHING else RATES[families[name]] for name in names])
    if NOTHING not in names:
        alone: Probabilities = rates / rates.sum()
        return alone
    share = RATE_OF_NOTHING if rates.sum() > 0.0 else 1.0
    spread = (1.0 - share) * rates / max(rates.sum(), 1e-300)
    spread[names.index(NOTHING)] = share
    answer: Probabilities = spread
    return answer
