"""What a running attempt is told of its acceptance never depends on what is to be found out."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from trainer.grading import check_names
from trainer.grading.judge import Grader
from trainer.session.acceptance import WORDS_AT_THE_END, judged_now

TRUTHS = [
    {"swapped_wrong": ()},
    {"opens_first_truth": "inactive"},
    {"user_group_truth": "instructed"},
    {"survey_right": {"meeting edge": ("outer beam",), "wall behind the active leaf": ("nothing",)}},
]


def _words(play, ended: bool = False) -> dict[str, str]:
    """Every check's words, in practice."""
    job = SimpleNamespace(acceptance=check_names(), steps=(), grade="learner", mode="practice")
    return {check.name: check.what for check in judged_now(Grader(), play.history, job, ended).checks}


def _begun(plays):
    """Surveyed as the site is, an order on the sheet, nothing moved yet."""
    return plays().power(True).survey().set("opens first", "active")


@pytest.mark.parametrize("truth", TRUTHS, ids=lambda truth: next(iter(truth)))
@pytest.mark.parametrize("begun", [False, True], ids=["at arrival", "with survey and sheet written"])
def test_no_word_gives_the_truth_away(plays, truth: dict[str, object], begun: bool) -> None:
    """Two gates that differ only in what nobody has seen yet are told of in the same words."""
    one, other = (_begun(plays), _begun(plays)) if begun else (plays(), plays())
    assert _words(one) == _words(other.stands(**truth))


def test_the_words_that_are_kept_back_are_told_at_the_end(plays) -> None:
    """Each of them belongs to a check that there is, and has words then."""
    words = _words(plays(), ended=True)
    assert set(words) >= WORDS_AT_THE_END
    assert all(words[name] for name in WORDS_AT_THE_END)
    assert not any(_words(plays())[name] for name in WORDS_AT_THE_END)
