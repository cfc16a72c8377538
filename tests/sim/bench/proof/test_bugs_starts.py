"""Promises about starting, closing by itself, power, radio and records can be broken, and the search finds it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

SUBJECTS = ("starting", "closing", "power", "radio", "record_keeping", "sameness")


def test_a_seeded_bug_is_found(hunts: Callable[[Any, int], None], bug: Any, seed: int) -> None:
    hunts(bug, seed)
