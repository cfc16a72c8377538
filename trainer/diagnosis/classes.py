"""Which readings of one measurement can be told apart, by somebody who has only the instrument and the trade.

Two gates that are both sound don't read the same to the last digit. So figures that lie close together are one class:
the steps of an instrument are finer than what its reading means. Words are classes of their own.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

NEAR: Final = 0.05
"""Figures closer than this share of the larger are one class. Common practice, no source."""

STEPS: Final = {
    "V": 0.2,
    "A": 0.1,
    "Ω": 0.5,
    "s": 0.4,
    "°C": 4.0,
    "mm": 1.5,
    "°": 0.5,
    "N": 10.0,
    "Nm": 0.2,
    "lx": 50.0,
    "m": 1.0,
    "m/s": 1.0,
    "dB": 3.0,
    "": 1.0,
}
"""Figures closer than this are one class, whatever their share [unit]: what wiring, weather and hand make of a sound
gate. Common practice, no source."""

SCALES: Final = {"n": 1e-9, "µ": 1e-6, "m": 1e-3, "k": 1e3, "M": 1e6, "G": 1e9}

_FIGURE: Final = re.compile(r"(?<![\w.])(-?\d+(?:\.\d+)?)(?:\s?(n|µ|m|k|M|G)?(Ω|V|A|F|Hz))?(?!\w)")


def classes(texts: Sequence[str], unit: str = "") -> NDArray[np.int64]:
    """The class of each reading as shown, numbered from 0 in the order of their first; shape (readings,).

    `unit`: of figures that are shown without one.
    """
    parsed = [_parsed(text) for text in texts]
    answer = np.full(len(texts), -1, dtype=np.int64)
    keys: dict[tuple[object, ...], int] = {}
    groups: dict[str, list[int]] = {}
    for index, (shape, _) in enumerate(parsed):
        groups.setdefault(shape, []).append(index)
    found: list[tuple[object, ...]] = [()] * len(texts)
    for shape, members in groups.items():
        figures = np.array([parsed[index][1] for index in members]).reshape(len(members), -1)
        units = _units(shape, unit if unit in STEPS else "")
        columns = [_near(figures[:, n], STEPS[each]) for n, each in enumerate(units)]
        for row, index in enumerate(members):
            found[index] = (shape, *(int(column[row]) for column in columns))
    for index, key in enumerate(found):
        answer[index] = keys.setdefault(key, len(keys))
    return answer


def _parsed(text: str) -> tuple[str, tuple[float, ...]]:
    """A text with a gap for each figure, and the figures in the unit without a scale before it."""
    figures = []

    def gap(match: re.Match[str]) -> str:
        number, scale, unit = match.groups()
        figures.append(float(number) * SCALES.get(scale or "", 1.0))
        return "# " + (unit or "")

    return _FIGURE.sub(gap, text), tuple(figures)


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
