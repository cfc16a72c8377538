"""The front desk: who is there, the jobs by family and grade, the settings; by mouse and by keys."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from types import SimpleNamespace

import pygame
import pytest

from trainer.window.app import App
from trainer.window.canned import CannedDesk
from trainer.window.doors import JobCard
from trainer.window.preferences import Keeper


@pytest.fixture
def desk():
    """The app at its front desk."""
    canned = CannedDesk()
    app = App(canned, (1280, 800))
    app.frame(0.0)
    return SimpleNamespace(app=app, desk=canned)


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
    while hand.focus != ("job", "First run"):
        hand.key(pygame.K_TAB)
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


def listed(hand) -> list[str]:
    """Titles in sight."""
    return [told["label"] for told in hand.all("job")]


def test_jobs_stand_under_their_family_with_how_many_are_done(desk, hand) -> None:
    """In the order in which the families come up."""
    told = [t["label"] for t in hand.all("heading")]
    assert told[:4] == [
        "First steps: 1 of 1 done",
        "Commissioning from bare: 0 of 1 done",
        "Guards: 1 of 1 done",
        "Weather: 0 of 1 done",
    ]


def test_the_list_is_narrowed_by_grade_state_and_family(desk, hand) -> None:
    """Each choice narrows what the others left; what is marked is always in sight."""
    hand.click("option", "Learner")
    assert listed(hand) == ["Meet the gate", "First run"]
    hand.click("option", "Done")
    assert listed(hand) == ["Meet the gate"]
    assert "1 of 4 jobs fit" in hand.texts()
    assert hand.find("region", "start")["children"][0]["value"] == "Meet the gate"
    hand.click("option", "All")
    hand.click("option", "All grades")
    hand.click("dropdown", "family")
    hand.click("option", "Weather")
    assert listed(hand) == ["After the storm"]


def test_jobs_are_numbered_as_they_stand_whatever_is_shown(desk, hand) -> None:
    """From 1 down the page, families and all; narrowed, they are numbered anew, and what is hidden has no number."""
    page = desk.app.root.layer.top._made["Jobs"]
    jobs = page.jobs
    assert [row.number for row in jobs.in_sight] == [1, 2, 3, 4]
    jobs.words.show("storm")
    jobs._narrow()
    assert [(row.card.title, row.number) for row in jobs.rows if row.number] == [("After the storm", 1)]
    jobs.words.show("")
    jobs._narrow()
    assert [row.number for row in jobs.in_sight] == [1, 2, 3, 4]


def test_words_find_a_job_and_nothing_found_is_said(desk, hand) -> None:
    """In the title, in what is asked, in the family; Esc puts all back."""
    desk.app.root.set_focus(next(w for w in desk.app.root.layer.top.walk() if w.label == "find a job"))
    hand.type("carter")
    assert listed(hand) == ["It closes, then opens again"]
    hand.type("zzz")
    assert listed(hand) == []
    assert "No job fits what is asked for" in hand.texts()
    hand.key(pygame.K_ESCAPE)
    assert len(listed(hand)) == 4


def test_arrows_walk_only_what_is_in_sight(desk, hand) -> None:
    """From one family to the next, past those that were left out."""
    hand.click("option", "Not done yet")
    hand.click("option", "All")
    hand.click("option", "Learner")
    hand.click("job", "Meet the gate")
    hand.key(pygame.K_DOWN, pygame.K_DOWN, pygame.K_DOWN)
    assert hand.focus == ("job", "First run")


def test_who_you_are_decides_what_is_shown_and_is_remembered(tmp_path, stage) -> None:
    """The engineer finds the bench first; at the next start she is still the engineer."""
    keeper = Keeper(tmp_path / "window.json")
    app = App(CannedDesk(), keeper=keeper)
    hand = stage()
    hand.root = app.root
    app.frame(0.0)
    assert not hand.all("command")
    hand.click("option", "Engineer")
    assert hand.all("heading", "Free yard")
    hand.click("option", "Bench")
    assert any("gudgeon prove" in told["label"] for told in hand.all("command"))
    hand.click("option", "Jobs")
    assert listed(hand)
    for _ in range(6):
        app.frame(0.1)
    again = App(CannedDesk(), keeper=Keeper(tmp_path / "window.json"))
    hand.root = again.root
    again.frame(0.0)
    assert hand.find("radio row", "who you are")["value"] == "engineer"
    assert hand.all("heading", "Free yard")


def test_who_you_are_is_chosen_by_keys(desk, hand) -> None:
    """Tab to it, arrow to the next."""
    while hand.focus != ("radio row", "who you are"):
        hand.key(pygame.K_TAB)
    hand.key(pygame.K_RIGHT)
    assert desk.app.appearance.now.who == "instructor"


def settings(hand) -> None:
    """Open them by keys."""
    while hand.focus != ("button", "Settings…"):
        hand.key(pygame.K_TAB)
    hand.key(pygame.K_RETURN)


def test_settings_hold_at_once(desk, hand) -> None:
    """Text grows while its slider is moved; motion, sound and loudness are taken by keys."""
    before = hand.find("button", "Start anew")["rect"][3]
    settings(hand)
    while hand.focus != ("slider", "text size"):
        hand.key(pygame.K_TAB)
    hand.key(pygame.K_END)
    assert desk.app.appearance.now.text_scale == 2.0
    assert hand.find("button", "Start anew")["rect"][3] == 2 * before
    while hand.focus != ("tick box", "Reduced motion: nothing blinks or glides"):
        hand.key(pygame.K_TAB)
    hand.key(pygame.K_SPACE)
    assert desk.app.root.calm is True
    while hand.focus != ("slider", "volume"):
        hand.key(pygame.K_TAB)
    hand.key(pygame.K_HOME)
    assert (desk.app.appearance.now.sound, desk.app.appearance.now.volume) == (True, 0.0)
    hand.key(pygame.K_ESCAPE)
    assert hand.focus == ("button", "Settings…")


def test_without_sound_there_is_no_loudness_to_set(desk, hand) -> None:
    """What can't be used says so."""
    settings(hand)
    hand.click("tick box", "Sound: motor, lamp, relay and contact are heard")
    assert desk.app.appearance.now.sound is False
    assert hand.find("slider", "volume")["enabled"] is False


