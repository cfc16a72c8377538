"""What changes by chance while time passes: gusts, and the wander of a noisy encoder. Straight between knots."""

from __future__ import annotations

from sim.kernel.layout import FIRST_KNOT, KNOT_US, KNOTS, TIME, Floats, Whole


def between_knots(knots: Floats, whole: Whole, stream: int) -> float:
    """The value of one stream at the state's instant."""
    time = whole[TIME]
    place = stream * KNOTS + time // KNOT_US - whole[FIRST_KNOT]
    part = (time % KNOT_US) / KNOT_US
    return float(knots[place] + part * (knots[place + 1] - knots[place]))


COMPILED = (between_knots,)
