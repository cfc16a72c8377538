"""What each cause would let each measurement read: the table everything else is worked out from.

Rows are causes, columns measurements, and the readings of a measurement are as many classes as its instrument can
tell apart. The probabilities come from simulation (or, in a test, from a book); nothing here knows where from.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Self

import numpy as np
from numpy.typing import NDArray

from sim.said import said

Probabilities = NDArray[np.float64]

DOUBT: Final = 0.02
"""Share of a reading that is given to every class alike: a slip, or a state that nobody thought of. With it no cause
is ever ruled out for good by one reading. Practice 1.3 (epsilon)."""


@dataclass(frozen=True, slots=True)
class Table:
    """Causes against measurements."""

    causes: tuple[str, ...]
    measurements: tuple[str, ...]
    minutes: Probabilities
    """What each measurement costs [min], greater than 0; shape (measurements,)."""
    classes: NDArray[np.int64]
    """How many classes of reading each measurement has; shape (measurements,)."""
    given: Probabilities
    """P(class | cause, measurement); shape (causes, measurements, most classes), zero beyond a measurement's own."""
    noise: Probabilities
    """Entropy of the reading once the cause is known [bit]; shape (causes, measurements)."""

    @classmethod
    def of(
        cls, causes: Sequence[str], minutes: Mapping[str, float], given: Probabilities, doubt: float = DOUBT
    ) -> Self:
        """From shares of readings, each row of which adds up to 1 over the classes; a class that no cause ever reads
        at the end of a row is none.

        Raises ValueError when shapes don't agree, a row doesn't add up to 1 or a measurement costs nothing.
        """
        shape = (len(causes), len(minutes))
        if given.ndim != 3 or given.shape[:2] != shape:
            raise ValueError(
                said(
                    "shares of {shape} for {causes} causes and {measurements} measurements",
                    shape=given.shape,
                    causes=shape[0],
                    measurements=shape[1],
                )
            )
        if not np.allclose(given.sum(axis=2), 1.0) or (given < 0.0).any():
            raise ValueError("the shares of every cause and measurement add up to 1, none is below 0")
        cost = np.array([float(each) for each in minutes.values()])
        if not (np.isfinite(cost) & (cost > 0.0)).all():
            raise ValueError("every measurement costs more than 0 minutes")
        at = np.arange(1, given.shape[2] + 1)
        classes = np.max(np.where((given > 0.0).any(axis=0), at, 1), axis=1, initial=1)
        is_class = at[None, :] <= classes[:, None]
        blurred = np.where(is_class, (1.0 - doubt) * given + doubt / classes[:, None], 0.0)
        return cls(tuple(causes), tuple(minutes), cost, classes.astype(np.int64), blurred, entropy(blurred))

    @classmethod
    def read(
        cls, causes: Sequence[str], minutes: Mapping[str, float], reads: NDArray[np.int64], doubt: float = DOUBT
    ) -> Self:
        """From the class that each cause reads at each measurement, numbered from 0; shape (causes, measurements)."""
        given = np.zeros((*reads.shape, int(reads.max(initial=0)) + 1))
        np.put_along_axis(given, reads[:, :, None], 1.0, axis=2)
        return cls.of(causes, minutes, given, doubt)


def entropy(shares: Probabilities) -> Probabilities:
    """Shannon's entropy over the last axis [bit]; nothing times the logarithm of nothing is nothing."""
    logs = np.log2(shares, out=np.zeros_like(shares), where=shares > 0.0)
    answer: Probabilities = -np.sum(shares * logs, axis=-1)
    return answer


def uncertainty(belief: Probabilities) -> float:
    """How much is not known yet about the cause [bit]."""
    return float(entropy(belief))


def gains(table: Table, belief: Probabilities) -> Probabilities:
    """What each measurement is expected to tell about the cause [bit], never below 0; shape (measurements,).

    The mutual information of cause and reading: H(reading) - sum of belief times H(reading | cause). Shannon 1948;
    de Kleer and Williams 1987 choose the next probe by the same quantity.
    """
    reading = np.tensordot(belief, table.given, axes=1)
    return np.maximum(entropy(reading) - belief @ table.noise, 0.0)


def after(table: Table, belief: Probabilities, measurement: int, reading: int) -> Probabilities:
    """The belief once a class was read (Bayes). Raises ValueError for a class that the measurement hasn't."""
    if not 0 <= reading < table.classes[measurement]:
        raise ValueError(
            said(
                "{measurement} has {count} classes, not {reading}",
                measurement=table.measurements[measurement],
                count=int(table.classes[measurement]),
                reading=reading,
            )
        )
    likely: Probabilities = belief * table.given[:, measurement, reading]
    total = likely.sum()
    if total <= 0.0:
        raise ValueError(
            said(
                "no cause that is left could read {reading} at {measurement}",
                reading=reading,
                measurement=table.measurements[measurement],
            )
        )
    answer: Probabilities = likely / total
    return answer
