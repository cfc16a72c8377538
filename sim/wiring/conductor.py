"""Copper: resistance of a core by section, kind and temperature.

Values at 20 °C are the maximum direct-current resistances of plain copper in IEC 60228 (facts 5.1, S25).
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Final, Literal

Stranding = Literal["solid", "stranded"]
"""`solid`: class 1 (and 2). `stranded`: class 5 (and 6), flexible."""

OHM_PER_KM: Final = MappingProxyType(
    {
        "solid": MappingProxyType({0.5: 36.0, 0.75: 24.5, 1.0: 18.1, 1.5: 12.1, 2.5: 7.41, 4.0: 4.61, 6.0: 3.08}),
        "stranded": MappingProxyType({0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95, 6.0: 3.30}),
    }
)
"""Maximum resistance of one core at 20 °C [Ω/km] by section [mm²]. IEC 60228, facts 5.1."""

COPPER_PER_K: Final = 0.00393
"""Temperature coefficient of copper at 20 °C [1/K]. Facts 5.1, S44."""


def warmed(ohm_at_20: float, temperature_c: float) -> float:
    """Resistance of a copper conductor at a temperature [Ω]: R20·(1 + 0.00393·(θ − 20))."""
    return ohm_at_20 * (1.0 + COPPER_PER_K * (temperature_c - 20.0))


def core_ohm(length_m: float, section_mm2: float, conductor: Stranding, temperature_c: float) -> float:
    """Resistance of one core of a cable [Ω]; a loop there and back is twice this.

    Raises ValueError for a section that IEC 60228 doesn't list here.
    """
    table = OHM_PER_KM[conductor]
    if section_mm2 not in table:
        raise ValueError(f"no {conductor} core of {section_mm2:g} mm²; listed: {', '.join(f'{s:g}' for s in table)}")
    return warmed(table[section_mm2] * length_m / 1000.0, temperature_c)
