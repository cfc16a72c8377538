"""Which readings of one measurement can be told apart, by somebody who has only the instrument and the trade.

Two gates that are both sound don't read the same to the last digit. So figures that lie close together are one class:
the steps of an instrument are finer than what its reading means. Words are classes of their own.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

NEAR: Final = 0.05
"""Figures closer than this share of the larger are one class. Common practice, no source."""

STEPS: Final = {
    "V": 0.2,
    "A": 0.1,
    "Ω": 0.5,
    "F": 1e-7,
    "s": 0.4,
    "°C": 4.0,
    "mm": 1.5,
    "mm/m": 1.0,
    "°": 0.5,
    "N": 10.0,
    "N·m": 0.2,
    "lx": 500.0,
    "m": 3.0,
    "m/s": 1.0,
    "dBm": 3.0,
    "×": 1.0,
    "": 1.0,
}
"""Figures closer than this are one class, whatever their share [unit]: what wiring, weather and hand make of a sound
gate. Of an instrument that is made for thousandths (its unit has a prefix) it is thousandths. Common practice, no
source."""

SCALES: Final = {"n": 1e-9, "µ": 1e-6, "m": 1e-3, "k": 1e3, "M": 1e6, "G": 1e9}

SCALED: Final = ("Ω", "V", "A", "F", "Hz")
"""Units that are shown with a prefix now and without one then."""

_FIGURE: Final = re.compile(r"(?<![\w.])(-?\d+(?:\.\d+)?)(?:\s?(n|µ|m|k|M|G)?(Ω|V|A|F|Hz))?(?![\w])")


@dataclass(frozen=True, slots=True)
class Shown:
    """A text with a gap for each figure, and the figures in units without a prefix."""

    shape: str
    figures: tuple[float, ...]

    @classmethod
    def of(cls, text: str) -> Shown:
        """What an instrument shows, taken apart."""
        figures = []

        def gap(match: re.Match[str]) -> str:
            number, scale, unit = match.groups()
            figures.append(float(number) * SCALES.get(scale or "", 1.0))
            return "# " + (unit or "")

        return cls(_FIGURE.sub(gap, text), tuple(figures))

    def steps(self, unit: str) -> tuple[float, ...]:
        """How far apart each figure must be to be another, at least. `unit`: of figures that are shown without."""
        scale, bare = 1.0, unit
        if unit[:1] in SCALES and unit[1:] in SCALED:
            scale, bare = SCALES[unit[0]], unit[1:]
        return tuple(
            STEPS[each] * (scale if each == bare else 1.0)
            for each in _units(self.shape, bare if bare in STEPS else "")
        )


def classes(texts: Sequence[str], unit: str = "") -> NDArray[np.int64]:
    """The class of each reading as shown, numbered from 0 in the order of their first; shape (readings,).

    `unit`: the instrument's own, of figures that are shown without one.
    """
    parsed = [Shown.of(text) for text in texts]
    groups: dict[str, list[int]] = {}
    for index, each in enumerate(parsed):
        groups.setdefault(each.shape, []).append(index)
    found: list[tuple[object, ...]] = [()] * len(texts)
    for shape, members in groups.items():
        figures = np.array([parsed[index].figures for index in members]).reshape(len(members), -1)
        columns = [_near(figures[:, n], step) for n, step in enumerate(parsed[members[0]].steps(unit))]
        for row, index in enumerate(members):
            found[index] = (shape, *(int(column[row]) for column in columns))
    keys: dict[tuple[object, ...], int] = {}
    return np.array([keys.setdefault(key, len(keys)) for key in found], dtype=np.int64)


def alike(one: Shown, other: Shown, unit: str = "") -> bool:
    """Whether two readings can't be told apart."""
    return one.shape == other.shape and all(
        abs(a - b) <= max(step, NEAR * max(abs(a), abs(b)))
        for a, b, step in zip(one.figures, other.figures, one.steps(unit), strict=True)
    )


def between(reading: Shown, one: Shown, other: Shown) -> bool:
    """Whether a reading's figures all lie from those of one to those of another; words lie between nothing."""
    if not reading.figures or not reading.shape == one.shape == other.shape:
        return False
    return all(
        min(a, b) <= x <= max(a, b) for x, a, b in zip(reading.figures, one.figures, other.figures, strict=True)
    )


def _units(shape: str, otherwise: str) -> list[str]:
    """The unit of each gap: what stands behind it, else that of the next (`0.2 to 4.1 A`), else the one given."""
    answer: list[str] = []
    for behind in reversed(shape.split("#")[1:]):
        word = (behind.split() or [""])[0].rstrip(",;.")
        answer.append(word if word and word in STEPS else otherwise)
        otherwise = answer[-1]
    return answer[::-1]


def _near(figures: NDArray[np.float64], step: float) -> NDArray[np.int64]:
    """Which figures hang together: neighbours in size that are closer than can be told apart."""
    order = np.argsort(figures, kind="stable")
    ordered = figures[order]
    apart = np.diff(ordered) > np.maximum(step, NEAR * np.maximum(np.abs(ordered[1:]), np.abs(ordered[:-1])))
    answer = np.empty(len(figures), dtype=np.int64)
    answer[order] = np.concatenate(([0], np.cumsum(apart)))
    return answer
