"""Looking back on the plan of a real session: who stood there then is there, who came later isn't, Esc is now."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pygame
import pytest

from sim.units import SECOND, Us
from trainer.session.desk import Desk
from trainer.session.session import Session
from trainer.window.app import App


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    """First run, as one arrives."""
    begun = Desk(None, tmp_path).start("first_run", "practice", 0)
    yield begun
    begun.close()


@pytest.fixture
def app(session: Session, tmp_path: Path) -> App:
    """The window with it."""
    shown = App(Desk(None, tmp_path / "desk"), (1280, 800))  # type: ignore[arg-type]
    shown.open(session)
    shown.frame(0.0)
    return shown


def on_plan(app: App) -> set[str]:
    """Bodies that are drawn, by name."""
    app.frame(0.0)
    work: Any = app.work
    return {name for kind, name in work.plan.places if kind == "body"}


def key(app: App, which: int) -> None:
    """A key pressed and let go."""
    for kind in (pygame.KEYDOWN, pygame.KEYUP):
        app.root.handle(pygame.event.Event(kind, key=which, mod=0, unicode=""))


def test_who_is_gone_stands_there_when_one_looks_back(app: App, session: Session) -> None:
    """Placed, gone on, removed: then is on the plan, now is not; and a way that was walked is walked again."""
    session.do("place body", {"body": "adult", "x_m": 1.5, "y_m": -6.0})
    session.do("walk body", {"body": "adult", "path": "3.5,-6", "speed_m_s": 0.5})
    began = session.clock_us
    session.run_for(Us(6 * SECOND))
    session.do("remove body", {"body": "adult"})
    session.run_for(Us(SECOND))
    assert on_plan(app) == set()
    across = []
    for after_s in (1, 2, 5):
        session.look_at(Us(began + after_s * SECOND))
        assert on_plan(app) == {"adult"}
        work: Any = app.work
        across.append(work.plan.places["body", "adult"].centerx)
    assert across[0] < across[1] < across[2]
    key(app, pygame.K_ESCAPE)
    assert session.shown_us is None
    assert on_plan(app) == set()


def test_who_came_later_isnt_there_when_one_looks_back(app: App, session: Session) -> None:
    """The reverse."""
    session.run_for(Us(5 * SECOND))
    session.do("place body", {"body": "child", "x_m": 1.0, "y_m": -4.0})
    session.run_for(Us(SECOND))
    assert on_plan(app) == {"child"}
    session.look_at(Us(2 * SECOND))
    assert on_plan(app) == set()
    key(app, pygame.K_ESCAPE)
    assert on_plan(app) == {"child"}
