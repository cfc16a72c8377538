"""Law 8: a process killed at any moment loses nothing that it acknowledged."""

from __future__ import annotations

import os
import random
import subprocess
import sys
from pathlib import Path

from trainer.session.journal import FILE, read_journal

KILLS = int(os.environ.get("GUDGEON_KILLS", "40"))
"""How many kills; 2 000 were asked for once, 40 keep the everyday run short."""

WRITER = Path(__file__).with_name("writer.py")
ROOT = Path(__file__).parents[3]


def acknowledged_before_the_kill(folder: Path, lines: int) -> int:
    """Start a writer, kill it (signal 9) once it acknowledged `lines` lines, and return the last it acknowledged.

    With 0 lines it is killed while it makes or opens the journal. It goes on writing until the signal arrives.
    """
    command = [sys.executable, str(WRITER), str(folder)]
    path = os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])
    with subprocess.Popen(command, stdout=subprocess.PIPE, env={**os.environ, "PYTHONPATH": path}) as child:
        assert child.stdout is not None
        assert child.stdout.readline() == b"begins\n"
        heard = b"".join(child.stdout.readline() for _ in range(lines))
        child.kill()
        heard += child.stdout.read()
        assert child.wait() == -9, "the writer ended by itself"
    whole = heard[: heard.rfind(b"\n") + 1].split()
    return int(whole[-1]) if whole else 0


def test_a_kill_loses_nothing_acknowledged(tmp_path: Path) -> None:
    """After each kill every acknowledged line is there, whole and in place, and at most one more; then it goes on."""
    chance = random.Random(20261125)
    wrote = 0
    kept: list[str] = []
    for turn in range(KILLS):
        folder = tmp_path / f"session-{turn // 25}"
        if turn % 25 == 0:
            kept = []
        last = acknowledged_before_the_kill(folder, chance.choice([0, 1, 2, 3, 5, 8, 13, 40]))
        if not (folder / FILE).exists():
            assert last == 0, "an acknowledged journal is gone"
            continue
        lines = read_journal(folder).lines
        texts = [line.data["with"]["text"] for line in lines[1:]]
        assert texts[: len(kept)] == kept, "a line changed"
        assert last <= len(lines) <= max(last, len(kept) + 1) + 1
        assert [text.split(" ·")[0].strip() for text in texts] == [f"act {n}" for n in range(2, len(lines) + 1)]
        wrote += len(texts) - len(kept)
        kept = texts
    assert wrote > 2 * KILLS, "the writers were killed before they wrote: nothing was tried"
