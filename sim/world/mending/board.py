"""Repairs of the board and its box that the names of elements don't give by themselves."""

from __future__ import annotations

from typing import Final

from sim.world.mending.row import Mend

ROWS: Final[tuple[Mend, ...]] = (
    Mend(
        "replace",
        "board",
        elements=("*, input", "*, pull-up", "*, common", "*, return", "board*"),
        closes=("board, feed track",),
        extras=("board, *",),
        seconds=2400.0,
        parts=("board",),
    ),
    Mend("clean", "board", extras=("board, nest*",), seconds=1200.0, dead=True),
    Mend("dry", "board", extras=("board, water*",), seconds=3600.0, dead=True),
    Mend(
        "adjust",
        "cable glands",
        extras=("board, rain along a cable*",),
        seconds=1800.0,
        dead=True,
        parts=("cable gland",),
    ),
)
"""The board as a whole, and what gets into its box."""
