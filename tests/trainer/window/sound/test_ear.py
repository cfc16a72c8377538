"""What is heard follows from what is there: relays, motors, lamp, contacts, the meter; said once, when it changes."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.units import SECOND, Us
from trainer.session.tools import ReadingView, ToolsView
from trainer.session.view import View
from trainer.window.canned import CannedSession
from trainer.window.sound.ear import APART_US, HARD_A, IDLE_A, JUMP_US, LOWEST_HZ, SILENCE, Ear, Sound, load_of

ROOT = Path(__file__).resolve().parents[4]
FRAME = SECOND // 60


@pytest.fixture(scope="module")
def still() -> View:
    """A gate at rest."""
    return CannedSession("practice", 7).observe()


def at(view: View, now: int, **changes: object) -> View:
    """A look some time later; `active_...` changes the active leaf."""
    own = {name.removeprefix("active_"): value for name, value in changes.items() if name.startswith("active_")}
    rest = {name: value for name, value in changes.items() if not name.startswith("active_")}
    leaves = (replace(view.leaves[0], **own), *view.leaves[1:])  # type: ignore[arg-type]
    return replace(view, now=Us(now), leaves=leaves, **rest)  # type: ignore[arg-type]


def hear(*views: View) -> tuple[list[Sound], list[str]]:
    """All sounds and captions of some looks, by one ear."""
    ear = Ear()
    heard = [ear.listen(view) for view in views]
    return [s for h in heard for s in h.sounds], [c for h in heard for c in h.captions]


def test_a_gate_at_rest_is_silent(still) -> None:
    """However often one listens."""
    ear = Ear()
    assert [ear.listen(at(still, n * FRAME)) for n in range(5)] == [SILENCE] * 5


def test_a_relay_without_a_motor_clicks_and_nothing_hums(still) -> None:
    """A broken motor lead is heard as what it is."""
    sounds, captions = hear(still, at(still, FRAME, active_relay="opening"), at(still, 2 * FRAME))
    assert sounds == [Sound("relay click"), Sound("relay click")]
    assert captions == ["relay click, cabinet", "relay click, cabinet"]


def test_a_motor_hums_by_its_own_speed_and_load(still) -> None:
    """Not by the leaf: a motor that has come off its leaf whines. One that is fed and stands growls."""
    ear = Ear()
    ear.listen(still)
    free = ear.listen(at(still, FRAME, active_motor_a=-1.0, active_motor_rad_s=-440.0)).hums[0]
    stalled = ear.listen(at(still, 2 * FRAME, active_motor_a=9.0, active_motor_rad_s=0.0)).hums[0]
    assert (free.leaf, free.load) == ("active", 0.0)
    assert free.hz == pytest.approx(440.0 / 6.283185 * 4.0, rel=1e-6)
    assert (stalled.hz, stalled.load) == (LOWEST_HZ, 1.0)


def test_a_start_is_no_labour_and_a_push_that_lasts_is(still) -> None:
    """Facts 5.3: a start takes two to three times the running current for less than half a second."""
    run = {"active_motor_rad_s": 400.0}
    looks = [at(still, n * FRAME, active_motor_a=6.5 if n < 25 or n > 60 else 2.5, **run) for n in range(1, 120)]
    _sounds, captions = hear(still, *looks, at(still, 121 * FRAME))
    assert captions == ["motor hum, active leaf", "motor labours, active leaf", "motor silent, active leaf"]


@given(st.floats(0.0, 40.0), st.floats(0.0, 40.0))
def test_load_rises_with_current_and_stays_in_its_range(a: float, b: float) -> None:
    """Whatever its sign; the ends are those of facts 5.3."""
    low, high = (load_of(SimpleNamespace(motor_a=current)) for current in sorted((a, b)))  # type: ignore[arg-type]
    assert 0.0 <= low <= high <= 1.0
    assert load_of(SimpleNamespace(motor_a=-a)) == load_of(SimpleNamespace(motor_a=a))  # type: ignore[arg-type]
    assert load_of(SimpleNamespace(motor_a=IDLE_A)) == 0.0  # type: ignore[arg-type]
    assert load_of(SimpleNamespace(motor_a=HARD_A)) == 1.0  # type: ignore[arg-type]


def test_the_lamp_ticks_while_it_is_driven(still) -> None:
    """Twice a second of the gate's own time; said when it begins and when it ends; no rattle at a faster pace."""
    for pace, ticks in ((1.0, 4), (4.0, 0)):
        looks = [at(still, n * FRAME, lamp_on=True, pace=pace) for n in range(1, 2 * 60 + 2)]
        sounds, captions = hear(still, *looks, at(still, 3 * SECOND, lamp_on=False))
        assert sounds == [Sound("lamp tick")] * ticks
        assert captions == ["lamp ticks", "lamp stops ticking"]


