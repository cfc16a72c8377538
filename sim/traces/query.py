"""Questions to a trace: when did it become so, how long did it stay, was it ever so while that was so."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from sim.traces.signal import Trace


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A time in which something was so: from `start` until just before `end` [µs]."""

    start: int
    end: int

    @property
    def length(self) -> int:
        """How long [µs]."""
        return self.end - self.start


def spans(taken: Trace, name: str, so: Callable[[npt.NDArray[np.float64]], npt.NDArray[np.bool_]]) -> list[Span]:
    """When `so(values)` held for a sampled signal. A sample holds until the next; the last one for no time."""
    truth = so(taken[name])
    return _joined((truth[k], a, b) for k, (a, b) in enumerate(pairwise(taken.time_us.tolist())))


def spans_of(taken: Trace, name: str, so: Callable[[str], bool]) -> list[Span]:
    """When `so(value)` held for a change-only signal, up to the trace's last instant."""
    steps = taken.steps(name).steps
    last = int(taken.time_us[-1]) if len(taken.time_us) else 0
    ends = [at for at, _ in steps[1:]] + [max([last, *(at for at, _ in steps)])]
    return _joined((so(value), at, end) for (at, value), end in zip(steps, ends, strict=True))


def rose(found: Iterable[Span], since: int = 0) -> list[int]:
    """The instants [µs] at which it became so, after `since`: what was so from the start has not risen."""
    return [span.start for span in found if span.start > since]


def held(found: Iterable[Span], at_least: int) -> bool:
    """Whether it ever stayed so for `at_least` [µs] in one piece."""
    return any(span.length >= at_least for span in found)


def never_while(found: Iterable[Span], other: Iterable[Span]) -> Span | None:
    """None if the two were never so together; else the first time in which they were."""
    others = sorted(other)
    both = (Span(max(a.start, b.start), min(a.end, b.end)) for a in sorted(found) for b in others)
    return min((span for span in both if span.length > 0), default=None)


def _joined(pieces: Iterable[tuple[bool, int, int]]) -> list[Span]:
    """Spans from pieces in order, neighbours run together, empty ones left out."""
    found: list[Span] = []
    for true, start, end in pieces:
        if not true or end <= start:
            continue
        if found and found[-1].end == start:
            found[-1] = Span(found[-1].start, end)
        else:
            found.append(Span(start, end))
    return found
