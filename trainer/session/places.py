"""Places as acts name them: `isolator outlet, live` is a part and its pin, and a language has a word for either."""

from __future__ import annotations

from typing import Final

from sim.said import joined

PLACES: Final = frozenset({"at", "against", "red", "black", "one", "other", "what"})
"""Arguments of acts that name a terminal, a core or a part."""


def argument_words(name: str, value: str) -> str:
    """The value of an act's argument; where it names a place, each name in it can be had in any language."""
    return joined(value.split(", "), ", ") if name in PLACES else value