def test_a_leaf_bumps_once_however_it_chatters(still) -> None:
    """As loud as it presses; another thing met later is another bump."""
    free = at(still, FRAME, active_touching="")
    looks = [
        at(still, (n + 2) * FRAME, active_touching=["open stop", ""][n % 2], active_contact_n=400.0)
        for n in range(20)
    ]
    late = 22 * FRAME + APART_US
    sounds, captions = hear(still, free, *looks, at(still, late, active_touching="adult", active_contact_n=5000.0))
    assert sounds == [Sound("bump", 0.5), Sound("bump", 1.0)]
    assert captions == ["bump, active leaf: open stop", "bump, active leaf: adult"]


def read(text: str, function: str = "continuity") -> ToolsView:
    """Tools with one reading."""
    return ToolsView(readings=(ReadingView("multimeter", text, function, "a", "b"),))


@pytest.mark.parametrize(
    ("tools", "sounds", "captions"),
    [
        (read("0.4 Ω, beeps"), [Sound("continuity tone")], ["continuity tone, multimeter"]),
        (read("silent"), [], ["no tone, multimeter"]),
        (read("0.4 Ω", "ohms"), [], []),
    ],
)
def test_a_meter_on_continuity_gives_its_tone_when_it_is_read(still, tools, sounds, captions) -> None:
    """Once for each reading; that it keeps silent is said too, since that is a finding."""
    assert hear(still, at(still, FRAME, tools=tools), at(still, 2 * FRAME, tools=tools)) == (sounds, captions)


@pytest.mark.parametrize("step", [JUMP_US + 1, -1])
def test_what_was_jumped_over_is_not_heard_afterwards(still, step: int) -> None:
    """Waiting fast, or going on from the past: the ear begins anew with what is there."""
    start = at(still, 10 * SECOND)
    later = at(still, 10 * SECOND + step, active_relay="closing", active_touching="adult", active_motor_a=2.0)
    ear = Ear()
    ear.listen(start)
    heard = ear.listen(later)
    assert (heard.sounds, heard.captions) == ((), ())
    assert [hum.leaf for hum in heard.hums] == ["active"]


def test_held_time_and_the_past_are_silent(still) -> None:
    """A picture makes no noise; and coming back from the past is no event."""
    moving = {"active_motor_a": 3.0, "active_motor_rad_s": 400.0, "active_relay": "opening"}
    ear = Ear()
    ear.listen(at(still, 0, **moving))
    assert ear.listen(at(still, FRAME, **moving, paused=True)).hums == ()
    past = replace(still.strip, shown_s=0.5)
    assert ear.listen(at(still, 2 * FRAME, strip=past)) == SILENCE
    back = ear.listen(at(still, 3 * FRAME, **moving))
    assert (back.sounds, back.captions, len(back.hums)) == ((), (), 1)


def test_the_ear_needs_neither_window_nor_numbers() -> None:
    """It can be read by tests and by anything without a screen, and it costs the first frame nothing."""
    program = (
        "import sys, trainer.window.sound.sounding, trainer.window.sound.ear\n"
        "print([name for name in ('pygame', 'numpy') if name in sys.modules])"
    )
    told = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True, cwd=ROOT)
    assert told.stdout.strip() == "[]"
