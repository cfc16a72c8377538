"""Letting go of what is held pressed: which acts do that, and the one that belongs to something held."""

from __future__ import annotations

from typing import Final

from sim.units import LEAVES

RELEASING: Final = frozenset({"jog release", "release", "release transmitter"})
"""Acts that let go of something; always allowed."""


def releasing(held: str) -> tuple[str, dict[str, object]]:
    """The action that lets go of something held, from the words it is held under."""
    if held.startswith("jog "):
        return "jog release", {"leaf": next(name for name in LEAVES if held == f"jog {name} leaf")}
    if held.startswith("transmitter "):
        return "release transmitter", {"transmitter": held.removeprefix("transmitter ")}
    return "release", {"control": held}
