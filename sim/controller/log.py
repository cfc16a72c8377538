"""The controller's own event log: what it took note of, as data and as sentences."""

from __future__ import annotations

from typing import Final

from sim.controller import calendar, wording
from sim.controller.memory import Memory
from sim.controller.ports import Happening
from sim.controller.records import Note
from sim.said import said
from sim.units import Us

MOST_NOTES: Final = 400
"""How many notes are kept; the oldest go first."""


def add(memory: Memory, now: int, kind: str, what: str, detail: str) -> None:
    """Take a note."""
    memory.note_count += 1
    clock = calendar.reading(int(now), memory.clock_ahead)
    memory.notes.append(Note(memory.note_count, int(now), kind, what, detail, clock))
    if len(memory.notes) > MOST_NOTES:
        del memory.notes[0]


def sentence(note: Note) -> str:
    """A note in words."""
    if note.kind == "command":
        return wording.given(note.what, note.detail)
    if note.kind == "refused":
        return wording.refused(note.what, note.detail)
    if note.kind == "guard":
        return wording.reads(note.what, note.detail)
    return said("{what}: {detail}", what=note.what, detail=note.detail) if note.detail else note.what


def happening(note: Note) -> Happening:
    """A note as what crosses the terminals."""
    return Happening(note.number, Us(note.at), note.kind, note.what, note.detail)  # type: ignore[arg-type]


class Told:
    """Notes as they cross the terminals, each put in words once, however often the panel is looked at."""

    def __init__(self) -> None:
        self._known: list[Note] = []
        self._sentences: tuple[tuple[Us, str], ...] = ()
        self._happenings: tuple[Happening, ...] = ()
        self._dates: tuple[str, ...] = ()

    def of(self, notes: list[Note]) -> tuple[tuple[tuple[Us, str], ...], tuple[Happening, ...], tuple[str, ...]]:
        """(sentences with their times, happenings, dates) of all notes. Notes come at the end and go at the front."""
        gone = 0
        while gone < len(self._known) and not (notes and self._known[gone] is notes[0]):
            gone += 1
        kept = len(self._known) - gone
        if kept and (kept > len(notes) or notes[kept - 1] is not self._known[-1]):
            gone, kept = len(self._known), 0  # another log: start again
        new = notes[kept:]
        if gone or new:
            self._known = list(notes)
            self._sentences = (*self._sentences[gone:], *((Us(note.at), sentence(note)) for note in new))
            self._happenings = (*self._happenings[gone:], *(happening(note) for note in new))
            self._dates = (*self._dates[gone:], *(calendar.words(note.clock) for note in new))
        return self._sentences, self._happenings, self._dates
