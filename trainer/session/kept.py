"""What a view is made of, kept as long as it would come out the same: most of it stays for many frames."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar, cast

Built = TypeVar("Built")


class Kept:
    """Parts of a view by name, each with what it was built from. One for a session."""

    def __init__(self) -> None:
        self._parts: dict[str, tuple[object, object]] = {}

    def of(self, name: str, made_of: object, build: Callable[[], Built]) -> Built:
        """The part as it was built, or built anew where `made_of` is no longer what it was built from.

        `made_of` must name everything that the part shows, and be compared by `==`.
        """
        held = self._parts.get(name)
        if held is None or held[0] != made_of:
            held = self._parts[name] = made_of, build()
        return cast("Built", held[1])
