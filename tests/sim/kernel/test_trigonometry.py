"""Our own sine, cosine and direction against the library's."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sim.kernel.trigonometry import HALF_PI_HIGH, HALF_PI_LOW, direction, sin_cos


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


@settings(max_examples=600, derandomize=True)
@given(st.floats(-math.pi, math.pi), st.floats(1e-6, 10.0))
def test_direction_is_that_of_the_library(angle: float, length: float) -> None:
    """All the way round, at any length: within 1e-15 of libm's atan2."""
    y, x = length * math.sin(angle), length * math.cos(angle)
    assert abs(direction(y, x) - math.atan2(y, x)) < 1e-15


@settings(max_examples=300, derandomize=True)
@given(st.floats(-10.0, 10.0), st.floats(-10.0, 10.0))
def test_direction_of_any_point(y: float, x: float) -> None:
    """Also near the axes and for the smallest coordinates, within 1e-15; on the axis behind, either way round."""
    assume(math.hypot(x, y) > 1e-100)
    off = abs(direction(y, x) - math.atan2(y, x))
    assert min(off, abs(off - 2.0 * math.pi)) < 1e-15


@pytest.mark.parametrize(
    ("y", "x", "turn"), [(0.0, 1.0, 0.0), (1.0, 0.0, 0.5), (-1.0, 0.0, -0.5), (1.0, 1.0, 0.25), (1.0, -1.0, 0.75)]
)
def test_direction_of_the_quarters(y: float, x: float, turn: float) -> None:
    """Eighths of a circle are what they are, within 1e-15; straight ahead is exactly 0."""
    assert direction(y, x) == pytest.approx(turn * math.pi, abs=1e-15)
    assert direction(0.0, 3.0) == 0.0
