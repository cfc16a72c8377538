"""What an engineer does with the same gate at a console: each command in words, with a line that can be copied."""

from __future__ import annotations

from typing import Final

import pygame

from trainer.language import _
from trainer.window.kit.boxes import Column, Row
from trainer.window.kit.button import Button
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Heading, Label, Paragraph
from trainer.window.kit.scroll import Scroll
from trainer.window.kit.style import FIELD, SHEET, SOFT
from trainer.window.kit.widget import Widget

COMMANDS: Final = (
    ("gudgeon run scenarios/sites/mill_lane.yaml", "Run a gate without a window and see what it does."),
    (
        "gudgeon run scenarios/sites/mill_lane.yaml --controller my_logic.py:Mine --trace signals.csv",
        "Put logic of your own in the place of the controller, and write every signal to a file.",
    ),
    ("gudgeon prove --list", "The safety properties that a controller is held to."),
    (
        "gudgeon prove --site scenarios/sites/mill_lane.yaml --controller my_logic.py:Mine",
        "Search for acts, faults and weather that break a property; what is found is kept as a short case.",
    ),
    ("gudgeon force scenarios/sites/mill_lane.yaml --out force", "Measure closing force at every point of the plan."),
    ("gudgeon faults", "Every fault of the catalogue; with a name, what it is and how it is told."),
    ("gudgeon settings", "Every setting of the sheet with its unit, its range and what it does."),
    ("gudgeon chart --svg states.svg", "The controller's states and ways between them as a drawing."),
    ("gudgeon check scenarios", "Read site, job and drill files and say what is wrong with them, by file and line."),
)
"""(a line for the console, what it is for)."""


class BenchPage(Column):
    """The commands, one card each."""

    def __init__(self) -> None:
        cards = [self._card(line, words) for line, words in COMMANDS]
        super().__init__(
            Scroll(Column(Heading(_("At the console")), *cards, gap=10), label=_("bench")),
            gap=0,
            grow=1.0,
            role="region",
            label=_("bench"),
        )

    def _card(self, line: str, words: str) -> Widget:
        return Column(
            Row(
                Column(
                    Paragraph(_(words), size=14),
                    Label(line, face=Face.MONO, size=13, colour=SOFT, help=line, name=_("command")),
                    gap=4,
                    grow=1.0,
                ),
                Button(_("Copy"), lambda: self._copy(line), help=_("Copies the line for the console")),
                gap=14,
            ),
            pad=(16, 10), fill=SHEET, edge=FIELD, radius=3, role="command", label=line,
        )  # fmt: skip

    def _copy(self, line: str) -> None:
        root = self.top().root
        try:
            pygame.scrap.put_text(line)
        except pygame.error as error:
            if root is not None:
                root.toast(_("The line could not be copied ({error}).").format(error=error), bad=True)
            return
        if root is not None:
            root.toast(_("Copied: {line}").format(line=line))
