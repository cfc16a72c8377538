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
import traceback
from collections.abc import Callable
from typing import Final, Generic, TypeVar, cast

from sim.bench.patience import Patience
from sim.errors import GudgeonError

T = TypeVar("T")

CAN_BRANCH: Final = hasattr(os, "fork")
"""Whether this system can; where it can't, whoever asks builds a world for each branch."""


LOOKS_S: Final = 0.25
"""How often somebody looks whether a branch that says nothing still may [s]."""


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
        """What the work returned. Raises what it raised, and BranchFailed if it works longer [s, of processor]."""
        told = _heard(self._from, None if patience_s is None else Patience(self._child, patience_s))
        os.close(self._from)
        if isinstance(told, str):
            os.kill(self._child, signal.SIGKILL)
        os.waitpid(self._child, 0)
        if isinstance(told, str):
            raise BranchFailed(told)
        if not told:
            raise BranchFailed("a branch of this process ended without a word")
        raised, value = pickle.loads(told)  # from a copy of ourselves
        if raised:
            raise value
        return cast(T, value)


def _heard(pipe: int, patience: Patience | None) -> bytes | str:
    """Everything that comes out of a pipe until its other end closes; why not, when that takes too long."""
    told = bytearray()
    while True:
        if not select.select([pipe], [], [], None if patience is None else LOOKS_S)[0]:
            why = patience.over() if patience is not None else ""
            if why:
                return why
            continue
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
