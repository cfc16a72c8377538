"""Gusts: how the wind wanders about its mean, as values on a fixed grid of instants that only the seed decides.

A moving average: the value of a knot is the sum of the independent draws up to it, each with a weight that fades
with age as exp(−age/T). That gives a gust a correlation time T, mean 0 and standard deviation 1. Since no value
rests on the one before, a stretch of time can be left out, or gone through twice, and every knot stays what it was.
The wind at a knot is mean·(1 + Iv·value), Iv the intensity; between knots it is drawn straight, which lowers the
deviation half-way between two knots by √((1 + exp(−0.25/T))/2): 6 % at 1 s, 2 % at 3 s.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import numpy.typing as npt

from sim import draws

KNOT_S: Final = 0.25
"""From knot to knot [s]; knot n stands at n times this."""

SPREAD: Final = math.sqrt(12.0)
"""Brings a number evenly drawn from a range of 1 to deviation 1; dozens of them added up are nearly normal."""

REACH: Final = 8.0
"""How many correlation times back a draw still counts: what is left out is exp(−16) of the variance."""

Floats = npt.NDArray[np.float64]


def weights(time_constant_s: float) -> Floats:
    """Weight of the draw at a knot, of the one before it and so on; their squares add up to 1.

    The correlation time is 1 to 3 s near the ground (common practice, no source). Raises ValueError unless it is
    above 0 and at most a minute.
    """
    if not 0.0 < time_constant_s <= 60.0:
        raise ValueError(f"a gust's correlation time must lie above 0 and up to 60 s, not {time_constant_s!r}")
    count = max(1, math.ceil(REACH * time_constant_s / KNOT_S))
    raw = [math.exp(-KNOT_S * age / time_constant_s) for age in range(count)]
    whole = math.sqrt(math.fsum(each * each for each in raw))
    return np.array([each / whole for each in raw])


def knots(
    seed: int, time_constant_s: float, first: int, count: int, name: str = "wind", purpose: str = "gust"
) -> Floats:
    """Values of the knots from `first` on [-]: mean 0, standard deviation 1, never beyond ±√3 times the root of
    the number of weights.

    Each is a function of the seed, the correlation time and its own number, to the bit, whatever window it is asked
    in. A draw is made once in a call. `name` and `purpose` are for other things that wander alike. Raises ValueError
    for a negative count.
    """
    if count < 0:
        raise ValueError(f"{count} knots were asked for; allowed: 0 or more")
    fading = weights(time_constant_s)
    back = fading.size - 1
    drawn = SPREAD * (np.array(draws.row(seed, name, purpose, first - back, back + count)) - 0.5)
    total = np.zeros(count)
    # age by age and not as one product: every knot is then summed in the same order, in any window
    for age in range(fading.size):
        total += fading[age] * drawn[back - age : back - age + count]
    return total