@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("who", ["apprentice", "engineer"])
def test_nothing_of_the_front_desk_lies_outside_or_upon_another(who, scale) -> None:
    """What can be pressed is inside the window, high enough, and no two of them overlap."""
    app = App(CannedDesk(), (1280, 800), scale=scale)
    app.appearance.prefer(who=who)
    app.show_desk()
    app.frame(0.0)
    head = app.root.layer.top.children[0]
    stops = [w for w in app.root.stops() if head.holds(w)]
    assert len(stops) == 3
    for stop in stops:
        assert app.root.screen.contains(stop.rect), stop.label
        assert stop.rect.height >= 32 * scale
    assert not any(one.rect.colliderect(other.rect) for one, other in itertools.combinations(stops, 2))


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_the_head_takes_no_room_for_what_is_not_written_there(scale) -> None:
    """The line beside the name is left out where it has no room, and then takes none."""
    app = App(CannedDesk(), (1280, 800), scale=scale)
    app.frame(0.0)
    head = app.root.layer.top.children[0].children[0]
    name, line, *_others = head.children
    assert head.rect.height == name.rect.height
    assert line.rect.height < name.rect.height


class Coach:
    """Says what to practise next, and remembers of which jobs it was asked."""

    def __init__(self, job: str = "opens-again") -> None:
        self.job = job
        self.asked: list[str] = []

    def next(self, jobs: Sequence[JobCard]) -> SimpleNamespace:
        self.asked = [job.name for job in jobs]
        return SimpleNamespace(family="guards", job=self.job, title="It closes, then opens again", why="Due today.")


def test_what_to_practise_next_is_told_and_brought_into_sight(desk, hand) -> None:
    """Family, job and why; a press marks the job though the list was narrowed to others, and begins nothing."""
    assert "Due today." not in hand.texts()
    desk.app.coach = coach = Coach()
    desk.app.show_desk()
    desk.app.frame(0.0)
    assert coach.asked == [card.name for card in desk.desk.jobs()]
    told = next(each for each in hand.all("region") if each["label"] == "practise next")
    assert [each["value"] for each in told["children"]][:2] == ["It closes, then opens again", "Guards"]
    assert "Due today." in hand.texts()
    hand.click("option", "Unfinished")
    assert listed(hand) == ["First run"]
    hand.click("button", "Show the job")
    assert hand.focus == ("job", "It closes, then opens again")
    assert len(listed(hand)) == 4
    hand.key(pygame.K_RETURN)
    assert desk.desk.started == [("opens-again", "practice", 0)]


def test_what_to_practise_next_may_be_a_job_that_has_gone(desk, hand) -> None:
    """The press then does nothing."""
    desk.app.coach = Coach("gone")
    desk.app.show_desk()
    desk.app.frame(0.0)
    hand.click("button", "Show the job")
    assert desk.desk.started == []
    assert desk.app.trouble is None
