"""The loudspeaker: opened behind the first frame, silent without a card, follows the hum, obeys off and volume."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pygame
import pytest

from trainer.window.app import App
from trainer.window.canned import CannedDesk
from trainer.window.sound.ear import SILENCE, SOUNDS, Heard, Hum, Sound
from trainer.window.sound.speaker import Speaker

ROOT = Path(__file__).resolve().parents[4]

OVER = pygame.USEREVENT + 7
"""Posted by a channel when its sound has ended or was stopped."""


@pytest.fixture
def speaker() -> Iterator[Speaker]:
    """One that is open, on a card that nobody hears."""
    pygame.display.init()
    made = Speaker()
    made.open()
    assert made.ready
    yield made
    pygame.mixer.quit()


def test_every_sound_can_be_played(speaker) -> None:
    """Each by itself takes a channel, and says when that is free again: a tick is over before one can look."""
    for name in SOUNDS:
        for free in range(pygame.mixer.get_num_channels()):
            pygame.mixer.Channel(free).set_endevent(OVER)
        pygame.event.clear(OVER)
        speaker.play(Heard(sounds=(Sound(name),)), 0.5)
        pygame.mixer.stop()
        assert len(pygame.event.get(OVER)) == 1, name


def test_a_hum_follows_its_motor_and_ends_with_it(speaker) -> None:
    """The nearest piece by ratio of pitch; both leaves at once."""
    both = Heard(hums=(Hum("active", 297.0, 0.1), Hum("inactive", 50.0, 0.9)))
    speaker.play(both, 0.5)
    assert speaker.humming == {"active": (310.0, 0.0), "inactive": (45.0, 1.0)}
    speaker.play(Heard(hums=(Hum("active", 150.0, 0.4),)), 0.5)
    assert speaker.humming == {"active": (140.0, 0.5)}
    speaker.play(SILENCE, 0.5)
    assert speaker.humming == {}


def test_off_is_off(speaker) -> None:
    """At no volume nothing is played, and what hums ends."""
    loud = Heard(hums=(Hum("active", 150.0, 0.4),), sounds=(Sound("bump"),))
    speaker.play(loud, 0.5)
    pygame.mixer.stop()
    speaker.play(loud, 0.0)
    assert speaker.humming == {}
    assert not pygame.mixer.get_busy()


def test_a_machine_without_a_card_is_told_nothing() -> None:
    """No error, no line on the terminal, no sound; whatever is played after that."""
    program = (
        "import trainer.window.sound.speaker as s\n"
        "from trainer.window.sound.ear import Heard, Sound\n"
        "speaker = s.Speaker(); speaker.open(); speaker.play(Heard(sounds=(Sound('bump'),)), 1.0)\n"
        "print(speaker.ready)"
    )
    bare = {name: value for name, value in os.environ.items() if not name.startswith(("SDL_AUDIO", "PULSE", "XDG"))}
    for driver in (
        {"SDL_AUDIODRIVER": "nonsense"},
        {"SDL_AUDIODRIVER": "disk", "SDL_DISKAUDIOFILE": "/no/such/place"},
    ):
        told = subprocess.run(
            [sys.executable, "-c", program],
            capture_output=True,
            text=True,
            check=True,
            cwd=ROOT,
            env={**bare, **driver, "PYGAME_HIDE_SUPPORT_PROMPT": "1"},
        )
        assert (told.stdout, told.stderr) == ("False\n", "")


def test_neither_numbers_nor_mixer_come_before_the_first_frame() -> None:
    """Then they do, in a thread of their own."""
    program = (
        "import sys, threading\n"
        "from trainer.window.app import App\n"
        "from trainer.window.sound.speaker import Speaker\n"
        "import pygame\n"
        "class Desk:\n"
        "    def jobs(self): return ()\n"
        "speaker = Speaker(); app = App(Desk(), speaker=speaker)\n"
        "before = ('numpy' in sys.modules, pygame.mixer.get_init())\n"
        "app.frame(0.0)\n"
        "[t.join(60) for t in threading.enumerate() if t.name == 'loudspeaker']\n"
        "print(before, speaker.ready)"
    )
    told = subprocess.run(
        [sys.executable, "-c", program],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
        env={**os.environ, "PYGAME_HIDE_SUPPORT_PROMPT": "1"},
    )
    assert told.stdout.strip() == "(False, None) True"


class Listener(Speaker):
    """Notes what it is asked to play."""

    def __init__(self) -> None:
        super().__init__()
        self.heard: list[tuple[Heard, float]] = []
        self.opened_in = ""

    def open(self) -> None:
        self.opened_in = threading.current_thread().name

    def play(self, heard: Heard, volume: float) -> None:
        self.heard.append((heard, volume))


def test_sound_and_volume_are_the_persons_choice() -> None:
    """Off, or louder, at once; leaving the session ends every hum."""
    listener, desk = Listener(), CannedDesk()
    app = App(desk, speaker=listener)
    app.frame(0.0)
    app._open(lambda: desk.start("first-run", "practice", 7))
    app.appearance.prefer(volume=0.25)
    app.frame(0.01)
    assert listener.heard[-1][1] == 0.25
    app.appearance.prefer(sound=False)
    app.frame(0.01)
    assert listener.heard[-1][1] == 0.0
    app.show_desk()
    assert listener.heard[-1] == (SILENCE, 0.0)
