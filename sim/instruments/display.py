"""A display of digits: ranges, the scale of one specimen, the noise of one reading. What electrical meters share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sim.draws import normal
from sim.instruments.shown import Shown

PREFIXES: Final = {"": 1.0, "m": 1e-3, "µ": 1e-6, "k": 1e3, "M": 1e6}
"""What stands before a unit, and by how much it counts."""


@dataclass(frozen=True, slots=True)
class Range:
    """One range: up to `most`, in steps of `step`, both in the plain unit; shown with a prefix."""

    most: float
    step: float
    prefix: str = ""


@dataclass(frozen=True, slots=True)
class Display:
    """How one function of one instrument shows a true value."""

    part: str
    """Who draws: the instrument."""
    function: str
    unit: str
    ranges: tuple[Range, ...]
    gain_error: float = 0.002
    """Deviation of one specimen's scale from the truth: a draw of its own, the same for all its readings."""
    noise_steps: float = 0.4
    """Deviation of one reading [steps of the range]."""
    beyond: str = "over range"
    """What it shows above its highest range."""

    def show(self, true: float, seed: int, index: int | None) -> Shown:
        """The display in the range it settles in; without noise for what is kept of many looks (`index` None)."""
        scaled = true * (1.0 + self.gain_error * normal(seed, self.part, f"scale, {self.function}"))
        noise = 0.0 if index is None else self.noise_steps * normal(seed, self.part, self.function, index)
        for span in self.ranges:
            value = round(scaled / span.step + noise) * span.step
            if abs(value) <= span.most:
                return self._shown(value, span)
        return Shown(None, self.unit, self.beyond, ("over range",))

    def keep(self, true: float | None, seed: int) -> float | None:
        """Least or most as it is kept: on this specimen's scale, to its resolution, without the noise of one look."""
        return None if true is None else self.show(true, seed, None).value

    def _shown(self, value: float, span: Range) -> Shown:
        digits = _digits(span.step)
        value = round(value, digits) + 0.0
        shown = value / PREFIXES[span.prefix]
        text = f"{shown:.{_digits(span.step / PREFIXES[span.prefix])}f} {span.prefix}{self.unit}"
        return Shown(value, self.unit, text)


def _digits(step: float) -> int:
    return max(0, len(f"{step:.12f}".rstrip("0").split(".")[1]))
