"""The same world twice: a branch is a copy of this process that goes its own way and hands back what came of it.

A running world can't be copied, but the process it lives in can: the copy is exact, and costs milliseconds where
building the world anew would cost seconds.
"""

from __future__ import annotations

import gc
import os
import pickle
import select
import signal
import time
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

    def result(self, patience_s: float | None = None) -> T:
        """What the work returned. Raises what it raised, and BranchFailed if it takes more wall time [s]."""
        told = _heard(self._from, patience_s)
        os.close(self._from)
        if told is None:
            os.kill(self._child, signal.SIGKILL)
        os.waitpid(self._child, 0)
        if told is None:
            raise BranchFailed(f"no answer for {patience_s:g} s of wall time")
        if not told:
            raise BranchFailed("a branch of this process ended without a word")
        raised, value = pickle.loads(told)  # from a copy of ourselves
        if raised:
            raise value
        return cast(T, value)


def _heard(pipe: int, patience_s: float | None) -> bytes | None:
    """Everything that comes out of a pipe until its other end closes; None when that takes too long."""
    until = None if patience_s is None else time.monotonic() + patience_s
    told = bytearray()
    while True:
        left = None if until is None else max(0.0, until - time.monotonic())
        if not select.select([pipe], [], [], left)[0]:
            return None
        block = os.read(pipe, 1 << 20)
        if not block:
            return bytes(told)
        told += block


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
