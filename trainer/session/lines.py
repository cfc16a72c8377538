"""One line of a journal: what kinds there are, how a line is written, and how a damaged one is told from a whole one.

A line is one JSON object in ASCII with its checksum as the last member, closed by a line feed:

    {"n":7,"t":12500000,"kind":"action","do":"press","with":{"control":"open button"},"sum":"9f0c…"}

`n` is the line number counted from 1, `t` the simulated time [µs]. The checksum is BLAKE2s over every byte of the
line before it, so a cut, a flipped bit and two lines run together are all seen. It guards against accidents, not
against a person who means to cheat.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, Final, Literal, get_args

from sim.errors import JournalError
from sim.said import said
from sim.units import Us

Kind = Literal["header", "action", "meddling", "time reached", "digest", "branch", "look", "hint", "end"]
"""header: line 1, what the session is · action: an accepted act · meddling: an instructor changed something out of
sight (never shown to whoever is at work) · time reached: the world ran to here ·
digest: fingerprint of the state at `t` · branch: went on from an earlier time · look: the past was looked at ·
hint: a hint was given · end: the session is over."""

KINDS: Final[tuple[str, ...]] = get_args(Kind)

_SEAL: Final = re.compile(rb',"sum":"([0-9a-f]{16})"\}\Z')
_RESERVED: Final = frozenset({"n", "t", "kind", "sum"})


@dataclass(frozen=True, slots=True)
class Line:
    """One line that is safe on disk."""

    number: int
    """Counted from 1; the header is line 1."""
    at: Us
    """Simulated time [µs]."""
    kind: Kind
    data: Mapping[str, Any] = field(default_factory=lambda: MappingProxyType({}))
    """What the line says besides; base types only."""


def _checksum(body: bytes) -> bytes:
    return hashlib.blake2s(body, digest_size=8).hexdigest().encode("ascii")


def encode(line: Line) -> bytes:
    """The bytes of a line, line feed included.

    Raises JournalError if the data is not of base types, or not finite, or takes a name the journal needs.
    """
    if line.kind not in KINDS:
        raise JournalError(
            said("read a journal line of kind {kind}; allowed: {kinds}", kind=repr(line.kind), kinds=", ".join(KINDS))
        )
    if taken := _RESERVED & set(line.data):
        raise JournalError(
            said("a journal line can't carry the key {key}; the journal uses it itself", key=repr(min(taken)))
        )
    record = {"n": line.number, "t": int(line.at), "kind": line.kind, **line.data}
    try:
        text = json.dumps(record, allow_nan=False, ensure_ascii=True, separators=(",", ":"))
    except (TypeError, ValueError, RecursionError) as error:
        raise JournalError(
            said("a journal line of kind {kind} can't be written: {error}", kind=repr(line.kind), error=str(error))
        ) from error
    body = text[:-1].encode("ascii")
    return body + b',"sum":"' + _checksum(body) + b'"}\n'


def decode(raw: bytes) -> Line:
    """The line in `raw` (without its line feed). Raises ValueError saying what is wrong with it."""
    seal = _SEAL.search(raw)
    if seal is None:
        raise ValueError(said("no checksum at its end"))
    body = raw[: seal.start()]
    if _checksum(body) != seal.group(1):
        raise ValueError(said("its checksum doesn't fit its text"))
    record = json.loads(body + b"}")
    number, at, kind = record.pop("n", None), record.pop("t", None), record.pop("kind", None)
    if type(number) is not int or type(at) is not int:
        raise ValueError(said("no whole line number and time"))
    if kind not in KINDS:
        raise ValueError(said("kind {kind}; allowed: {kinds}", kind=repr(kind), kinds=", ".join(KINDS)))
    return Line(number, Us(at), kind, MappingProxyType(record))
