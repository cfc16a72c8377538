"""The debrief: every finding on the timeline and watched again, its pages, and the report that it writes."""

from __future__ import annotations

import threading
from dataclasses import replace

import pygame
import pytest

from sim.units import Us
from tests.trainer.window.learner import COMPETENCES, OVERRULED
from trainer.session.lookback import LeftView
from trainer.session.worth import BEING_WORKED_OUT, NO_CAUSE, WorthView
from trainer.window.canned import yard


@pytest.fixture
def ended(work):
    """A job of eleven minutes that has ended."""
    work.session.let_pass(660.0)
    work.session.do("make safe", {"reason": "no parts"})
    work.frame(2)
    work.app.root.toasts.clear()
    work.frame()
    return work


def wait_for_report() -> None:
    """Until what is written behind the screen is written."""
    for thread in threading.enumerate():
        if thread.name == "report":
            thread.join(120)


def test_what_led_to_a_moment_is_watched_again(ended) -> None:
    """From a line of evidence: the yard four seconds before, played up to the moment, and back by one button."""
    ended.hand.click("button", "Watch")
    ended.frame()
    assert ended.hand.all("screen", "work")
    assert ended.session.shown == pytest.approx(248.0, abs=0.1)
    ended.frame(45, wall_s=0.1)
    assert ended.session.shown == pytest.approx(252.0)
    ended.frame(10, wall_s=0.1)
    assert ended.session.shown == pytest.approx(252.0)
    ended.frame(20, wall_s=0.1)
    ended.hand.click("button", "To the debrief")
    ended.frame()
    assert ended.hand.all("screen", "debrief")


def test_with_reduced_motion_the_moment_stands_at_once(ended) -> None:
    """Nothing is played."""
    ended.app.root.calm = True
    ended.hand.click("button", "Watch")
    ended.frame(3, wall_s=0.1)
    assert ended.session.shown == pytest.approx(252.0)


def test_every_finding_with_a_moment_is_pinned(ended) -> None:
    """In the order of time, under the number that it has in the list; a finding without evidence has no moment."""
    pins = ended.hand.all("pin")
    assert [pin["label"] for pin in pins] == [
        "4 · 2:51 · Both leaves turn the right way (passed)",
        "1 · 4:12 · A guard was left bridged (failed)",
        "2 · 10:12 · One force reading is not a verdict (marginal)",
    ]
    line = pygame.Rect(ended.hand.find("timeline", "what happened when")["rect"])
    middles = [pygame.Rect(pin["rect"]).centerx for pin in pins]
    assert middles == sorted(middles)
    share = (middles[2] - middles[0]) / (612 - 171)
    assert share == pytest.approx((middles[1] - middles[0]) / (252 - 171), rel=0.03)
    assert all(line.contains(pygame.Rect(pin["rect"])) for pin in pins)


def test_a_pin_is_clicked(ended) -> None:
    """Also a little beside it; elsewhere on the timeline nothing happens."""
    x, y = ended.hand.middle(ended.hand.all("pin")[2])
    ended.hand.click_at((x - 120, y))
    ended.frame()
    assert ended.hand.all("screen", "debrief")
    ended.hand.click_at((x + 14, y))
    ended.frame()
    assert ended.session.shown == pytest.approx(608.0, abs=0.1)


def test_pins_are_walked_by_keys(ended) -> None:
    """Right, End, Home, Left; Enter watches; the chosen pin is the timeline's value."""
    timeline = next(w for w in ended.app.root.layer.top.walk() if w.role == "timeline")
    ended.app.root.set_focus(timeline)
    ended.hand.key(pygame.K_RIGHT)
    assert ended.hand.find("timeline", "what happened when")["value"].startswith("1 · 4:12")
    ended.hand.key(pygame.K_END, pygame.K_RIGHT)
    assert ended.hand.find("timeline", "what happened when")["value"].startswith("2 · 10:12")
    ended.hand.key(pygame.K_HOME, pygame.K_LEFT)
    assert ended.hand.find("timeline", "what happened when")["value"].startswith("4 · 2:51")
    ended.hand.key(pygame.K_RETURN)
    ended.frame()
    assert ended.session.shown == pytest.approx(167.0, abs=0.1)


