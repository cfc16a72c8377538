"""Every instrument there is. One file each; an entry here is all that a bag, a form and a test need."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from sim.instruments.instrument import Instrument
from sim.instruments.multimeter import Multimeter
from sim.instruments.two_pole_tester import TwoPoleTester

SHELF: Final[tuple[Callable[[], Instrument], ...]] = (
    TwoPoleTester,
    Multimeter,
)
"""How each is made new; a bag makes one of each for itself."""
