"""A fingerprint of a trace: equal only if every name, unit, instant and value is equal bit for bit."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator

import numpy as np

from sim.traces.signal import Trace


def trace_digest(taken: Trace) -> str:
    """BLAKE2b over the exact bytes of a trace, as 32 hexadecimal digits.

    Equal traces give equal digests however they were put together. −0.0 and 0.0 differ, as do two NaNs whose bits
    differ: this compares runs of one machine, not physics.
    """
    deep = hashlib.blake2b(digest_size=16)
    for part in _parts(taken):
        deep.update(len(part).to_bytes(8, "little"))  # so that no two parts can be read as one
        deep.update(part)
    return deep.hexdigest()


def _parts(taken: Trace) -> Iterator[bytes]:
    yield len(taken.signals).to_bytes(8, "little")
    yield taken.time_us.astype("<i8").tobytes()
    for signal in taken.signals:
        yield signal.name.encode()
        yield signal.unit.encode()
        yield np.asarray(signal.values, dtype="<f8").tobytes()
    for change in taken.changes:
        yield change.name.encode()
        yield len(change.steps).to_bytes(8, "little")
        for at, value in change.steps:
            yield at.to_bytes(8, "little", signed=True)
            yield value.encode()
