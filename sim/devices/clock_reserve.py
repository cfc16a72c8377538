"""What keeps the clock on the board going while the board has no power: a small capacitor behind a diode."""

from __future__ import annotations

import math
from typing import Final

FULL_V: Final = 3.0
"""While the board has power [V]; the controller's terminals say the same. CP, no source."""

TAU_S: Final = 640_000.0
"""Its time constant: the clock, which stops at 2.0 V, lives on it for three days [s]. CP, no source."""


def reserve_v(dark_s: float) -> float:
    """What is left after the board was without power for so long [s]: V·exp(−t/τ) [V]."""
    return FULL_V * math.exp(-dark_s / TAU_S)
