"""Gusts: functions of their number alone, with the statistics that were asked for."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.mechanics import gust

MANY: Final = 24_000
"""Knots in 100 minutes: at T = 3 s about a thousand independent gusts, so that a mean is known to 0.03."""

TIMES: Final = (1.0, 2.0, 3.0)
"""Correlation times [s] (facts 4: 1 to 3 s, common practice)."""


@pytest.fixture(scope="module", params=TIMES)
def long_run(request: pytest.FixtureRequest) -> tuple[float, np.ndarray]:
    """A correlation time and many knots of one seed."""
    time = float(request.param)
    return time, gust.knots(7, time, 0, MANY)


@settings(max_examples=40, deadline=None)
@given(
    st.integers(0, 2**40),
    st.floats(0.2, 4.0),
    st.integers(-50, 10**9),
    st.integers(0, 40),
    st.integers(0, 40),
)
def test_a_knot_does_not_know_its_window(seed: int, time: float, first: int, before: int, count: int) -> None:
    """The same knots asked in a longer window, or one by one, have the same bits."""
    wide = gust.knots(seed, time, first - before, before + count + 5)
    assert gust.knots(seed, time, first, count).tobytes() == wide[before : before + count].tobytes()
    assert gust.knots(seed, time, first + count, 1)[0] == wide[before + count]


def test_mean_and_deviation(long_run: tuple[float, np.ndarray]) -> None:
    """Mean 0 and standard deviation 1, within four standard errors of a sample this long (Gaussian theory).

    The mean of N knots of correlation time T errs by √(2·T/(N·Δ)), their variance by √(2·T/(N·Δ)) too.
    """
    time, values = long_run
    error = math.sqrt(2.0 * time / (MANY * gust.KNOT_S))
    assert abs(values.mean()) < 4.0 * error
    assert abs(values.var() - 1.0) < 4.0 * error


def test_autocorrelation_of_a_long_run(long_run: tuple[float, np.ndarray]) -> None:
    """Knots k apart agree as exp(−0.25·k/T), for lags up to four correlation times, within four standard errors."""
    time, values = long_run
    error = math.sqrt(2.0 * time / (MANY * gust.KNOT_S))
    for lag in range(1, math.ceil(4.0 * time / gust.KNOT_S)):
        found = float(np.mean(values[:-lag] * values[lag:]))
        assert found == pytest.approx(math.exp(-lag * gust.KNOT_S / time), abs=4.0 * error), f"{lag} knots apart"


@pytest.mark.parametrize("time", [0.25, *TIMES, 10.0])
def test_autocorrelation_of_the_weights(time: float) -> None:
    """Of a moving average it is the sum of products of weights (textbook): exp(−0.25·k/T), variance 1.

    Weights that end after 8 correlation times miss that by at most exp(−8), at the last lag (geometric series).
    """
    fading = gust.weights(time)
    assert np.sum(fading * fading) == pytest.approx(1.0, rel=1e-12)
    for lag in range(1, fading.size):
        product = float(np.sum(fading[:-lag] * fading[lag:]))
        assert product == pytest.approx(math.exp(-lag * gust.KNOT_S / time), abs=math.exp(-8.0))
    assert fading.size <= math.ceil(8.0 * time / gust.KNOT_S)


def test_seeds_blow_differently() -> None:
    """Two seeds share nothing: their correlation over ten minutes is within four standard errors of 0."""
    one, other = gust.knots(1, 1.0, 0, 2400), gust.knots(2, 1.0, 0, 2400)
    assert abs(float(np.mean(one * other))) < 4.0 * math.sqrt(1.0 / 600.0)


def test_about_as_many_gusts_above_a_level_as_normal_numbers() -> None:
    """2.3 % of the time is spent above two deviations (normal distribution), within 0.8 % in 100 minutes."""
    values = gust.knots(11, 1.0, 0, MANY)
    assert float(np.mean(values > 2.0)) == pytest.approx(0.0228, abs=0.008)


def test_what_is_no_gust_is_refused() -> None:
    """No correlation time, an endless one, or fewer than no knots."""
    for time in (0.0, -1.0, 61.0, math.nan):
        with pytest.raises(ValueError, match="correlation time"):
            gust.knots(1, time, 0, 1)
    with pytest.raises(ValueError, match="-1 knots were asked for"):
        gust.knots(1, 1.0, 0, -1)
    assert gust.knots(1, 1.0, 0, 0).size == 0
