"""Sine, cosine and direction from our own polynomials: the same bits on every machine, compiled or not."""

from __future__ import annotations

import math
from typing import Final

TWO_OVER_PI: Final = 0.6366197723675814
HALF_PI_HIGH: Final = 1.5707963267341256
"""The leading 33 bits of π/2, so that small multiples of it are exact."""
HALF_PI_LOW: Final = 6.077100506506192e-11
"""The rest of π/2."""

QUARTER_PI: Final = 0.7853981633974483

# Taylor's coefficients; on ±π/4 the first term left out is below 5e-17.
_S3, _S5, _S7 = -1.0 / 6.0, 1.0 / 120.0, -1.0 / 5040.0
_S9, _S11, _S13, _S15 = 1.0 / 362880.0, -1.0 / 39916800.0, 1.0 / 6227020800.0, -1.0 / 1307674368000.0
_C2, _C4, _C6, _C8 = -0.5, 1.0 / 24.0, -1.0 / 720.0, 1.0 / 40320.0
_C10, _C12, _C14, _C16 = -1.0 / 3628800.0, 1.0 / 479001600.0, -1.0 / 87178291200.0, 1.0 / 20922789888000.0
HALF_PI: Final = HALF_PI_HIGH + HALF_PI_LOW
_A3, _A5, _A7, _A9 = -1.0 / 3.0, 1.0 / 5.0, -1.0 / 7.0, 1.0 / 9.0
_A11, _A13, _A15 = -1.0 / 11.0, 1.0 / 13.0, -1.0 / 15.0


def sin_cos(x: float) -> tuple[float, float]:
    """Sine and cosine of `x` [rad], good to 1e-15 for leaf angles (|x| below a thousand turns)."""
    if -QUARTER_PI < x < QUARTER_PI:  # the two usual cases of a leaf first: nothing waits for a quotient
        quarter, y = 0, x
    elif QUARTER_PI <= x < 3.0 * QUARTER_PI:
        quarter, y = 1, (x - HALF_PI_HIGH) - HALF_PI_LOW
    else:
        quarter = math.floor(x * TWO_OVER_PI + 0.5)
        y = (x - quarter * HALF_PI_HIGH) - quarter * HALF_PI_LOW
    z = y * y
    w = z * z
    v = w * w
    # in pairs, for a shorter chain: a step waits for these before anything else
    s = (_S3 + z * _S5) + w * (_S7 + z * _S9) + v * ((_S11 + z * _S13) + w * _S15)
    s = y + (y * z) * s
    c = (_C2 + z * _C4) + w * (_C6 + z * _C8) + v * ((_C10 + z * _C12) + w * (_C14 + z * _C16))
    c = 1.0 + z * c
    turn = quarter & 3
    if turn == 0:
        return s, c
    if turn == 1:
        return c, -s
    if turn == 2:
        return -s, -c
    return -c, s


def direction(y: float, x: float) -> float:
    """Angle of the vector (x, y) from x [rad], over −π to π, good to 1e-15; 0 for no vector at all.

    Four halvings of the angle bring its tangent below 0.1; there arctan is its own series, whose first term left
    out is below 1e-18.
    """
    length = math.sqrt(x * x + y * y)
    if length == 0.0:
        return 0.0
    turn = 0.0
    if x < 0.0:  # a quarter turn towards x, so that the halving below never divides by nothing
        if y < 0.0:
            x, y, turn = -y, x, -HALF_PI
        else:
            x, y, turn = y, -x, HALF_PI
    tangent = y / (length + x)
    tangent = tangent / (1.0 + math.sqrt(1.0 + tangent * tangent))
    tangent = tangent / (1.0 + math.sqrt(1.0 + tangent * tangent))
    tangent = tangent / (1.0 + math.sqrt(1.0 + tangent * tangent))
    z = tangent * tangent
    series = _A13 + z * _A15
    series = _A3 + z * (_A5 + z * (_A7 + z * (_A9 + z * (_A11 + z * series))))
    return turn + 16.0 * (tangent + tangent * z * series)


COMPILED = (sin_cos, direction)

HOT = (sin_cos,)
"""What every step goes through."""
