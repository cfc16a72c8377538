"""The time strip's arrays: the same whether built frame by frame or at once; levels step where they changed."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.units import SCAN, SECOND, Us
from trainer.session.desk import Desk
from trainer.session.session import Session
from trainer.session.strip import Strip, needed


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    """First run with power on."""
    begun = Desk(None, tmp_path).start("first_run", "practice", 0)
    begun.do("fit battery link")
    begun.do("restore")
    yield begun
    begun.close()


def arrays(strip: Strip) -> dict[str, np.ndarray]:
    """Everything that is drawn, copied."""
    view = strip.view(None)
    return {"time": np.array(view.time_s), **{name: np.array(values) for name, values in view.channels.items()}}


def test_frame_by_frame_is_the_same_as_at_once(session: Session) -> None:
    """Looking often changes nothing in what is drawn but for samples at the moments of looking."""
    chance = random.Random(3)
    watched = Strip(session.world)
    session.do("jog press", {"leaf": "active", "direction": "open"})
    for _ in range(120):
        session.run_for(Us(SCAN * chance.randint(1, 30)))
        watched.view(None)
    session.do("jog release", {"leaf": "active"})
    session.do("cover beam", {"guard": "outer beam"})
    for _ in range(40):
        session.run_for(Us(SCAN * chance.randint(1, 200)))
        watched.view(None)
    session.do("uncover beam", {"guard": "outer beam"})
    session.run_for(Us(3 * SECOND))
    often, once = arrays(watched), arrays(Strip(session.world))
    assert (np.diff(often["time"]) > 0).all()
    for name in once:
        again = np.interp(once["time"], often["time"], often[name])
        assert again == pytest.approx(once[name], abs=1e-9), name


def test_levels_step_where_they_changed(session: Session) -> None:
    """A beam covered for a while at rest is a box on the strip, not a tent."""
    session.do("wait", {"seconds": 5})
    began = session.clock_us / 1e6
    session.do("cover beam", {"guard": "outer beam"})
    session.do("wait", {"seconds": 20})
    ended = session.clock_us / 1e6
    session.do("uncover beam", {"guard": "outer beam"})
    session.do("wait", {"seconds": 5})
    drawn = arrays(session.strip)
    inside = (drawn["time"] >= began) & (drawn["time"] < ended)
    assert (drawn["guards"][inside] == 1).all()
    assert (drawn["guards"][~inside] == 0).all()
    assert np.interp([began - 1e-3, began + 1e-3], drawn["time"], drawn["guards"]) == pytest.approx([0, 1], abs=1e-9)


def test_it_begins_on_arrival_and_ends_now(session: Session) -> None:
    """Nothing from before is shown; the last sample is the present."""
    session.do("wait", {"seconds": 7})
    drawn = arrays(session.strip)
    assert drawn["time"][0] == 0.0
    assert drawn["time"][-1] == pytest.approx(session.clock_us / 1e6)


def test_hours_are_kept_thin_and_say_the_same(session: Session) -> None:
    """After half an hour of movement far fewer samples are kept than were recorded, and none that was left out lies
    off the line by more than is seen: 0.05°, 0.05 A, 0.05 V."""
    ways = ("open", "close")
    for n in range(100):
        session.do("jog press", {"leaf": "active", "direction": ways[n % 2]})
        session.run_for(Us(SECOND * 15))
        session.do("jog release", {"leaf": "active"})
        session.strip.view(None)
    drawn, rows = arrays(session.strip), session.world.plant.rows_from(0)
    rows = rows[rows[:, 0] >= session.world.arrived]
    assert len(rows) > 50_000
    assert len(drawn["time"]) < len(rows) / 10
    time_s = (rows[:, 0] - session.world.arrived) / 1e6
    for channel, column in (("active angle", np.degrees(rows[:, 1])), ("active current", rows[:, 3]),
                            ("supply", rows[:, 5])):  # fmt: skip
        assert np.abs(np.interp(time_s, drawn["time"], drawn[channel]) - column).max() < 0.0501, channel


@given(st.lists(st.floats(-100, 100, width=32), min_size=1, max_size=200), st.floats(0.001, 5.0))
def test_what_is_left_out_lies_on_the_line(values: list[float], meant: float) -> None:
    """Whatever was recorded: no sample that is left out lies off the lines by more than is meant."""
    times, channel = np.arange(float(len(values))), np.array(values)
    kept = needed(times, channel[:, None], np.array([meant]))
    again = np.interp(times, times[kept], channel[kept])
    assert np.abs(again - channel).max() <= meant + 1e-9
    assert (kept[0], kept[-1]) == (0, len(values) - 1)
