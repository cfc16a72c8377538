"""Plays what is heard, where the machine has something to play on; else it stays silent and says nothing.

Samples are made and the card is opened by `open`, which is called behind the first frame: neither numpy nor the
mixer is loaded before it.
"""

from __future__ import annotations

import logging
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

import pygame

if TYPE_CHECKING:
    from trainer.window.sound.ear import Heard, Hum, SoundName

log = logging.getLogger(__name__)

BLOCK: Final = 512
"""Samples the card takes at once: 23 ms, so that a click comes with its picture."""

FADE_MS: Final = 60
"""A hum glides into the next one [ms]."""

HUMS: Final = 0.35
"""A hum against a click, at the same volume. Ours."""


class Speaker:
    """The loudspeaker of one window."""

    def __init__(self) -> None:
        self._sounds: dict[SoundName, pygame.mixer.Sound] = {}
        self._hums: dict[tuple[float, float], pygame.mixer.Sound] = {}
        self._channels: dict[str, tuple[pygame.mixer.Channel, pygame.mixer.Channel]] = {}
        """Two for each leaf: one hum fades out while the next fades in."""
        self._playing: dict[str, tuple[float, float]] = {}
        self.ready = False

    def open(self) -> None:
        """Make the samples and open the card. Without a card nothing happens: a machine may well have none."""
        if not has_card():
            log.info("no sound card: the gate stays silent")
            return
        from trainer.window.sound.ear import SOUNDS
        from trainer.window.sound.voices import LOADS, PITCHES_HZ, RATE, hum, voice

        try:
            pygame.mixer.init(RATE, -16, 1, BLOCK, allowedchanges=0)
        except pygame.error as error:
            log.info("the sound card does not open (%s): the gate stays silent", error)
            return
        pygame.mixer.set_num_channels(12)
        pygame.mixer.set_reserved(4)
        for name in SOUNDS:
            self._sounds[name] = pygame.sndarray.make_sound(voice(name))
        for hz in PITCHES_HZ:
            for load in LOADS:
                self._hums[hz, load] = pygame.sndarray.make_sound(hum(hz, load))
        for n, leaf in enumerate(("active", "inactive")):
            self._channels[leaf] = (pygame.mixer.Channel(2 * n), pygame.mixer.Channel(2 * n + 1))
        self.ready = True

    def play(self, heard: Heard, volume: float) -> None:
        """Let it be heard at a volume from 0 to 1; called once a frame."""
        if not self.ready:
            return
        for sound in heard.sounds:
            channel = pygame.mixer.find_channel()
            if channel is not None and volume > 0.0:
                channel.play(self._sounds[sound.name])
                channel.set_volume(volume * sound.loudness)
        humming = {hum.leaf: hum for hum in heard.hums} if volume > 0.0 else {}
        for leaf, channels in self._channels.items():
            self._hum(leaf, channels, humming.get(leaf), volume)

    def _hum(
        self,
        leaf: str,
        channels: tuple[pygame.mixer.Channel, pygame.mixer.Channel],
        hum: Hum | None,
        volume: float,
    ) -> None:
        now, other = channels
        wanted = self._nearest(hum) if hum is not None else None
        now.set_volume(volume * HUMS)
        if wanted == self._playing.get(leaf):
            return
        now.fadeout(FADE_MS)
        self._channels[leaf] = (other, now)
        if wanted is None:
            del self._playing[leaf]
            return
        self._playing[leaf] = wanted
        other.play(self._hums[wanted], loops=-1, fade_ms=FADE_MS)
        other.set_volume(volume * HUMS)

    def _nearest(self, hum: Hum) -> tuple[float, float]:
        """The piece made that is nearest in pitch, by ratio, and in load."""
        return min(self._hums, key=lambda made: (max(made[0] / hum.hz, hum.hz / made[0]), abs(made[1] - hum.load)))

    @property
    def humming(self) -> dict[str, tuple[float, float]]:
        """What hums now: leaf, and its piece as (pitch [Hz], load)."""
        return dict(self._playing)


def has_card() -> bool:
    """Whether there is anything to play on. Asked first, because the sound system of Linux complains on the
    terminal about a card that isn't there."""
    if os.environ.get("SDL_AUDIODRIVER") or not sys.platform.startswith("linux"):
        return True
    served = os.environ.get("PULSE_SERVER")
    runtime = Path(os.environ.get("XDG_RUNTIME_DIR") or f"/run/user/{os.getuid()}")
    sockets = (runtime / "pulse" / "native", runtime / "pipewire-0")
    return bool(served) or any(socket.exists() for socket in sockets) or any(Path("/dev/snd").glob("pcm*p"))