def test_pages_beside_the_result_are_turned(ended) -> None:
    """Measurements with what they showed, force curves, the expert's way: one at a time."""
    assert ended.hand.all("finding")
    ended.hand.click("option", "Measurements")
    ended.frame()
    assert ended.hand.all("finding") == []
    assert len(ended.hand.all("measurement")) == 3
    assert "27.3 V" in ended.hand.texts()
    ended.hand.click("option", "The expert's way")
    ended.frame()
    assert len(ended.hand.all("act")) == 7
    assert "⊘ left out" in ended.hand.texts()
    assert "Remove battery link" in ended.hand.texts()
    ended.hand.click("option", "Force")
    ended.frame()
    assert "only a curve on a gauge shows one" in ended.hand.texts()
    ended.hand.click("option", "Measurements")
    ended.frame()
    ended.hand.click("button", "Watch")
    ended.frame()
    assert ended.session.shown == pytest.approx(127.0, abs=0.1)


def test_what_was_left_behind_is_told(work, monkeypatch) -> None:
    """Whoever went on from an earlier moment reads so; whoever did not reads nothing of it."""
    work.session.do("make safe", {"reason": "no parts"})
    work.frame(2)
    assert "Left behind" not in work.hand.texts()
    told = replace(yard.debrief(), left=(LeftView(Us(60_000_000), Us(95_000_000), 3),))
    monkeypatch.setattr(yard, "debrief", lambda: told)
    work.frame()
    work.app.show_debrief()
    work.frame()
    assert "You went on from 1:00. What came after, up to 1:35, was left: 3 acts." in work.hand.texts()


def test_both_marks_stand_where_an_instructor_overruled(work, monkeypatch) -> None:
    """The computed mark, and under it the other with each ruling, by whom and why; and competences."""
    work.session.do("make safe", {"reason": "no parts"})
    work.frame(2)
    assert not work.hand.all("region", "overruled by an instructor")
    assert "Competences" not in work.hand.texts()
    computed = yard.debrief()
    told = replace(computed, overruled=OVERRULED, competences=COMPETENCES)
    monkeypatch.setattr(yard, "debrief", lambda: told)
    work.frame()
    work.app.show_debrief()
    work.frame()
    texts = work.hand.texts()
    result, ruled = (work.hand.find("region", name) for name in ("result", "overruled by an instructor"))
    assert pygame.Rect(result["rect"]).bottom <= pygame.Rect(ruled["rect"]).top
    assert f"{computed.score:g}" in str(result)
    assert "71" in str(ruled)
    assert "A guard was left bridged: computed: failed; overruled: passed" in texts
    assert "T. Marsh, 2026-05-04: The link was out; I saw it." in texts
    assert "Proves what protects shown" in texts


def test_one_thing_to_practise_stands_beside_the_result(ended) -> None:
    """A sentence, not a list."""
    notes = [f"{told['label']} {told['value']}" for told in ended.hand.all("note")]
    assert sum("A guard was left bridged: declare" in note for note in notes) == 1


@pytest.mark.parametrize(("answer", "ending"), [("Print (PDF)", "pdf"), ("Page for a browser (HTML)", "html")])
def test_the_report_is_written_and_its_place_is_said(ended, tmp_path, answer, ending) -> None:
    """The folder is asked for, the file is there, the message says where."""
    ended.hand.click("button", "Write the report…")
    ended.frame()
    entry = next(w for w in ended.app.root.layer.top.walk() if w.role == "text entry")
    ended.app.root.set_focus(entry)
    ended.hand.key(pygame.K_a, mod=pygame.KMOD_CTRL)
    ended.hand.type(str(tmp_path / "out"))
    ended.hand.click("button", answer)
    wait_for_report()
    ended.frame()
    path = tmp_path / "out" / f"debrief First run.{ending}"
    assert path.stat().st_size > 10_000
    assert any(str(path) in said for said in ended.said())


