"""The process that the kill test kills: appends acts to a journal as fast as it can and says which are safe.

    python writer.py FOLDER

Writes `begins`, then the number of each line once `act` has returned, and never before.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

from sim.units import Us
from trainer.session.journal import FILE, Header, Journal


def main(folder: Path) -> None:
    """Go on with the journal in `folder`, or begin it, until killed."""
    os.write(1, b"begins\n")
    if (folder / FILE).exists():
        journal = Journal.open(folder)
    else:
        header = Header("0.1.0", "1", 7, "practice", "first-run", "a1", "b2", "reference", "c3", {"name": "a yard"})
        journal = Journal.create(folder, header)
    number = journal.entries()[-1].number
    os.write(1, f"{number}\n".encode())
    while True:
        number = journal.act(Us(number), "note", {"text": f"act {number + 1} " + "·" * (number % 90)}).number
        os.write(1, f"{number}\n".encode())


if __name__ == "__main__":
    main(Path(sys.argv[1]))
