"""The sounds as samples, made of numbers: whole periods, so that a hum can be repeated without a seam.

Deterministic: noise comes from a generator with a fixed seed. Nothing here plays.
"""

from __future__ import annotations

from typing import Final, TypeAlias

import numpy as np
import numpy.typing as npt

from trainer.window.sound.ear import SoundName

Samples: TypeAlias = npt.NDArray[np.int16]
_Wave: TypeAlias = npt.NDArray[np.float64]

RATE: Final = 22_050
"""Samples a second [Hz]."""

HUM_S: Final = 0.5
"""About how long one piece of a hum is [s]; it is repeated."""

PITCHES_HZ: Final = (45.0, 60.0, 80.0, 105.0, 140.0, 185.0, 240.0, 310.0, 400.0)
"""The hums that are made; one of them is the nearest to any motor [Hz]. Steps of about a third. Ours."""

LOADS: Final = (0.0, 0.5, 1.0)

_LOUDEST: Final = 32_000.0


def hum(hz: float, load: float) -> Samples:
    """A motor: a tone with more and stronger overtones the harder it works (`load` 0 to 1)."""
    periods = max(1, round(hz * HUM_S))
    count = round(RATE * periods / hz)
    turn = np.arange(count) / count * periods
    wave: _Wave = np.zeros(len(turn))
    for overtone in range(1, 9):
        wave += np.sin(2.0 * np.pi * overtone * turn) * (0.25 + 0.6 * load) ** (overtone - 1)
    return _whole(wave / np.abs(wave).max() * 0.5)


def voice(name: SoundName) -> Samples:
    """A sound that is heard once."""
    if name == "relay click":
        return _whole(0.8 * _burst(0.03, 0.004) + 0.5 * _ring(1_800.0, 0.03, 0.006))
    if name == "lamp tick":
        return _whole(0.5 * _ring(3_200.0, 0.015, 0.003))
    if name == "bump":
        return _whole(0.9 * _ring(75.0, 0.3, 0.06) + 0.3 * _burst(0.3, 0.015))
    tone = np.sin(2.0 * np.pi * 2_000.0 * _time(0.4))
    return _whole(0.4 * tone * np.minimum(1.0, np.minimum(_time(0.4), _time(0.4)[::-1]) / 0.005))


def _time(seconds: float) -> _Wave:
    return np.arange(round(RATE * seconds)) / RATE


def _ring(hz: float, seconds: float, fades_s: float) -> _Wave:
    time = _time(seconds)
    rung: _Wave = np.sin(2.0 * np.pi * hz * time) * np.exp(-time / fades_s)
    return rung


def _burst(seconds: float, fades_s: float) -> _Wave:
    time = _time(seconds)
    noise: _Wave = np.random.default_rng(1).uniform(-1.0, 1.0, len(time)) * np.exp(-time / fades_s)
    return noise


def _whole(wave: _Wave) -> Samples:
    return np.clip(wave * _LOUDEST, -_LOUDEST, _LOUDEST).astype(np.int16)