def test_a_folder_that_cant_be_written_is_said(ended, tmp_path) -> None:
    """The sentence says what to do; the window goes on."""
    (tmp_path / "file").write_text("in the way")
    ended.hand.click("button", "Write the report…")
    ended.frame()
    entry = next(w for w in ended.app.root.layer.top.walk() if w.role == "text entry")
    ended.app.root.set_focus(entry)
    ended.hand.key(pygame.K_a, mod=pygame.KMOD_CTRL)
    ended.hand.type(str(tmp_path / "file"))
    ended.hand.click("button", "Print (PDF)")
    wait_for_report()
    ended.frame()
    assert any("Choose a folder that you may write into" in said for said in ended.said())
    assert ended.hand.all("screen", "debrief")


def test_a_job_in_which_nothing_was_done_has_a_debrief_too(work, monkeypatch) -> None:
    """No finding, no reading, no way, no time: sentences say so, and no key stumbles."""
    whole = yard.debrief()
    empty = replace(whole, findings=(), measured=(), way=(), practise="", parts=(), lines=(), report_path="")
    monkeypatch.setattr(yard, "debrief", lambda: empty)
    monkeypatch.setattr(yard, "WORTH", WorthView("there"))
    work.session.do("make safe", {"reason": "no parts"})
    work.frame(2)
    assert "There are no findings." in work.hand.texts()
    timeline = next(w for w in work.app.root.layer.top.walk() if w.role == "timeline")
    work.app.root.set_focus(timeline)
    work.hand.key(pygame.K_RIGHT, pygame.K_RETURN)
    work.hand.click_at(timeline.rect.center)
    for page, words in (
        ("Measurements", "Nothing was measured."),
        ("Force", "No closing force was measured"),
        ("The expert's way", "no solution of its own"),
    ):
        work.hand.click("option", page)
        work.frame()
        assert words in work.hand.texts()
    assert work.hand.all("screen", "debrief")


def test_worth_stands_under_each_measurement(ended) -> None:
    """With the best of then in words beside its bar; a look that left no reading has a row; then the repairs."""
    ended.hand.click("option", "Measurements")
    ended.frame(2)
    texts = ended.hand.texts()
    assert "Marks don't depend on it." in texts
    assert "Expected to tell 0.4 bit, told 0.6 bit; the best then, 1.2 bit: inner beam, tripped by hand" in texts
    assert "Watching it open from shut" in texts
    assert "nothing would have told more" in texts
    assert "By what was known then 62 % likely: photo beam misaligned" in texts
    assert len(ended.hand.all("measurement")) == 3
    assert len(ended.hand.all("look")) == 1
    assert len(ended.hand.all("worth")) == 5
    assert [bar["value"] for bar in ended.hand.all("share")] == ["4 %", "100 %", "36 %", "62 %", "0 %"]


def test_worth_that_is_worked_out_comes_by_itself(ended, monkeypatch) -> None:
    """Asked for only while the page is looked at, and once a second at most; it says so meanwhile."""
    asked: list[int] = []

    def not_yet() -> WorthView:
        asked.append(len(asked))
        return WorthView("being worked out", BEING_WORKED_OUT) if len(asked) < 4 else yard.WORTH

    monkeypatch.setattr(ended.session, "worth", not_yet)
    ended.app.show_debrief()
    ended.frame(40, wall_s=0.1)
    assert asked == []
    ended.hand.click("option", "Measurements")
    ended.frame(1, wall_s=0.1)
    assert len(asked) == 1
    assert "it comes here by itself" in ended.hand.texts()
    assert len(ended.hand.all("measurement")) == 3
    assert ended.hand.all("worth") == []
    ended.frame(25, wall_s=0.1)
    assert len(asked) == 3
    ended.frame(50, wall_s=0.1)
    assert len(asked) == 4
    assert "it comes here by itself" not in ended.hand.texts()
    assert len(ended.hand.all("worth")) == 5


def test_why_there_is_no_worth_is_said_once(ended, monkeypatch) -> None:
    """Nobody is asked again."""
    asked: list[str] = []

    def none() -> WorthView:
        asked.append("")
        return WorthView("can't be worked out", NO_CAUSE)

    monkeypatch.setattr(ended.session, "worth", none)
    ended.app.show_debrief()
    ended.hand.click("option", "Measurements")
    ended.frame(40, wall_s=0.1)
    assert "asks for no cause" in ended.hand.texts()
    assert len(ended.hand.all("measurement")) == 3
    assert len(asked) == 1
