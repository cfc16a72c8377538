"""Front desk, debrief and the calm panel."""

from __future__ import annotations

import pygame
import pytest

from trainer.window.app import App
from trainer.window.canned import CannedDesk


@pytest.fixture
def desk(hand_of):
    """The app at its front desk."""
    return hand_of(CannedDesk())


@pytest.fixture
def hand_of():
    """An app on a desk, with a hand."""
    from types import SimpleNamespace

    def make(canned: CannedDesk):
        app = App(canned, (1280, 800))
        app.frame(0.0)
        return SimpleNamespace(app=app, desk=canned)

    return make


@pytest.fixture
def hand(desk, stage):
    """A hand on the front desk."""
    made = stage()
    made.root = desk.app.root
    return made


def test_jobs_are_listed_with_grade_minutes_and_what_is_done(desk, hand) -> None:
    """Best result, unfinished, or not yet: in words."""
    told = {job["label"]: job["value"] for job in hand.all("job")}
    assert told == {
        "Meet the gate": "best 96",
        "First run": "unfinished",
        "It closes, then opens again": "best 62",
        "After the storm": "not done yet",
    }
    assert "it certifies nothing" in hand.texts()


def test_an_unfinished_job_is_offered_first_and_resumed(desk, hand) -> None:
    """It is marked from the start; one press goes on with it."""
    hand.click("button", "Go on where it was left")
    assert desk.desk.started == [("first-run", "resume", -1)]
    assert desk.app.work is not None


def test_a_job_is_started_by_keys_alone(desk, hand) -> None:
    """Walk the list, choose how, type a draw, Enter."""
    hand.key(pygame.K_TAB)
    assert hand.focus == ("job", "First run")
    hand.key(pygame.K_UP, pygame.K_DOWN, pygame.K_DOWN)
    assert hand.focus == ("job", "It closes, then opens again")
    while hand.focus != ("radio row", "how"):
        hand.key(pygame.K_TAB)
    hand.key(pygame.K_RIGHT)
    hand.key(pygame.K_TAB)
    assert hand.focus == ("number entry", "draw")
    hand.type("42")
    hand.key(pygame.K_RETURN)
    assert desk.desk.started == [("opens-again", "assessed", 42)]


def test_a_job_that_cant_be_opened_says_why_and_the_desk_stays(desk, hand) -> None:
    """The sentence of the room below stands on the screen."""
    hand.click("job", "After the storm")
    hand.click("button", "Start the job")
    assert [told["label"] for told in hand.all("message")] == [
        "The site file of ‘After the storm’ could not be read."
    ]
    assert hand.all("screen", "front desk")


def test_text_size_and_motion_are_set_at_the_desk(desk, hand) -> None:
    """The slider changes everything at once; the tick box stops what blinks."""
    before = hand.find("button", "Start anew")["rect"][3]
    slider = next(w for w in desk.app.root.layer.top.walk() if w.role == "slider")
    desk.app.root.set_focus(slider)
    hand.key(pygame.K_END)
    assert desk.app.preferences.text_scale == 2.0
    assert hand.find("button", "Start anew")["rect"][3] == 2 * before
    box = next(w for w in desk.app.root.layer.top.walk() if w.role == "tick box")
    desk.app.root.set_focus(box)
    hand.key(pygame.K_SPACE)
    assert desk.app.root.calm is True


def test_the_debrief_comes_when_the_job_ends(work) -> None:
    """Result, the three questions, parts, findings by weight, each with its journal lines and the report's place."""
    work.session.do("make safe", {"reason": "no parts"})
    work.frame()
    assert work.hand.all("screen", "debrief")
    verdicts = {told["label"]: told["value"] for told in work.hand.all("verdict")}
    assert verdicts == {"Safe?": "no", "Right?": "nearly", "Systematic?": "yes"}
    assert {told["label"]: told["value"] for told in work.hand.all("part")} == {
        "outcome": "26 / 30",
        "safety": "0 / 20",
        "verification": "13 / 20",
        "record": "8.5 / 10",
    }
    assert [told["label"] for told in work.hand.all("finding")] == [
        "A guard was left bridged",
        "One force reading is not a verdict",
        "Monthly checks were not shown",
        "Both leaves turn the right way",
    ]
    texts = work.hand.texts()
    for words in ("journal line 23 · 4:12 · bridge: inner beam", "attempts/first-run/debrief.html", "grave · failed"):
        assert words in texts


def test_evidence_leads_back_to_its_moment(work) -> None:
    """Looking at a line shows the yard as it was then."""
    work.session.let_pass(300.0)
    work.session.do("make safe", {"reason": "no parts"})
    work.frame()
    work.hand.click("button", "Look")
    work.frame()
    assert work.hand.all("screen", "work")
    assert work.session.shown == pytest.approx(252.0)


def test_a_screen_that_fails_becomes_a_calm_panel(work, caplog) -> None:
    """What to do, that nothing is lost, the error itself; time is held; trying again works."""

    def fail(view: object) -> None:
        raise RuntimeError("made up")

    work.screen.time.show = fail
    work.frame()
    assert work.hand.all("screen", "trouble")
    texts = work.hand.texts()
    for words in ("Nothing is lost", "RuntimeError: made up"):
        assert words in texts
    assert "made up" in caplog.text
    now = work.session.now
    work.frame(3, wall_s=0.1)
    assert work.session.now == now
    work.hand.click("button", "Try again")
    work.frame()
    assert work.hand.all("screen", "work")
    work.frame(3, wall_s=0.1)
    assert work.session.now > now


def test_trouble_leads_to_the_front_desk_as_well(work, caplog) -> None:
    """The session is closed, to be resumed."""

    def fail(pen: object) -> None:
        raise ValueError("made up")

    work.screen.plan.draw_over = fail
    work.frame()
    work.hand.click("button", "To the front desk")
    work.frame()
    assert work.hand.all("screen", "front desk")
    assert work.session.closed
    assert "made up" in caplog.text
