"""How long another process may say nothing: judged by what it works, so that a busy machine makes nobody guilty.

A process that works for its whole patience without a word hangs. One that neither works nor speaks waits for
something; it is given several times as long by the clock on the wall.
"""

from __future__ import annotations

import os
import time
from pathlib import Path
from typing import Final

WAITS: Final = 6.0
"""So many times its patience by the clock on the wall is the end of it, whatever it worked."""

AT_LEAST_S: Final = 120.0
"""And never less than this [s]: on a busy machine a short patience may take long to be worked."""


def worked_s(process: int) -> float:
    """Processor time [s] that a process and its ended children have used; 0 if there is none of this number."""
    try:
        told = Path(f"/proc/{process}/stat").read_text(encoding="ascii", errors="replace")
    except OSError:
        return 0.0
    after_name = told.rpartition(")")[2].split()  # the name may hold spaces
    return sum(int(ticks) for ticks in after_name[11:15]) / os.sysconf("SC_CLK_TCK")


class Patience:
    """Patience with one process, counted from its last word."""

    def __init__(self, process: int, processor_s: float) -> None:
        self.process = process
        self.heard(processor_s)

    def heard(self, processor_s: float) -> None:
        """It has said something: this patience [s] begins now."""
        self.processor_s = processor_s
        self._worked, self._at = worked_s(self.process), time.monotonic()

    def over(self) -> str:
        """Why there is no waiting for it any more, in words; empty while there is."""
        if worked_s(self.process) - self._worked > self.processor_s:
            return f"no answer for {self.processor_s:g} s of processor time"
        longest = max(WAITS * self.processor_s, AT_LEAST_S)
        if time.monotonic() - self._at > longest:
            return f"no answer for {longest:g} s, and nothing done in them"
        return ""
