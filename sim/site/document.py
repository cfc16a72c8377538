"""A file as it was read: plain data, and where every key and value stood in the text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from sim.said import Verbatim, joined

Scalar: TypeAlias = str | int | float | bool | None
Data: TypeAlias = "Scalar | list[Data] | dict[str, Data]"
Key: TypeAlias = tuple[str | int, ...]
"""Where something is inside a document: keys and list positions from the top."""


def child(value: Data, part: str | int) -> Data:
    """One key or position further down. Raises KeyError when nothing stands there."""
    if isinstance(value, dict) and isinstance(part, str):
        return value[part]
    if isinstance(value, list) and isinstance(part, int) and 0 <= part < len(value):
        return value[part]
    raise KeyError(part)


@dataclass(frozen=True, slots=True)
class Place:
    """Line and column of a key or a list item, counted from 1."""

    line: int
    column: int


@dataclass(frozen=True, slots=True)
class Document:
    """Plain data with places. `path` is only for sentences."""

    path: str
    data: dict[str, Data]
    places: Mapping[Key, Place] = field(default_factory=dict)

    def at(self, key: Key) -> Data:
        """The value at a key. Raises KeyError when there is none."""
        value: Data = self.data
        for part in key:
            value = child(value, part)
        return value

    def where(self, key: Key) -> str:
        """`file:line:column dotted.key`, the place being that of the nearest thing above that stands in the text."""
        name = ".".join(str(part) for part in key)
        for length in range(len(key), -1, -1):
            place = self.places.get(key[:length])
            if place is not None:
                return f"{self.path}:{place.line}:{place.column} {name}".rstrip()
        return f"{self.path} {name}".strip()

    def complaint(self, key: Key, text: str) -> str:
        """A whole sentence about the value at a key."""
        return joined([Verbatim(self.where(key)), text], ": ")
