"""The board's clock: a second of a year of 365 days, in words and back. It has no year and no zone.

What the clock keeps is how far it is ahead of the instants the controller is scanned at, or that nobody has set it.
"""

from __future__ import annotations

import re
from itertools import accumulate
from typing import Final

from sim.errors import ActionError, nearest_right
from sim.said import said

DAY_S: Final = 86_400
YEAR_S: Final = 365 * DAY_S

NOT_SET: Final = -1
"""A reading of a clock that nobody has set."""

UNSET_WORDS: Final = said("clock not set")

MONTHS: Final = {
    "January": 31,
    "February": 28,
    "March": 31,
    "April": 30,
    "May": 31,
    "June": 30,
    "July": 31,
    "August": 31,
    "September": 30,
    "October": 31,
    "November": 30,
    "December": 31,
}
"""Days of each month."""

_BEGINS: Final = dict(zip(MONTHS, accumulate(MONTHS.values(), initial=0), strict=False))
"""Days before each month."""

_TYPED: Final = re.compile(r"(\d{1,2})\.?\s+([A-Za-z]+),?\s+(\d{1,2}):(\d{2})(?::(\d{2}))?")


def words(second: int) -> str:
    """A reading of the clock [s since the year began] as `21 June, 10:03:18`; it starts again after a year."""
    if second == NOT_SET:
        return UNSET_WORDS
    day, rest = divmod(second % YEAR_S, DAY_S)
    month = next(name for name in reversed(MONTHS) if _BEGINS[name] <= day)
    return said(
        "{day} {month}, {hour:02d}:{minute:02d}:{second:02d}",
        day=day - _BEGINS[month] + 1,
        month=month,
        hour=rest // 3600,
        minute=rest // 60 % 60,
        second=rest % 60,
    )


def second_of_year(day: int, hour: float) -> int:
    """The reading on a day of the year, counted from 1, at an hour from 0 up to 24 [s since the year began]."""
    return ((day - 1) * DAY_S + round(hour * 3600.0)) % YEAR_S


def typed(text: str) -> int:
    """The reading that somebody typed, as `21 June 10:03`. Raises ActionError saying what is allowed."""
    found = _TYPED.fullmatch(text.strip())
    if found is None:
        raise ActionError(
            said("'{text}' is no date and time; type day, month and time, as '21 June 10:03'", text=text)
        )
    day, hour, minute, second = (int(part or 0) for part in found.group(1, 3, 4, 5))
    month = found[2].capitalize()
    if month not in MONTHS:
        raise ActionError(
            said("there is no month '{month}'{hint}", month=found[2], hint=nearest_right(month, MONTHS))
        )
    if not 1 <= day <= MONTHS[month]:
        raise ActionError(
            said("{month} has no day {day}; allowed: 1 to {most}", month=month, day=day, most=MONTHS[month])
        )
    if hour > 23 or minute > 59 or second > 59:
        raise ActionError(said("'{text}' holds no time of day; allowed: 0:00:00 to 23:59:59", text=text))
    return (_BEGINS[month] + day - 1) * DAY_S + hour * 3600 + minute * 60 + second


def ahead(now: int, second: int) -> int:
    """How far a clock is ahead that reads `second` [s] at the instant `now` [µs]: never negative [µs]."""
    return (second * 1_000_000 - now) % (YEAR_S * 1_000_000)


def reading(now: int, is_ahead: int) -> int:
    """What a clock that is `is_ahead` [µs] reads at `now` [µs]; `NOT_SET` of one that isn't set [s]."""
    return NOT_SET if is_ahead == NOT_SET else (now + is_ahead) // 1_000_000 % YEAR_S
