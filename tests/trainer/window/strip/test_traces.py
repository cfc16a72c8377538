"""Recorded channels as lines of pixels: no peak is lost, level stretches cost two points."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.window.strip.traces import polyline, value_at

PLACE, SPAN = (100.0, 0.0), (0.0, 1.0)


@settings(deadline=None)
@given(peak=st.integers(0, 19_999), width=st.integers(50, 400), level=st.floats(0.2, 1.0))
def test_a_peak_of_one_sample_is_drawn_however_much_is_in_sight(peak, width, level) -> None:
    """Twenty thousand samples on a few columns: a single high one still reaches its height."""
    time = np.arange(20_000) / 100
    values = np.zeros(20_000)
    values[peak] = level
    points = polyline(time, values, 0.0, 200.0 / width, width, PLACE, SPAN)
    assert abs(min(y for _x, y in points) - 100 * (1 - level)) <= 0.06
    at = min(points, key=lambda point: point[1])[0]
    assert abs(at - peak / 100 * width / 200.0) <= 1.0
    assert len(points) <= 2 * width + 4


@given(values=st.lists(st.floats(0, 1), min_size=1, max_size=300), start=st.floats(0, 3))
def test_lines_stay_in_their_place_and_go_from_left_to_right(values, start) -> None:
    """Whatever was recorded, x grows and both stay inside."""
    points = polyline(np.arange(len(values)) / 10, values, start, 0.05, 120, PLACE, SPAN)
    assert all(0 <= x <= 120 and 0 <= y <= 100 for x, y in points)
    xs = [x for x, _y in points]
    assert xs == sorted(xs)


def test_a_level_stretch_is_two_points() -> None:
    """A minute of rest is a line from its beginning to its end."""
    points = polyline(np.arange(600) / 10, np.full(600, 0.5), 0.0, 0.1, 600, PLACE, SPAN)
    assert points == [(0.0, 50.0), (599.0, 50.0)]


def test_what_is_on_or_off_holds_until_the_next_sample() -> None:
    """Rest is recorded as its ends: a command at the end of it must not look like a ramp."""
    points = polyline([0.0, 5.0, 5.1], [0.0, 1.0, 1.0], 0.0, 0.1, 100, PLACE, SPAN, steps=True)
    assert points == [(0.0, 100.0), (50.0, 100.0), (50.0, 0.0), (51.0, 0.0)]


def test_only_what_is_in_sight_is_drawn_with_its_neighbours() -> None:
    """One sample before and after the window is kept so that lines enter and leave it."""
    points = polyline([0.0, 10.0, 11.0, 12.0, 30.0], [0.0, 0.2, 0.4, 0.6, 1.0], 10.5, 0.1, 20, PLACE, SPAN)
    assert points == [(0.0, 80.0), (5.0, 60.0), (15.0, 40.0), (20.0, 0.0)]


def test_nothing_recorded_draws_nothing() -> None:
    """An empty recording is no error."""
    assert polyline([], [], 0.0, 0.1, 100, PLACE, SPAN) == []
    assert value_at([], [], 1.0) is None


@given(when=st.floats(0, 12))
def test_a_reading_is_the_last_sample_before(when) -> None:
    """Hovering never reads ahead of what was recorded."""
    times = [0.0, 2.0, 5.0, 9.0]
    expected = max((t for t in times if t <= when + 1e-9), default=None)
    assert value_at(times, times, when) == expected
