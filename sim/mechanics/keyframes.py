"""Keyframes as bytes: a line of JSON that says what follows, then the arrays as they lie in memory."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any, Final

import numpy as np

from sim.errors import DataError

FORMAT: Final = "gudgeon-plant/2"

UNSIZED: Final = ("curve", "watch rows", "tables", "fits")
"""Arrays whose length is not fixed."""


def packed(told: Mapping[str, Any], arrays: Mapping[str, Any]) -> bytes:
    """One keyframe of plain data and float arrays."""
    sizes = {name: int(array.size) for name, array in arrays.items()}
    head = json.dumps({"format": FORMAT, "told": dict(told), "sizes": sizes}, separators=(",", ":"), sort_keys=True)
    return head.encode() + b"\n" + b"".join(array.tobytes() for array in arrays.values())


def unpacked(frame: bytes, wanted: Mapping[str, Any]) -> tuple[dict[str, Any], dict[str, Any]]:
    """(plain data, arrays by name) of a keyframe; `wanted` are the arrays expected, in order, with their sizes."""
    head, _, body = frame.partition(b"\n")
    try:
        read = json.loads(head)
    except ValueError as error:
        raise DataError(f"a keyframe begins with a line of JSON, not with {head[:40]!r}") from error
    if not isinstance(read, dict) or read.get("format") != FORMAT:
        raise DataError(f"a keyframe of format {FORMAT} is needed, not {head[:60]!r}")
    sizes = read["sizes"]
    for name, array in wanted.items():
        if name not in sizes or (name not in UNSIZED and sizes[name] != array.size):
            raise DataError(f"the keyframe's {name} has {sizes.get(name)} slots; this version needs {array.size}")
    if len(body) != 8 * sum(sizes[name] for name in wanted):
        raise DataError(f"the keyframe is {len(body)} bytes long and says {8 * sum(sizes.values())}")
    arrays = {}
    place = 0
    for name in wanted:
        end = place + 8 * sizes[name]
        arrays[name] = np.frombuffer(body[place:end], dtype=np.float64).copy()
        place = end
    return read["told"], arrays
