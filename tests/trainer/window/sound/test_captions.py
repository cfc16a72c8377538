"""The caption strip: every sound in words, for a few seconds, at every size; off when the person wants none."""

from __future__ import annotations

import pygame
import pytest

from trainer.window.kit.root import HOVER_WAIT_S
from trainer.window.sound.captions import STAYS_S


def written(work) -> str:
    """What the strip says."""
    return str(work.hand.find("captions", "sounds")["value"])


def open_the_gate(work) -> None:
    """Until it moves."""
    work.free()
    work.hand.down(work.hand.middle(work.hand.find("hold button", "Open")))
    work.frame(3, wall_s=0.02)


def test_what_is_heard_is_written_and_goes_again(work) -> None:
    """A movement begins with relay, lamp and motors; the strip keeps the last three, its help the others."""
    assert written(work) == ""
    open_the_gate(work)
    said = written(work)
    assert "motor hum, inactive leaf" in said
    strip = work.screen.captions
    assert "relay click, cabinet; lamp ticks; motor hum, active leaf" in strip.help
    work.session.pause(True)
    work.frame(round(STAYS_S / 0.1) + 2, wall_s=0.1)
    assert written(work) == ""
    assert "relay click" in strip.help


def test_captions_are_not_written_anew_at_every_frame(work) -> None:
    """Only changes are said."""
    open_the_gate(work)
    before = work.screen.captions.help
    work.frame(20, wall_s=0.02)
    assert work.screen.captions.help == before


def test_captions_can_be_off(work) -> None:
    """From the settings."""
    work.hand.click("menu", "More")
    work.hand.click("option", "Settings…")
    work.hand.click("tick box", "Captions: what can be heard is written as well")
    work.hand.click("button", "Done")
    open_the_gate(work)
    assert written(work) == ""


@pytest.mark.parametrize(("size", "scale"), [((1280, 800), 1.0), ((1280, 800), 2.0), ((1920, 1080), 2.0)])
def test_captions_are_in_sight_whichever_part_is_shown(open_job, size, scale) -> None:
    """Where the time strip takes its turn they have a line of their own."""
    work = open_job(size, scale=scale)
    for part in ("Yard", "Folder", "Time"):
        work.screen.turn_to(part)
        work.frame()
        rect = pygame.Rect(work.hand.find("captions", "sounds")["rect"])
        assert pygame.Rect((0, 0), size).contains(rect)
        assert rect.width > 200
        assert work.app.root.layer.top.at(rect.center) is work.screen.captions


def test_what_was_heard_before_is_read_by_resting_there(work) -> None:
    """As all help is."""
    open_the_gate(work)
    work.hand.up(work.hand.middle(work.hand.find("hold button", "Open")))
    work.hand.move(work.screen.captions.rect.center)
    work.frame(round(HOVER_WAIT_S / 0.1) + 2, wall_s=0.1)
    assert work.app.root.bubble.text.startswith("Heard, newest last: ")
