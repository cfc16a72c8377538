"""Notebook: what one saw, suspects and has ruled out; and what went dangerously wrong."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trainer.window.folder.page import Page, Section
from trainer.window.kit.boxes import Row
from trainer.window.kit.button import Button
from trainer.window.kit.entry import Entry
from trainer.window.kit.label import Heading, Item, Note, Paragraph
from trainer.window.kit.style import SOFT, STOP, STOP_WASH
from trainer.window.kit.widget import Widget
from trainer.window.words import _, moment

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands


class NotebookPage(Page):
    """Notes in the order they were written, newest first."""

    title = "Notebook"

    def __init__(self, hands: Hands) -> None:
        super().__init__(hands)
        self.entry = Entry(
            _("new note"),
            "",
            lambda _text: self._write(),
            empty=_("what you saw, suspect, ruled out"),
            grow=1.0,
            acts=("note",),
        )
        self.alarms = Section(self._alarms, Heading(_("Dangerous moments")))
        self.notes = Section(self._notes, Heading(_("Notes")))
        write = Button(_("Write"), self._write, acts=("note",))
        self.body.fill_with([Row(self.entry, write), self.alarms, self.notes])

    def show(self, view: View) -> None:
        """Notes are added."""
        if self.changed("notes", view.notes):
            self.notes.rebuild()
        if self.changed("alarms", view.alarms):
            self.alarms.rebuild()

    def _write(self) -> None:
        text = self.entry.text.strip()
        if text:
            self.hands.do("note", {"text": text}, self.entry.empty_out)

    def _notes(self) -> list[Widget]:
        notes = self.hands.view.notes
        if not notes:
            return [Paragraph(_("Nothing written yet. What stands here counts in the debrief."), colour=SOFT)]
        return [Item(f"{moment(at)}   {text}", "–", SOFT) for at, text in reversed(notes)]

    def _alarms(self) -> list[Widget]:
        return [
            Note(f"{moment(at)}   {text}", STOP, STOP_WASH, sign="⚠") for at, text in reversed(self.hands.view.alarms)
        ]
