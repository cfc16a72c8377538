"""The controller's watches as the kernel's flat arrays."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cache, lru_cache
from typing import Final, NamedTuple, Protocol, TypeAlias

import numpy as np
import numpy.typing as npt

from sim.kernel import watching

CODES: Final = {
    "COUNT_AT_LEAST": watching.COUNT_AT_LEAST,
    "COUNT_AT_MOST": watching.COUNT_AT_MOST,
    "CURRENT_AT_LEAST": watching.CURRENT_AT_LEAST,
    "CURRENT_AT_MOST": watching.CURRENT_AT_MOST,
    "CURRENT_ABOVE_TABLE": watching.CURRENT_ABOVE_TABLE,
    "STALLED_FOR": watching.STALLED_FOR,
    "SUPPLY_AT_MOST": watching.SUPPLY_AT_MOST,
}
"""What a watch may look at, by the name of the enumeration's member, and the kernel's code for it."""


class WatchLike(Protocol):
    """A condition on the controller's terminals: the shape of the controller's own watches."""

    @property
    def what(self) -> Enum | int:
        """An enumeration member with a name in `CODES`, or a code."""
        ...

    @property
    def leaf(self) -> int:
        """0 active, 1 inactive."""
        ...

    @property
    def threshold(self) -> float:
        """In the unit of what is watched."""
        ...

    @property
    def table(self) -> tuple[float, ...]:
        """Threshold per bin of counts."""
        ...

    @property
    def table_start(self) -> int:
        """Count at which the first bin begins."""
        ...

    @property
    def table_pitch(self) -> int:
        """Counts per bin."""
        ...


@dataclass(frozen=True, slots=True)
class KernelWatch:
    """A watch by its code, for whoever has no controller."""

    what: int
    leaf: int = 0
    threshold: float = 0.0
    table: tuple[float, ...] = ()
    table_start: int = 0
    table_pitch: int = 1


class Mark(NamedTuple):
    """A place of a leaf's travel that somebody waits for who is no controller."""

    name: str
    leaf: int
    angle: float
    """[rad]"""
    opening: bool
    """True: it stands there or wider open; False: there or further shut."""


Packed: TypeAlias = tuple[npt.NDArray[np.float64], npt.NDArray[np.float64], list[str]]
"""(watches, their tables, what each is in words)."""


@lru_cache(typed=True)
def _code(what: Enum | int) -> int:
    code = CODES.get(what.name, -1) if isinstance(what, Enum) else int(what)
    if code not in CODES.values():
        raise ValueError(f"nothing called {what!r} can be watched; allowed: {', '.join(CODES)}")
    return code


def with_marks(marks: Sequence[Mark], given: Packed) -> Packed:
    """Marks first, then the controller's watches: the kernel names the first that holds."""
    rows, tables, names = given
    if not marks:
        return given
    first: list[float] = []
    for mark in marks:
        what = watching.ANGLE_AT_LEAST if mark.opening else watching.ANGLE_AT_MOST
        first += (what, mark.leaf, mark.angle, 0, 0, 0, 1)
    return np.array(first + (rows.tolist() if names else [])), tables, [mark.name for mark in marks] + names


def packed(watches: Sequence[WatchLike]) -> Packed:
    """(watches, their tables, what each is in words). Raises ValueError for one that can't be watched."""
    rows: list[float] = []
    tables: list[float] = []
    names: list[str] = []
    for watch in watches:
        code, leaf, table, threshold = _code(watch.what), watch.leaf, watch.table, float(watch.threshold)
        if not math.isfinite(threshold) or not all(map(math.isfinite, table)):
            raise ValueError(f"a watch's thresholds must be finite: {watch!r}")
        if leaf not in (0, 1) or watch.table_pitch < 1:
            raise ValueError(f"a watch needs leaf 0 or 1 and a pitch of at least 1: {watch!r}")
        if code == watching.CURRENT_ABOVE_TABLE and not table:
            raise ValueError(f"a watch above a table needs a table: {watch!r}")
        rows += (code, leaf, threshold, len(tables), len(table), watch.table_start, watch.table_pitch)
        tables += table
        names.append(_name(code, leaf))
    return _array(rows), _array(tables), names


@cache
def _name(code: int, leaf: int) -> str:
    return f"{name_of(code)}, {('active', 'inactive')[leaf]} leaf"


def name_of(code: int) -> str:
    """A code in words."""
    return next(name for name, value in CODES.items() if value == code).lower().replace("_", " ")


def _array(values: list[float]) -> npt.NDArray[np.float64]:
    """Never empty: the kernel is lent its first place."""
    return np.array(values or [0.0], dtype=np.float64)
