"""Which symbol a part carries: told by the words of its name, an open box where none fits."""

from __future__ import annotations

from typing import Final

WORDS: Final = (
    ("earth", "earth"),
    ("isolator", "switch"),
    ("residual", "switch"),
    ("fuse", "fuse"),
    ("power supply", "supply"),
    ("charger", "supply"),
    ("battery", "battery"),
    (" cell", "battery"),
    ("active post", "earth"),
    ("encoder", "pulses"),
    ("limit switch", "contact"),
    ("motor", "motor"),
    ("capacitor", "capacitor"),
    ("radio", "aerial"),
    ("aerial", "aerial"),
    ("emitter", "emitter"),
    ("receiver", "receiver"),
    ("edge", "resistor"),
    ("loop", "coil"),
    ("lock", "coil"),
    ("lamp", "lamp"),
    ("light", "lamp"),
    ("stop", "opening contact"),
    ("emergency", "contact"),
    ("button", "push contact"),
    ("key switch", "contact"),
    ("keypad", "contact"),
    ("intercom", "contact"),
    ("timer", "contact"),
    ("contact", "contact"),
)
"""First word found decides."""


def symbol_of(part: str) -> str:
    """The symbol of a part."""
    low = part.lower()
    return next((symbol for word, symbol in WORDS if word in low), "box")
