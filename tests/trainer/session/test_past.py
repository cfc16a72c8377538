"""The past is shown with the weather that it had."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import asdict, replace
from pathlib import Path

import numpy as np
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


def seen(session: Session) -> dict[str, object]:
    """What one sees of the yard, of the supply and of what is plugged and clamped on."""
    view = session.observe()
    return {
        "bodies": tuple(replace(b, x_m=round(b.x_m, 6), y_m=round(b.y_m, 6)) for b in view.bodies),
        "lamp": view.lamp_on,
        "supply": (view.mains_on, view.battery_linked, view.board_on),
        "live": tuple(terminal.live for terminal in view.terminals),
        "guards": tuple((g.name, g.tripped, g.plugged, g.bridged, g.by_hand) for g in view.guards),
        "engaged": tuple(leaf.engaged for leaf in view.leaves),
        "in gaps": tuple(leaf.gap.held for leaf in view.leaves),
        "cordoned": view.cordoned,
        "gauge": (view.gauge, view.gauge_direction),
        "probes": (view.tools.in_place, view.tools.readings),
        "wiring": view.wiring,
    }


BUSY: tuple[tuple[str, dict[str, object]], ...] = (
    ("fit battery link", {}),
    ("restore", {}),
    ("place body", {"body": "adult", "x_m": 1.5, "y_m": -6.0}),
    ("walk body", {"body": "adult", "path": "2.5,-8 4.5,-6", "speed_m_s": 1.0}),
    ("jog press", {"leaf": "active", "direction": "open"}),
    ("wait", {"seconds": 8}),
    ("jog release", {"leaf": "active"}),
    ("place probes", {"function": "volts dc", "red": "board supply, plus", "black": "board supply, minus"}),
    ("read meter", {}),
    ("unplug", {"guard": "outer beam"}),
    ("bridge", {"guard": "outer beam"}),
    ("remove body", {"body": "adult"}),
    ("lift probes", {}),
    ("place force gauge", {"leaf": "active", "direction": "closing", "gap_mm": 300, "height_mm": 600,
                           "rest": "rigid rest"}),
    ("remove bridge", {"guard": "outer beam"}),
    ("plug in", {"guard": "outer beam"}),
    ("cover beam", {"guard": "outer beam"}),
    ("uncover beam", {"guard": "outer beam"}),
    ("remove force gauge", {}),
    ("release drive", {"leaf": "active"}),
    ("hold in hinge gap", {"leaf": "active", "what": "stick of 40 mm"}),
    ("take out of hinge gap", {"leaf": "active"}),
    ("engage drive", {"leaf": "active"}),
    ("cordon", {}),
    ("remove cordon", {}),
    ("isolate", {}),
    ("remove battery link", {}),
)  # fmt: skip
"""A morning's work in which everything that one sees changes and most of it changes back."""


def test_the_past_is_seen_as_it_was(tmp_path: Path) -> None:
    """Whatever was seen live is seen again at that instant, once all of it has changed: also after the session was
    left and gone on with, where nobody looked while it was played again."""
    desk = Desk(None, tmp_path)
    session = desk.start("first_run", "practice", 0)
    live: dict[Us, dict[str, object]] = {}
    for kind, given in BUSY:
        reply = session.do(kind, given)
        assert reply.accepted, (kind, reply.text)
        for _ in range(3):
            session.run_for(Us(70 * SCAN))
            live[session.clock_us] = seen(session)
        session.run_for(Us(SCAN))  # what is done next changes the instant it is done at
    for name in next(iter(live.values())):
        assert len({repr(told[name]) for told in live.values()}) > 1, f"{name} never changed"
    for _ in range(2):
        for when, told in live.items():
            session.look_at(when)
            again = seen(session)
            assert {name for name in told if again[name] != told[name]} == set(), when
        session.look_at(None)
        session.close()
        session = desk.resume("first_run")
    session.close()


def test_what_stands_now_was_not_there_then(session: Session) -> None:
    """A body that is placed later isn't seen before, and now is what it was before one looked back."""
    session.run_for(Us(5 * SECOND))
    session.do("place body", {"body": "child", "x_m": 1.0, "y_m": -4.0})
    session.run_for(Us(SECOND))
    now = session.observe()
    session.look_at(Us(2 * SECOND))
    assert session.observe().bodies == ()
    session.look_at(None)
    assert [body.name for body in session.observe().bodies] == ["child"]
    again = session.observe()
    assert replace(again, strip=now.strip) == now
    np.testing.assert_equal(asdict(again.strip), asdict(now.strip))
