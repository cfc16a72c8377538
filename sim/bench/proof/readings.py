"""How a bystander reads a guard's terminal: by the levels `sim.controller.ports` states, not by our controller."""

from __future__ import annotations

from typing import Final

from sim.controller.ports import CONTACT_THRESHOLD_V, EDGE_PULL_UP_OHM, EDGE_PULL_UP_V

CLEAR_OHM: Final = (7_380.0, 9_020.0)
"""An edge line is clear in this band [Ω]: 8.2 kΩ ± 10 %. Facts 2.2, common practice."""


def edge_ohm(volts: float) -> float:
    """Resistance of an edge line whose input reads so many volts [Ω]; infinite for an open one."""
    return float("inf") if volts >= EDGE_PULL_UP_V else max(0.0, volts) * EDGE_PULL_UP_OHM / (EDGE_PULL_UP_V - volts)


def reads_clear(guard: str, volts: float) -> bool:
    """Whether a guard's terminal reads clear."""
    if guard.endswith("edge"):
        return CLEAR_OHM[0] <= edge_ohm(volts) <= CLEAR_OHM[1]
    return volts < CONTACT_THRESHOLD_V
