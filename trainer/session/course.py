"""The course of something that changes now and then: from which instant on it was what."""

from __future__ import annotations

from bisect import bisect_right
from typing import Generic, TypeVar

Thing = TypeVar("Thing")


class Course(Generic[Thing]):
    """What something was from the beginning on, and each change of it; asked for any instant in no time."""

    def __init__(self, first: Thing) -> None:
        self._since: list[int] = []
        self._was: list[Thing] = [first]

    @property
    def last(self) -> Thing:
        """What it is now."""
        return self._was[-1]

    def put(self, at: int, now: Thing) -> None:
        """It is this from an instant on [µs], no earlier than the last one; what it is already is no change."""
        if now != self._was[-1]:
            self._since.append(at)
            self._was.append(now)

    def at(self, when: int) -> Thing:
        """What it was at an instant [µs]: of several changes in one instant the last one counts."""
        return self._was[bisect_right(self._since, when)]
