"""Recorded channels as lines of pixels: at most a few points for each column, whatever was recorded."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def polyline(
    time_s: Any,
    values: Any,
    start_s: float,
    per_px_s: float,
    width: int,
    y: tuple[float, float],
    span: tuple[float, float],
    steps: bool = False,
    from_px: int = 0,
) -> list[tuple[float, float]]:
    """Points [px] of a channel from `start_s` on: x from 0 to `width`, y between `y` (bottom, top) for `span`.

    Where more than two samples fall on a column, the column keeps its least and its largest value, so that a peak
    never vanishes. Stretches that stay level are kept as their ends. `steps`: a value holds until the next sample
    (rest is recorded as its ends only), as it must for what is on or off. From the column `from_px` on only: the
    same points as if all had been asked for.
    """
    times, channel = np.asarray(time_s), np.asarray(values)
    first = max(int(np.searchsorted(times, start_s)) - 1, 0)
    last = int(np.searchsorted(times, start_s + width * per_px_s, "right")) + 1
    many = min(last, len(times)) - first > 2 * width
    if from_px > 0:
        first = max(int(np.searchsorted(times, start_s + from_px * per_px_s)) - 1, 0)
    times, channel = np.asarray(times[first:last], dtype=float), np.asarray(channel[first:last], dtype=float)
    if len(times) == 0:
        return []
    xs = (times - start_s) / per_px_s
    if many:
        xs, channel = _columns(xs, channel)
    if steps:
        xs, channel = np.repeat(xs, 2)[1:], np.repeat(channel, 2)[:-1]
    low, high = span
    scaled = np.clip((channel - low) / (high - low), 0.0, 1.0)
    ys = np.round(y[0] + (y[1] - y[0]) * scaled, 1)
    keep = np.ones(len(ys), dtype=bool)
    keep[1:-1] = (ys[1:-1] != ys[:-2]) | (ys[1:-1] != ys[2:])
    across = [round(x, 2) for x in np.clip(xs[keep], 0.0, float(width)).tolist()]
    return list(zip(across, ys[keep].tolist(), strict=True))


def _columns(xs: Floats, values: Floats) -> tuple[Floats, Floats]:
    """Least and largest value of each column of pixels, in the order they came."""
    column = np.floor(xs).astype(np.int64)
    starts = np.flatnonzero(np.diff(column, prepend=column[0] - 1))
    least, most = np.minimum.reduceat(values, starts), np.maximum.reduceat(values, starts)
    ends = np.append(starts[1:], len(values)) - 1
    rising = values[ends] >= values[starts]
    pairs = np.empty(2 * len(starts))
    pairs[0::2] = np.where(rising, least, most)
    pairs[1::2] = np.where(rising, most, least)
    places = np.repeat(column[starts].astype(float), 2)
    places[1::2] += 0.5
    return places, pairs


def value_at(time_s: Any, values: Any, when_s: float) -> float | None:
    """The last sample at or before an instant; None before the first."""
    times = np.asarray(time_s)
    n = int(np.searchsorted(times, when_s + 1e-9, "right")) - 1
    return float(np.asarray(values)[n]) if n >= 0 else None


def largest(values: Any) -> float:
    """The largest magnitude recorded, 0 when nothing is."""
    channel = np.asarray(values)
    return float(np.max(np.abs(channel))) if len(channel) else 0.0
