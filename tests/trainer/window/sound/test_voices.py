"""The samples: pitch where it was asked for, harder work is richer, a hum has no seam, nothing clips."""

from __future__ import annotations

import numpy as np
import pytest

from trainer.window.sound.ear import SOUNDS
from trainer.window.sound.voices import LOADS, PITCHES_HZ, RATE, hum, voice


def spectrum(samples) -> tuple[np.ndarray, np.ndarray]:
    """(frequency [Hz], strength), by numpy's own transform."""
    return np.fft.rfftfreq(len(samples), 1.0 / RATE), np.abs(np.fft.rfft(samples.astype(float)))


@pytest.mark.parametrize("hz", PITCHES_HZ)
def test_a_hum_has_its_pitch(hz: float) -> None:
    """The strongest tone is the one asked for, within a fiftieth."""
    at, strength = spectrum(hum(hz, 0.0))
    assert at[strength.argmax()] == pytest.approx(hz, rel=0.02)


def test_harder_work_is_richer() -> None:
    """The middle of the spectrum moves up with the load."""
    middles = []
    for load in LOADS:
        at, strength = spectrum(hum(140.0, load))
        middles.append((at * strength).sum() / strength.sum())
    assert middles == sorted(middles)
    assert middles[-1] > 1.5 * middles[0]


@pytest.mark.parametrize("hz", PITCHES_HZ)
@pytest.mark.parametrize("load", LOADS)
def test_a_hum_is_repeated_without_a_seam(hz: float, load: float) -> None:
    """The step from its end to its beginning is no larger than the steps within it."""
    samples = hum(hz, load).astype(int)
    assert abs(samples[0] - samples[-1]) <= np.abs(np.diff(samples)).max()


@pytest.mark.parametrize("name", SOUNDS)
def test_a_sound_is_short_ends_quietly_and_is_the_same_each_time(name) -> None:
    """Within half a second; no click at its end; deterministic."""
    samples = voice(name)
    assert 0.01 * RATE < len(samples) < 0.5 * RATE
    assert np.abs(samples.astype(int)).max() > 6_000
    assert np.abs(samples[-5:].astype(int)).max() < 600
    assert np.array_equal(samples, voice(name))
