"""The sheet as bookwork: what was changed since one came is marked, and both kinds of edit have a way back."""

from __future__ import annotations

import pygame
import pytest


def _mark(work, setting: str) -> list[str]:
    """What stands below a setting."""
    row = work.hand.find("setting", setting)
    return [told["value"] for told in row["children"] if told["role"] == "item"]


def _step(work, setting: str) -> None:
    """Type a step up into a number field, without writing it."""
    work.hand.click("number entry", setting)
    work.hand.key(pygame.K_UP)
    work.frame()


def test_a_changed_setting_says_what_it_was(work) -> None:
    """Below the setting, in words; gone when it stands there again."""
    work.page("Sheet")
    assert _mark(work, "leaf delay, opening") == []
    _step(work, "leaf delay, opening")
    work.hand.key(pygame.K_RETURN)
    work.frame()
    assert _mark(work, "leaf delay, opening") == ["was 2 s when you came"]
    assert "leaf delay, opening, 2 s before, now 2.5 s. One setting is not as you found it." in work.hand.texts()
    work.hand.click("button", "Undo")
    work.frame()
    assert work.acts("set")[-1] == {"setting": "leaf delay, opening", "value": "2"}
    assert _mark(work, "leaf delay, opening") == []
    assert not work.hand.all("button", "Undo"), "nothing is left to put back"


def test_what_is_not_written_is_taken_back_without_an_act(work) -> None:
    """The button names the fields that wait; afterwards they show what stands in the controller."""
    work.page("Sheet")
    _step(work, "leaf delay, opening")
    assert "Not written yet: leaf delay, opening. Enter writes it." in work.hand.texts()
    work.hand.click("button", "Take back")
    work.frame()
    assert work.hand.find("number entry", "leaf delay, opening")["value"] == "2"
    assert "Not written yet" not in work.hand.texts()
    assert work.acts("set") == []


def test_ctrl_z_goes_back_step_by_step(work) -> None:
    """What is typed first, then each written change, newest first; then nothing more happens."""
    work.page("Sheet")
    write = work.screen.folder.page._write
    write("run speed", "60")
    write("slow speed", "40")
    work.frame()
    work.app.root.set_focus(None)
    for back in ({"setting": "slow speed", "value": "35"}, {"setting": "run speed", "value": "80"}):
        work.hand.key(pygame.K_z, mod=pygame.KMOD_CTRL)
        work.frame()
        assert work.acts("set")[-1] == back
    work.hand.key(pygame.K_z, mod=pygame.KMOD_CTRL)
    assert len(work.acts("set")) == 4


def test_a_physical_act_is_never_undone(work) -> None:
    """Ctrl Z beside other pages does nothing to the gate."""
    work.page("Cabinet")
    work.session.do("isolate")
    done = list(work.session.done)
    work.hand.key(pygame.K_z, mod=pygame.KMOD_CTRL)
    work.frame()
    assert work.session.done == done


def test_a_sealed_sheet_can_not_be_undone(work) -> None:
    """The button is there and off; the key does nothing."""
    work.page("Sheet")
    work.screen.folder.page._write("run speed", "60")
    work.session.sealed = True
    work.frame()
    assert not work.hand.find("button", "Undo")["enabled"]
    work.hand.key(pygame.K_z, mod=pygame.KMOD_CTRL)
    assert len(work.acts("set")) == 1


def test_putting_more_effort_back_is_asked_about_like_any_raise(work) -> None:
    """Facts 10.9: raising effort is the classic error, also when it only stands there again."""
    work.page("Sheet")
    work.screen.folder.page._write("motor effort, closing", "30")
    work.frame()
    work.hand.click("button", "Undo")
    assert "More effort never cures" in work.hand.texts()
    assert len(work.acts("set")) == 1


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_marks_stay_inside_the_page(open_job, scale: float) -> None:
    """At the least window and the largest text the line below a setting and both ways back have room."""
    work = open_job((1280, 800), scale=scale)
    work.page("Sheet")
    work.screen.folder.page._write("auto-close after", "90")
    _step(work, "leaf delay, opening")
    page = pygame.Rect(work.hand.find("scroll area", "Sheet")["rect"])
    for told in (
        work.hand.find("button", "Undo"),
        work.hand.find("button", "Take back"),
        work.hand.find("setting", "auto-close after"),
    ):
        assert page.left <= told["rect"][0]
        assert told["rect"][0] + told["rect"][2] <= page.right
