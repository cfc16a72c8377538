"""The sheet of keys, by what one is about; from here the tour begins again and the glossary opens."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from trainer.language import _
from trainer.window.kit.boxes import Column, Row
from trainer.window.kit.dialog import Dialog
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Heading, Paragraph
from trainer.window.kit.style import SMALL

if TYPE_CHECKING:
    from trainer.window.kit.dialog import Answer
    from trainer.window.kit.root import Root

KEYS: Final = (
    (
        "Everywhere",
        (
            ("Tab, Shift Tab", "to the next thing that can be used, to the one before"),
            ("F6, Shift F6", "to the next part of the screen, to the one before"),
            ("Enter, Space", "do it; where it acts while held, hold it"),
            ("Esc", "one step back; on the gate: let go of everything"),
            ("Page Up, Page Down", "a page up, a page down"),
            ("F1", "words of the trade that stand where you point or are; where there are none, this sheet"),
            ("?", "this sheet"),
            ("F12", "picture of the window into a file"),
            ("Ctrl +, Ctrl −", "larger, smaller text"),
        ),
    ),
    (
        "At the gate",
        (
            ("S", "stop button in, or out again; also while the other hand holds a control"),
            ("F9 or P", "hold time, or let it go on"),
            ("1 2 3 4", "pace: a quarter, one, four, sixteen"),
            ("F7", "wiring drawing in the place of the yard, and back"),
            ("Ctrl 1 to Ctrl 9", "pages of the folder"),
            ("Ctrl Z", "on the sheet: take back what is not written, then put back the last change"),
            ("Ctrl K", "all actions by name"),
            ("J and L", "look a second back, a second on; with Shift a tenth, with Ctrl ten"),
            ("K", "while looking back: play what was recorded, or hold it"),
        ),
    ),
    (
        "On the plan",
        (
            ("arrows", "move the plan, or the body in hand; with Shift in small steps"),
            ("+ and −", "nearer, farther"),
            ("Home", "the whole yard"),
            ("Page Up, Page Down", "from thing to thing: bodies, leaves, hinges, drives, guards"),
            ("Enter", "what can be done to that thing; put the body down, or end its way here"),
            ("Space", "another corner of its way"),
            ("Esc", "take nothing; close the close-up"),
        ),
    ),
    (
        "On the wiring drawing",
        (
            ("arrows", "from screw to screw"),
            ("R and B", "red lead, black lead on this screw"),
            ("Enter or Space", "the next lead on this screw"),
            ("X", "both leads off"),
            ("+ and −", "nearer, farther"),
            ("Page Up, Page Down", "up and down the drawing"),
            ("Home", "the whole drawing"),
        ),
    ),
    (
        "On the time strip",
        (
            ("Left, Right", "look back, look on, in the same steps as J and L"),
            ("Home", "to the arrival"),
            ("End or Esc", "back to now"),
        ),
    ),
    (
        "On the debrief's timeline",
        (
            ("Left, Right", "to the finding before, to the next one"),
            ("Home, End", "to the first finding, to the last"),
            ("Enter or Space", "watch what led to it"),
        ),
    ),
    (
        "In fields and lists",
        (
            ("arrows", "one row, one step; in a row of choices: choose"),
            ("Home, End", "to the beginning, to the end"),
            ("letters", "to the entry that begins with them"),
            ("Enter", "take it"),
            ("Esc", "put back what stood there"),
            ("Backspace, Delete", "the letter before, the letter after"),
            ("Ctrl A, C, X, V, Z", "mark all, copy, cut, paste, undo"),
        ),
    ),
)
"""Groups of (keys, what they do)."""

WIDE: Final = 640.0


def open_keys(root: Root, answers: Sequence[Answer] = ()) -> None:
    """Open the sheet of keys; `answers` are other ways to be helped, before the one that closes it."""
    body = [_group(name, rows) for name, rows in KEYS]
    root.open_dialog(Dialog(_("Keys"), body, [*answers, (_("Close"), "main", lambda: None)], width=WIDE))


def _group(name: str, rows: Sequence[tuple[str, str]]) -> Column:
    lines = [
        Row(
            Paragraph(_(keys), width=150, face=Face.BOLD, size=SMALL + 1),
            Paragraph(_(told), grow=1.0, size=SMALL + 1),
            gap=10,
        )
        for keys, told in rows
    ]
    return Column(Heading(_(name)), *lines, gap=4, label=_(name))
