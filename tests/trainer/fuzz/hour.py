"""Broken files for as long as one likes: `python -m tests.trainer.fuzz.hour --minutes 60 --seed 1`.

Prints what came of them and, for each failure of the program, the file, the seed and why.
Ends with 1 if there was one.
"""

from __future__ import annotations

import argparse
import collections
import sys
import tempfile
import time
from pathlib import Path

from sim.kernel import compiler
from tests.trainer.fuzz.broken_files import Ground, files


def main() -> int:
    """Until the time is over."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--minutes", type=float, default=60.0)
    asked.add_argument("--seed", type=int, default=1, help="the first seed; each round over all files takes the next")
    told = asked.parse_args()
    compiler.load()
    until, seed, wrong = time.monotonic() + 60.0 * told.minutes, told.seed, 0
    came: collections.Counter[str] = collections.Counter()
    with tempfile.TemporaryDirectory() as folder:
        ground = Ground(Path(folder) / "scenarios")
        while time.monotonic() < until:
            for file in files():
                what, why = ground.attempt(file, seed)
                came[what] += 1
                if why:
                    wrong += 1
                    print(f"{file}, seed {seed}: {why}", flush=True)
            seed += 1
    print(
        f"{sum(came.values())} files, seeds {told.seed} to {seed - 1}: {dict(came)}; {wrong} failures of the program"
    )
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
