"""The controller's own event log: what it took note of, as data and as sentences."""

from __future__ import annotations

from typing import Final

from sim.controller.memory import Memory, Note
from sim.controller.ports import Happening
from sim.units import Us

MOST_NOTES: Final = 400
"""How many notes are kept; the oldest go first."""


def add(memory: Memory, now: int, kind: str, what: str, detail: str) -> None:
    """Take a note."""
    memory.note_count += 1
    memory.notes.append(Note(memory.note_count, int(now), kind, what, detail))
    if len(memory.notes) > MOST_NOTES:
        del memory.notes[0]


def sentence(note: Note) -> str:
    """A note in words."""
    if note.kind == "command":
        return f"{note.what} given by {note.detail}"
    if note.kind == "refused":
        return f"{note.what} refused: {note.detail}"
    if note.kind == "guard":
        return f"{note.what} reads {note.detail}"
    return f"{note.what}: {note.detail}" if note.detail else note.what


def happening(note: Note) -> Happening:
    """A note as what crosses the terminals."""
    return Happening(note.number, Us(note.at), note.kind, note.what, note.detail)  # type: ignore[arg-type]
