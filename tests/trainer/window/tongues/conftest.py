"""An ear at the door of all text, and the language that is spoken meanwhile."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from tests.trainer.window.tongues.listening import Ear, hear
from trainer.language import speak
from trainer.window import appearance


@pytest.fixture
def ear(monkeypatch: pytest.MonkeyPatch) -> Ear:
    """Hears all that is written on any screen."""
    ear = Ear()
    hear(ear, monkeypatch)
    return ear


@pytest.fixture
def spoken(monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[Callable[[str], str]], None]]:
    """Speak a language of the test's own, whatever a window prefers; English again afterwards."""
    monkeypatch.setattr(appearance, "take", lambda *_preferred: "")
    yield speak
    speak(str)
