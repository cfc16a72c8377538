"""Each thing once: what is the same as something before is held as that, so that a long record needs little room.

Of what happens at a gate most has happened before: the same guard trips, the same leaf comes to its stop.
"""

from __future__ import annotations

import pickle
from typing import Final, TypeVar, cast

Thing = TypeVar("Thing")

MOST: Final = 256
"""So many things are known at most; those not met for longest are forgotten, which costs room and nothing else."""


class Once:
    """Things that never change, by what they are made of."""

    def __init__(self) -> None:
        self._known: dict[bytes, object] = {}

    def of(self, thing: Thing, made_of: object) -> Thing:
        """The thing, or one from before that is the same in all and everything: to the last bit of each number, the
        type of each value, the sentence of each text. `made_of` is all of the thing that counts; it must be possible
        to copy it (`pickle`).
        """
        key = pickle.dumps(made_of)
        found = self._known[key] = self._known.pop(key, thing)
        if len(self._known) > MOST:
            del self._known[next(iter(self._known))]
        return cast("Thing", found)
