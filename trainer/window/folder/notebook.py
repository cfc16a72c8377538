"""Notebook: what one saw, suspects and has ruled out; what acts noted; and what went dangerously wrong."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.world.notebook import WRITTEN
from trainer.language import _
from trainer.window.folder.conclusion import ConclusionPart
from trainer.window.folder.page import Page, Section
from trainer.window.kit.boxes import Row, Spacer
from trainer.window.kit.button import Button
from trainer.window.kit.choice import RadioRow
from trainer.window.kit.entry import Entry
from trainer.window.kit.label import Heading, Item, Note, Paragraph
from trainer.window.kit.lists import MenuButton
from trainer.window.kit.style import GO, INK, SMALL, SOFT, STOP, STOP_WASH, WARN, Colour
from trainer.window.kit.widget import Widget
from trainer.window.words import action_words, moment

if TYPE_CHECKING:
    from sim.world.notebook import Note as Line
    from trainer.session.view import View
    from trainer.window.hands import Hands

WORDS: Final = {"seen": "What I saw", "suspected": "What I suspect", "ruled out": "What I ruled out"}
SIGNS: Final[dict[str, tuple[str, Colour]]] = {"seen": ("–", SOFT), "suspected": ("?", WARN), "ruled out": ("✓", GO)}
"""A mark for each kind: the heading above says it too."""
CHANGE, RULE_OUT, STRIKE, KEEP = "Change the words", "I have ruled it out", "Strike it out", "Let it count again"


def entry_words(entry: str) -> str:
    """What a kind of note is called."""
    return _(WORDS[entry])


class NotebookPage(Page):
    """Three kinds of notes under their headings, newest first; each can be put right until the job has ended."""

    title = "Notebook"

    def __init__(self, hands: Hands) -> None:
        super().__init__(hands)
        self.number = 0
        """The note that is being written anew; 0: a new one."""
        told = _("Under which heading the note stands")
        self.kinds = RadioRow(_("what it is"), WRITTEN, "seen", self._turn, words=entry_words, help=told)
        self.entry = Entry(
            _("new note"),
            "",
            lambda _text: self._write(),
            empty=_("a new note"),
            grow=1.0,
            acts=("note", "change note"),
            help=_("Enter writes it, with the time"),
        )
        self.write = Button(
            action_words("note"), self._write, acts=("note", "change note"), help=_("Writes the note, with the time")
        )
        self.cancel = Button(_("Leave it"), self._begin, help=_("The note stays as it stands."))
        self.conclusion = ConclusionPart(hands)
        self.conclusion.visible = False
        self.alarms = Section(self._alarms, Heading(_("Dangerous moments")))
        self.parts = [
            Section(lambda entry=entry: self._notes(entry), Heading(entry_words(entry)), gap=2)  # type: ignore[misc]
            for entry in WRITTEN
        ]
        self.told = Section(self._told, Heading(_("Noted by what was done")), gap=2)
        self.empty = Paragraph(_("Nothing written yet. What stands here counts in the debrief."), colour=SOFT)
        self.body.fill_with(
            [
                self.kinds,
                Row(self.entry, self.write, self.cancel),
                self.conclusion,
                self.empty,
                self.alarms,
                *self.parts,
                self.told,
            ]
        )
        self._begin()

    def show(self, view: View) -> None:
        """Notes are added and put right; after the end they only stand there."""
        if self.changed("notes", (view.notes, view.finished)):
            self.empty.visible = not view.notes
            for part in (*self.parts, self.told):
                part.rebuild()
            for field in (self.kinds, self.entry, self.write):
                field.enabled = not view.finished
        if self.changed("conclusions", (view.conclusions, view.acceptance, view.finished)):
            self.conclusion.show(view)
        if self.changed("alarms", view.alarms):
            self.alarms.rebuild()

    def undo(self) -> bool:
        """Leaves the note that is being written anew as it stands."""
        changing = self.number > 0
        if changing:
            self._begin()
        return changing

    def _turn(self, entry: str) -> None:
        self.kinds.chosen = entry

    def _write(self) -> None:
        text = self.entry.text.strip()
        if not text:
            return
        given: dict[str, object] = {"text": text, "entry": self.kinds.chosen}
        if self.number:
            self.hands.do("change note", {"number": self.number, **given}, self._begin)
        else:
            self.hands.do("note", given, self.entry.empty_out)

    def _begin(self, line: Line | None = None, entry: str = "") -> None:
        """Ready for a new note, or for new words of a line."""
        self.number = line.number if line is not None else 0
        self.entry.empty_out()
        if line is not None:
            self.kinds.chosen = entry or line.entry
            self.entry.type(line.text)
        self.write.relabel(action_words("change note" if self.number else "note"))
        self.cancel.visible = self.number > 0
        root = self.top().root
        if line is not None and root is not None:
            root.set_focus(self.entry, shows=True)
            # Words are added to what stands there more often than put in its place.
            self.entry.caret = self.entry.mark = len(line.text)

    def _act(self, line: Line, chosen: str) -> None:
        if chosen == _(CHANGE):
            self._begin(line)
        elif chosen == _(RULE_OUT):
            # Why it is ruled out belongs beside it: the words come up to be added to.
            self._begin(line, "ruled out")
        elif chosen == _(STRIKE):
            self.hands.do("strike note", {"number": line.number})
        else:
            self.hands.do("change note", {"number": line.number, "text": line.text, "entry": line.entry})

    def _notes(self, entry: str) -> list[Widget]:
        return [self._line(note) for note in reversed(self.hands.view.notes) if note.entry == entry]

    def _told(self) -> list[Widget]:
        notes = [note for note in reversed(self.hands.view.notes) if not note.entry]
        return [Item(f"{moment(note.at)}   {_(note.text)}", "·", SOFT, size=SMALL) for note in notes]

    def _line(self, note: Line) -> Widget:
        sign, colour = SIGNS[note.entry]
        told = f"{moment(note.at)}   {note.text}"
        if note.struck:
            sign, colour = "×", SOFT
            told = _("{note} (struck out)").format(note=told)
        elif note.changed is not None:
            told = _("{note} (written anew at {at})").format(note=told, at=moment(note.changed))
        item = Item(told, sign, colour, colour=SOFT if note.struck else INK)
        item.grow = 1.0
        if self.hands.view.finished:
            return item
        acts = [CHANGE, *([RULE_OUT] if note.entry == "suspected" else []), STRIKE]
        menu = MenuButton(
            _("Put right"),
            [_(act) for act in ([KEEP] if note.struck else acts)],
            lambda chosen: self._act(note, chosen),
            look="quiet",
            acts=("change note", "strike note"),
            help=_("Change it, or strike it out; the journal keeps what stood there"),
        )
        return Row(item, menu, Spacer(2), role="note line", label=_("note {number}").format(number=note.number))

    def _alarms(self) -> list[Widget]:
        return [
            Note(f"{moment(at)}   {_(text)}", STOP, STOP_WASH, sign="⚠")
            for at, text in reversed(self.hands.view.alarms)
        ]
