"""The notebook: what somebody saw, suspects and has ruled out, each line with its time, and what acts wrote there.

Only the notebook can be written anew and struck out; nothing in it changes the gate. Who reads it (screen, record,
grading) takes `Notebook.lines`, which are plain data.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, Literal, get_args

from sim.errors import Refused
from sim.said import said
from sim.units import Us

Written = Literal["seen", "suspected", "ruled out"]
WRITTEN: Final[tuple[str, ...]] = get_args(Written)
"""What a line may be: what was seen or done, what may be the cause, what can't be it. A fault is found by
ruling out, so that the three are told apart."""


@dataclass(frozen=True, slots=True)
class Note:
    """One line of the notebook."""

    at: Us
    """When it was written [µs since arrival]."""
    text: str
    entry: Written | Literal[""] = ""
    """What it is; '' for a line that an act wrote by itself (a prediction, what the panel said, proved dead)."""
    number: int = 0
    """Counted from 1 over the lines written by hand; 0 for a line that an act wrote."""
    changed: Us | None = None
    """When it was last written anew or struck out [µs since arrival]; None while it stands as written."""
    struck: bool = False
    """Struck out: it stays readable."""


NO_FAULT: Final = "no fault"
"""The conclusion that nothing is wrong: a gate as it should be, or somebody who took something for a fault."""


@dataclass(frozen=True, slots=True)
class Conclusion:
    """What somebody holds to be the cause."""

    at: Us
    """When it was drawn [µs since arrival]."""
    cause: str
    """A fault of the catalogue, or `NO_FAULT`."""
    sure: int
    """How sure, in percent."""


class Notebook:
    """All lines in the order in which they were begun, and what was concluded from them."""

    def __init__(self) -> None:
        self.lines: tuple[Note, ...] = ()
        self.conclusions: tuple[Conclusion, ...] = ()

    def add(self, at: Us, text: str, entry: Written | Literal[""] = "") -> None:
        """A new line at its end."""
        number = 1 + sum(note.number > 0 for note in self.lines) if entry else 0
        self.lines += (Note(at, text, entry, number),)

    def by_hand(self, number: int) -> Note:
        """The line of that number. Raises Refused, saying which there are."""
        found = next((note for note in self.lines if note.number == number > 0), None)
        if found is None:
            count = sum(note.number > 0 for note in self.lines)
            raise Refused(
                said(
                    "the notebook has no note {number}; it has 1 to {count}"
                    if count
                    else "the notebook has no note {number}; nothing was written by hand yet",
                    number=number,
                    count=count,
                )
            )
        return found

    def rewrite(self, number: int, at: Us, text: str, entry: Written) -> None:
        """Other words, or another kind, for a line written by hand; one struck out counts again."""
        self._put(replace(self.by_hand(number), text=text, entry=entry, changed=at, struck=False))

    def strike(self, number: int, at: Us) -> None:
        """Strike a line out that was written by hand."""
        self._put(replace(self.by_hand(number), changed=at, struck=True))

    def conclude(self, at: Us, cause: str, sure: int) -> None:
        """Hold this to be the cause, beside other causes; that nothing is wrong stands alone."""
        nothing = NO_FAULT in (cause, *(each.cause for each in self.conclusions))
        others = tuple(each for each in self.conclusions if each.cause != cause and not nothing)
        self.conclusions = (*others, Conclusion(at, cause, sure))

    def take_back(self, cause: str) -> None:
        """Hold this no longer to be the cause."""
        self.conclusions = tuple(each for each in self.conclusions if each.cause != cause)

    def _put(self, note: Note) -> None:
        self.lines = tuple(note if old.number == note.number else old for old in self.lines)
