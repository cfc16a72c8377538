"""The board's clock in words: judged by the standard library's calendar, of which any year of 365 days will do."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.controller import calendar
from sim.errors import ActionError

YEAR = datetime(2023, 1, 1)

SECONDS = st.integers(0, calendar.YEAR_S - 1)


@given(SECONDS)
def test_words_are_the_calendars(second: int) -> None:
    """Day, month and time as the standard library has them, from the first second of a year to the last."""
    right = YEAR + timedelta(seconds=second)
    assert calendar.words(second) == f"{right.day} {right:%B, %H:%M:%S}"


@given(SECONDS)
def test_what_is_typed_is_what_is_shown(second: int) -> None:
    """Whoever types what the panel shows sets just that; with the seconds left away, the full minute."""
    shown = calendar.words(second)
    assert calendar.typed(shown) == second
    assert calendar.typed(shown[:-3]) == second - second % 60


@given(st.integers(1, 365), st.integers(0, 86_399))
def test_day_and_hour(day: int, second: int) -> None:
    """A day of the year counted from 1, and an hour of it."""
    assert calendar.second_of_year(day, second / 3600.0) == (day - 1) * 86_400 + second


@given(SECONDS, st.integers(0, 10**14), st.integers(0, 10**14))
def test_a_clock_goes_on(second: int, now: int, passed: int) -> None:
    """Set at an instant it reads what it was set to; later, what has passed since; it starts again after a year."""
    now, passed = now // 1_000_000 * 1_000_000, passed // 1_000_000 * 1_000_000
    ahead = calendar.ahead(now, second)
    assert ahead >= 0
    assert calendar.reading(now, ahead) == second
    assert calendar.reading(now + passed, ahead) == (second + passed // 1_000_000) % calendar.YEAR_S


def test_not_set() -> None:
    """A clock that nobody set says so."""
    assert calendar.words(calendar.reading(5_000_000, calendar.NOT_SET)) == "clock not set"


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("tomorrow", "type day, month and time, as '21 June 10:03'"),
        ("21 Jun 10:03", "there is no month 'Jun'; did you mean 'June'?"),
        ("31 June 10:03", "June has no day 31; allowed: 1 to 30"),
        ("0 May 10:03", "May has no day 0; allowed: 1 to 31"),
        ("21 June 24:00", "allowed: 0:00:00 to 23:59:59"),
    ],
)
def test_what_is_no_time_is_refused(text: str, why: str) -> None:
    """What was read, what is allowed, and the nearest right word."""
    with pytest.raises(ActionError) as refused:
        calendar.typed(text)
    assert why in str(refused.value)
