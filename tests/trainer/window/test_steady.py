"""Nothing piles up while somebody works: the same round once more leaves no more widgets, surfaces or listeners."""

from __future__ import annotations

import gc
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pygame
import pytest

from tests.benchmarks.hours_at_work import ROUND, AtWork
from trainer.window.kit.glyphs import MOST_RUNS
from trainer.window.kit.pen import MOST_SPRITE_PIXELS

ROUNDS = 2
"""Rounds that are compared, after as many that warm up."""


@pytest.fixture
def at_work(tmp_path: Path) -> Iterator[AtWork]:
    """A real session in the real window."""
    who = AtWork(tmp_path)
    yield who
    who.close()


def ours() -> Counter[str]:
    """How many widgets and other objects of the window there are by class, and how many surfaces, functions, methods
    and cells. What the journal and the world write down grows with what is done, and must: it isn't counted here."""
    gc.collect()
    found: Counter[str] = Counter()
    for each in gc.get_objects():
        kind = type(each)
        own = str(kind.__module__).startswith("trainer.window") or kind in (pygame.Surface, pygame.font.Font)
        if own or kind.__name__ in ("function", "method", "cell"):
            found[kind.__name__] += 1
    return found


def grown(before: Counter[str], after: Counter[str]) -> dict[str, int]:
    """Classes of which there are more by at least one a round."""
    return {name: more for name, more in (after - before).items() if more >= ROUNDS}


@pytest.mark.slow
def test_a_round_more_leaves_nothing_behind(at_work: AtWork) -> None:
    """Cycles, guards, bodies, pages, undo, looking back, close-ups, dialogs, tour: some 8000 frames in all."""
    at_work.work(ROUNDS * ROUND)
    before = ours()
    at_work.work(ROUNDS * ROUND)
    after = ours()
    assert at_work.refused == {}
    assert grown(before, after) == {}
    assert len(at_work.app.root.style.glyphs._runs) <= MOST_RUNS
    assert at_work.app.root.sprites._pixels <= MOST_SPRITE_PIXELS


@pytest.mark.slow
def test_what_piles_up_is_found(at_work: AtWork) -> None:
    """A listener that is added each round and never taken away is what this would miss least."""
    at_work.work(ROUND)
    before = ours()
    for _ in range(ROUNDS):
        at_work.session.world.listeners.append(lambda _event, kept=at_work.app.work: None)
    assert grown(before, ours()) == {"function": ROUNDS}
