"""Every instrument there is. One file each; an entry here is all that a bag, a form and a test need."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from sim.instruments.instrument import Instrument

SHELF: Final[tuple[Callable[[], Instrument], ...]] = ()
"""How each is made new; a bag makes one of each for itself."""
