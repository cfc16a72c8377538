"""Cautions that stand before a measurement, one wording for all instruments (facts 10)."""

from __future__ import annotations

from typing import Final

LIVE_WORK: Final = "Live measurement: right category and range, leads checked, one hand, no loose sleeves."
DEAD_ONLY: Final = "Only on a dead circuit: isolate both sources and prove dead first, or the figure is worthless."
BOARD_OFF: Final = "Test voltage destroys electronics: pull every plug of the board first, keep hands off."
NOBODY_ON_IT: Final = "The gate loses its supply: nobody in the arc, and no hand on a leaf."
