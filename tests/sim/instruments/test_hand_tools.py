"""Spring scale and stopwatch."""

from __future__ import annotations

import pytest

from sim.errors import Refused
from sim.instruments import spring_scale, stopwatch


def test_the_scale_shows_the_pull() -> None:
    """To its 2 N step and a hand's unevenness, whichever way it is pulled; 200 readings average out to the truth."""
    values = [spring_scale.read(-87.0, seed=1, index=i).value for i in range(200)]
    assert all(value is not None and value % 2 == 0 and abs(value - 87.0) <= 10.0 for value in values)
    assert sum(v for v in values if v is not None) / 200 == pytest.approx(87.0, abs=0.5)


def test_the_scale_ends_somewhere() -> None:
    """Beyond its range it shows no figure; at nothing it shows nothing below nothing."""
    assert spring_scale.read(400.0, seed=1, index=0).flags == ("over range",)
    assert all((spring_scale.read(0.0, seed=1, index=i).value or 0.0) >= 0.0 for i in range(50))


def test_the_stopwatch_shows_the_time_and_the_thumb() -> None:
    """To a hundredth, with the thumbs' 0.05 s each: 200 readings of 18.6 s spread by 0.07 s and average to it."""
    values = [stopwatch.read(0, 18_600_000, seed=1, index=i).value or 0.0 for i in range(200)]
    mean = sum(values) / 200
    spread = (sum((v - mean) ** 2 for v in values) / 199) ** 0.5
    assert mean == pytest.approx(18.6, abs=0.02)
    assert spread == pytest.approx(0.0707, rel=0.2)
    assert stopwatch.read(0, 18_600_000, seed=1, index=3) == stopwatch.read(0, 18_600_000, seed=1, index=3)


def test_time_does_not_run_backwards() -> None:
    """A stop before the start is refused."""
    with pytest.raises(Refused, match="2 s before it was started"):
        stopwatch.read(3_000_000, 1_000_000, seed=1, index=0)
