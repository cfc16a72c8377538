"""Sine and cosine from our own polynomials: the same bits on every machine, compiled or not."""

from __future__ import annotations

import math
from typing import Final

TWO_OVER_PI: Final = 0.6366197723675814
HALF_PI_HIGH: Final = 1.5707963267341256
"""The leading 33 bits of π/2, so that small multiples of it are exact."""
HALF_PI_LOW: Final = 6.077100506506192e-11
"""The rest of π/2."""

# Taylor's coefficients; on ±π/4 the first term left out is below 5e-17.
_S3, _S5, _S7 = -1.0 / 6.0, 1.0 / 120.0, -1.0 / 5040.0
_S9, _S11, _S13, _S15 = 1.0 / 362880.0, -1.0 / 39916800.0, 1.0 / 6227020800.0, -1.0 / 1307674368000.0
_C2, _C4, _C6, _C8 = -0.5, 1.0 / 24.0, -1.0 / 720.0, 1.0 / 40320.0
_C10, _C12, _C14, _C16 = -1.0 / 3628800.0, 1.0 / 479001600.0, -1.0 / 87178291200.0, 1.0 / 20922789888000.0


def sin_cos(x: float) -> tuple[float, float]:
    """Sine and cosine of `x` [rad], good to 1e-15 for leaf angles (|x| below a thousand turns)."""
    quarter = math.floor(x * TWO_OVER_PI + 0.5)
    y = (x - quarter * HALF_PI_HIGH) - quarter * HALF_PI_LOW
    z = y * y
    s = y + y * z * (_S3 + z * (_S5 + z * (_S7 + z * (_S9 + z * (_S11 + z * (_S13 + z * _S15))))))
    c = 1.0 + z * (_C2 + z * (_C4 + z * (_C6 + z * (_C8 + z * (_C10 + z * (_C12 + z * (_C14 + z * _C16)))))))
    turn = quarter & 3
    if turn == 0:
        return s, c
    if turn == 1:
        return c, -s
    if turn == 2:
        return -s, -c
    return -c, s


COMPILED = (sin_cos,)
