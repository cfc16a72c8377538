"""Every chance in the simulator is a pure function of who asks, what for, and which time it is.

There is no generator with a state: adding a part, a reading or a recorder leaves every other draw as it was.
Only a hash, whole numbers and additions are used, so a draw has the same bits everywhere.
"""

from __future__ import annotations

import hashlib
import json
import struct
from collections.abc import Sequence
from typing import TypeVar

_T = TypeVar("_T")

_NEIGHBOURS = 16
_WORDS = struct.Struct("<16I")


def _words(seed: int, name: str, purpose: str, index: int) -> tuple[int, ...]:
    """Sixteen whole numbers below 2³² that only these four arguments decide."""
    asked = json.dumps([seed, name, purpose, index], ensure_ascii=True).encode()
    digest = hashlib.blake2b(asked, digest_size=64, person=b"gudgeon draw").digest()
    return tuple(int.from_bytes(digest[at : at + 4], "little") for at in range(0, 64, 4))


def uniform(seed: int, name: str, purpose: str, index: int = 0) -> float:
    """A number from 0 up to, but not including, 1.

    `name` is the part that draws, `purpose` what for, `index` which time (a count, or a grid instant).
    """
    high, low = _words(seed, name, purpose, index)[:2]
    return ((high >> 5) * 67_108_864 + (low >> 6)) / 9_007_199_254_740_992


def row(seed: int, name: str, purpose: str, first: int, count: int) -> list[float]:
    """`count` numbers from 0 up to, but not including, 1, numbered from `first` on: for those who need hundreds.

    Each is decided by its own number, whatever the window; sixteen neighbours share one hash.
    """
    asked = json.dumps([seed, name, purpose], ensure_ascii=True)[:-1]
    fresh = hashlib.blake2b(digest_size=64, person=b"gudgeon row")
    words: list[int] = []
    block = first // _NEIGHBOURS
    for number in range(block, (first + count - 1) // _NEIGHBOURS + 1):
        one = fresh.copy()
        one.update(f"{asked}, {number}]".encode())
        words.extend(_WORDS.unpack(one.digest()))
    start = first - block * _NEIGHBOURS
    return [word / 4_294_967_296 for word in words[start : start + count]]


def normal(seed: int, name: str, purpose: str, index: int = 0) -> float:
    """A number with mean 0 and deviation 1: twelve uniform numbers added up, so never beyond ±6."""
    return sum(_words(seed, name, purpose, index)[:12]) / 4_294_967_296 - 6.0


def pick(options: Sequence[_T], seed: int, name: str, purpose: str, index: int = 0) -> _T:
    """One of the options, each as likely. Raises ValueError when there are none."""
    if not options:
        raise ValueError(f"nothing to pick from for {name}, {purpose}")
    return options[int(uniform(seed, name, purpose, index) * len(options))]
