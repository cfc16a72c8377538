"""When a family is due again: by a published scheme, the same every time, and never earlier for a better result."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from fsrs import Rating
from hypothesis import given
from hypothesis import strategies as st

from trainer.records.kept import Mark
from trainer.records.spacing import LONGEST_DAYS, Review, Spacing, rated, spaced

BEGAN = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
RATINGS = [Rating.Again, Rating.Hard, Rating.Good, Rating.Easy]
HISTORIES = st.lists(st.tuples(st.integers(0, 90), st.integers(0, 3)), min_size=1, max_size=12)
"""(days since the attempt before, how it went)."""


def spacing(history: list[tuple[int, int]], *, later: int = 0) -> Spacing:
    """Of attempts so many days apart, looked at so many days after the last."""
    when, reviews = BEGAN, []
    for days, index in history:
        when += timedelta(days=days)
        reviews.append(Review(when, RATINGS[index]))
    found = spaced(reviews, when + timedelta(days=later))
    assert found is not None
    return found


@given(HISTORIES, st.data())
def test_a_better_result_never_makes_a_family_due_earlier(
    history: list[tuple[int, int]], data: st.DataObject
) -> None:
    """One attempt of a history going better leaves the family due on the same day or later, whichever one it was."""
    at = data.draw(st.integers(0, len(history) - 1))
    days, index = history[at]
    better = [*history[:at], (days, data.draw(st.integers(index, 3))), *history[at + 1 :]]
    assert spacing(better).due >= spacing(history).due


@given(HISTORIES, st.randoms())
def test_it_is_the_same_every_time(history: list[tuple[int, int]], order: object) -> None:
    """Nothing is drawn: the same attempts give the same day and chance; they lie ahead, within a year."""
    first = spacing(history)
    assert spacing(history) == first
    last = (BEGAN + timedelta(days=sum(days for days, _ in history))).date()
    assert timedelta(days=1) <= first.due - last <= timedelta(days=LONGEST_DAYS)


@given(st.lists(st.tuples(st.integers(0, 400), st.sampled_from(RATINGS)), min_size=1, max_size=8), st.randoms())
def test_the_order_in_which_attempts_are_read_changes_nothing(
    given_: list[tuple[int, Rating]], order: object
) -> None:
    """Folders come in any order; the days on the attempts decide."""
    reviews = [Review(BEGAN + timedelta(days=day), rating) for day, rating in given_]
    mixed = list(reviews)
    order.shuffle(mixed)  # type: ignore[attr-defined]
    now = BEGAN + timedelta(days=500)
    assert spaced(mixed, now) == spaced(reviews, now)


@pytest.mark.parametrize(("index", "days"), [(0, 1), (1, 1), (2, 2), (3, 8)])
def test_the_first_interval_is_the_published_one(index: int, days: int) -> None:
    """FSRS-6 as published, default parameters: first stabilities 0.212, 1.2931, 2.3065 and 8.2956 days; at a wanted
    retention of 0.9 the interval is the stability, rounded, and at least a day."""
    assert spacing([(0, index)]).due == (BEGAN + timedelta(days=days)).date()


def test_the_chance_falls_as_published() -> None:
    """FSRS-6 as published: R(t) = (1 + F·t/S)^−w20 with F = 0.9^(−1/w20) − 1, w20 = 0.1542; S = 2.3065 d."""
    factor = 0.9 ** (-1 / 0.1542) - 1
    for later in (0, 1, 5, 40):
        assert spacing([(0, 2)], later=later).recall == pytest.approx((1 + factor * later / 2.3065) ** -0.1542)


def test_nothing_done_is_never_due() -> None:
    """Without an attempt there is no day."""
    assert spaced((), BEGAN) is None


@pytest.mark.parametrize(
    ("score", "result", "grave", "grade", "rating"),
    [
        (39.0, "not yet competent", True, "working", Rating.Again),
        (90.0, "competent", True, "working", Rating.Again),
        (49.9, "repeat", False, "working", Rating.Again),
        (50.0, "repeat", False, "working", Rating.Hard),
        (84.0, "developing", False, "working", Rating.Hard),
        (96.0, "developing", False, "working", Rating.Hard),
        (85.0, "competent", False, "working", Rating.Good),
        (95.0, "competent", False, "working", Rating.Easy),
        (95.0, "competent", False, "senior", Rating.Easy),
        (100.0, "competent", False, "learner", Rating.Good),
    ],
)
def test_results_are_rated_by_the_table(score: float, result: str, grave: bool, grade: str, rating: Rating) -> None:
    """The stated table: a grave act counts before any score, and a guide keeps a job from having been easy."""
    assert rated(Mark(score, result, grave), grade) == rating
