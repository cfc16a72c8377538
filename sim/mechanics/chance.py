"""The knots of gusts and noisy encoders that an advance needs: drawn when they come near, whatever is simulated."""

from __future__ import annotations

from typing import Final

import numpy as np
import numpy.typing as npt

from sim.kernel import layout as at
from sim.mechanics import gust
from sim.units import LEAVES

COUNTING_S: Final = 0.25
"""How long a noisy encoder's wander hangs together [s]. Engineering value, no source."""


class Chance:
    """A window of knots for the kernel. Every knot is a function of the seed, its stream and its index."""

    def __init__(self, seed: int, gust_s: float) -> None:
        self.knots = np.zeros(at.STREAMS * at.KNOTS, dtype=np.float64)
        self._seed = seed
        self._gust_s = gust_s
        self._first = -1
        self._wanted: tuple[bool, ...] = ()

    def cover(self, whole: npt.NDArray[np.int64], wanted: tuple[bool, ...], end: int) -> int:
        """See that the knots from now on are there, for the streams wanted; returns how far [µs] they reach, `end`
        at most."""
        now = int(whole[at.TIME]) // at.KNOT_US
        if wanted != self._wanted or not 0 <= self._first <= now < self._first + at.KNOTS - 2:
            self._first, self._wanted = now, wanted
            for stream in range(at.STREAMS):
                first = stream * at.KNOTS
                self.knots[first : first + at.KNOTS] = self._stream(stream, now) if wanted[stream] else 0.0
        whole[at.FIRST_KNOT] = self._first
        return min(end, (self._first + at.KNOTS - 1) * at.KNOT_US)

    def _stream(self, stream: int, first: int) -> npt.NDArray[np.float64]:
        if stream == at.GUST_STREAM:
            return gust.knots(self._seed, self._gust_s, first, at.KNOTS)
        name = f"{LEAVES[stream - at.ENCODER_STREAM]} encoder"
        return gust.knots(self._seed, COUNTING_S, first, at.KNOTS, name, "wander")
