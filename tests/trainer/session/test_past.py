"""The past is shown with the weather that it had."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

import pytest

from sim.units import SCAN, SECOND, Us
from sim.world.meddling import Meddling
from trainer.session.desk import Desk
from trainer.session.session import Session


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    """First run, as one arrives."""
    begun = Desk(None, tmp_path).start("first_run", "practice", 0)
    yield begun
    begun.close()


def test_the_weather_of_then_and_not_of_now(session: Session) -> None:
    """Before the instructor's storm it is calm and mild; looking at the storm again, it is one; now is now."""
    before = session.observe().weather
    session.run_for(Us(10 * SECOND))
    session.meddle(Meddling("weather", values={"wind_m_s": 12.0, "wind_from_deg": 90.0, "temperature_c": 3.0}))
    session.run_for(Us(10 * SECOND))
    session.meddle(Meddling("weather", values={"wind_m_s": 5.0, "temperature_c": 8.0}))
    session.run_for(Us(10 * SECOND))
    now = session.observe().weather
    session.look_at(Us(5 * SECOND))
    assert session.observe().weather == before
    session.look_at(Us(15 * SECOND))
    then = session.observe().weather
    assert (then.mean_m_s, then.from_deg, then.temperature_c) == (12.0, 90.0, 3.0)
    session.look_at(None)
    assert session.observe().weather == now
    assert now.mean_m_s == 5.0


def test_gusts_are_those_that_blew(session: Session) -> None:
    """What was seen live is seen again when one looks back; the kernel's own wind is the judge."""
    session.meddle(Meddling("weather", values={"wind_m_s": 9.0, "gust_intensity": 0.3}))
    chance = random.Random(5)
    seen = {}
    for _ in range(40):
        session.run_for(Us(SCAN * chance.randint(1, 90)))
        seen[session.clock_us] = session.observe().weather.wind_m_s
    session.run_for(Us(5 * SECOND))
    assert len({round(wind, 2) for wind in seen.values()}) > 20
    for when, wind in seen.items():
        session.look_at(when)
        # the kernel's wind is that of its last whole millisecond
        assert session.observe().weather.wind_m_s == pytest.approx(wind, abs=0.03)


def test_guards_are_those_of_then(session: Session) -> None:
    """Each guard as it was seen live at every instant, also before its first change."""
    for kind in ("fit battery link", "restore"):
        session.do(kind)
    session.do("cover beam", {"guard": "outer beam"})
    seen = {}

    def look() -> None:
        seen[session.clock_us] = {guard.name: guard.tripped for guard in session.observe().guards}
        session.run_for(Us(SCAN))  # what is done next changes the instant it is done at

    session.run_for(Us(2 * SECOND))
    look()
    session.do("jog press", {"leaf": "active", "direction": "open"})
    session.run_for(Us(SECOND))
    look()
    session.do("jog release", {"leaf": "active"})
    session.do("uncover beam", {"guard": "outer beam"})
    session.run_for(Us(SECOND))
    look()
    session.do("press", {"control": "stop button"})
    session.run_for(Us(SECOND))
    look()
    assert len({str(told) for told in seen.values()}) == 3
    for when, told in seen.items():
        session.look_at(when)
        assert {guard.name: guard.tripped for guard in session.observe().guards} == told, when
    session.look_at(Us(0))
    assert not any(guard.tripped for guard in session.observe().guards if guard.name == "outer beam")
