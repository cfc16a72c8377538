"""Our own sine and cosine against the library's."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from sim.kernel.trigonometry import HALF_PI_HIGH, HALF_PI_LOW, sin_cos


@given(st.floats(-50.0, 50.0))
def test_agrees_with_the_library(angle: float) -> None:
    """Within 2e-15 of libm over many turns; a leaf needs ±2.3 rad."""
    sine, cosine = sin_cos(angle)
    assert abs(sine - math.sin(angle)) < 2e-15
    assert abs(cosine - math.cos(angle)) < 2e-15


def test_shut_is_exact() -> None:
    """A shut leaf has exactly sine 0 and cosine 1, so that it makes no force out of rounding."""
    assert sin_cos(0.0) == (0.0, 1.0)


def test_half_a_circle_is_split_exactly() -> None:
    """Both parts of π/2 add up to it, and the leading part leaves room for exact multiples."""
    assert math.pi / 2 == HALF_PI_HIGH + HALF_PI_LOW
    assert int(HALF_PI_HIGH * 2**32) == HALF_PI_HIGH * 2**32
