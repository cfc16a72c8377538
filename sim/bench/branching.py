"""The same world twice: a branch is a copy of this process that goes its own way and hands back what came of it.

A running world can't be copied, but the process it lives in can: the copy is exact, and costs milliseconds where
building the world anew would cost seconds.
"""

from __future__ import annotations

import gc
import os
import pickle
import traceback
from collections.abc import Callable
from typing import Final, Generic, TypeVar, cast

from sim.errors import GudgeonError

T = TypeVar("T")

CAN_BRANCH: Final = hasattr(os, "fork")
"""Whether this system can; where it can't, whoever asks builds a world for each branch."""


class BranchFailed(GudgeonError):
    """Raised when a branch ended without an answer; says what it said last."""


class Branch(Generic[T]):
    """One branch under way. Its work began when it was made; `result` waits for it."""

    def __init__(self, work: Callable[[], T]) -> None:
        """`work` runs in the copy; what it returns must be plain data."""
        self._from, into = os.pipe()
        self._child = os.fork()
        if self._child == 0:
            os.close(self._from)
            gc.freeze()  # what was inherited is no garbage, and looking through it would copy it
            _answer(work, into)
        os.close(into)

    def result(self) -> T:
        """What the work returned. Raises what it raised."""
        with os.fdopen(self._from, "rb") as answer:
            told = answer.read()
        os.waitpid(self._child, 0)
        if not told:
            raise BranchFailed("a branch of this process ended without a word")
        raised, value = pickle.loads(told)  # from a copy of ourselves
        if raised:
            raise value
        return cast(T, value)


def _answer(work: Callable[[], T], into: int) -> None:
    """Do the work, tell, and end at once: nothing of the copy may run on."""
    try:
        told = pickle.dumps((False, work()))
    except BaseException as error:
        error.add_note(traceback.format_exc())
        try:
            told = pickle.dumps((True, error))
            pickle.loads(told)  # some errors can be packed and not unpacked
        except Exception:
            told = pickle.dumps((True, BranchFailed(f"{type(error).__name__}: {error}")))
    with os.fdopen(into, "wb") as out:
        out.write(told)
    os._exit(0)


def branched(work: Callable[[], T]) -> T:
    """Do something in a branch and wait for it; without branches, here and now."""
    return Branch(work).result() if CAN_BRANCH else work()
