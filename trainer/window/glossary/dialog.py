"""The glossary: words on the left, what the marked one means on the right; a few letters narrow the list."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from trainer.language import _
from trainer.window.glossary.terms import Term, matching, terms
from trainer.window.kit.boxes import Column, Row, Stretched
from trainer.window.kit.button import Button
from trainer.window.kit.dialog import Dialog
from trainer.window.kit.entry import Entry
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Paragraph
from trainer.window.kit.style import SMALL, SOFT
from trainer.window.kit.table import Column as TableColumn
from trainer.window.kit.table import Table
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.window.kit.root import Root

LISTED: Final = 256.0
"""Height of the list [logical px]: eight words."""

WIDE: Final = 620.0


class Glossary(Column):
    """Type a few letters or walk the list; the sentence of the marked word stands beside it."""

    def __init__(self, few: Sequence[Term] = ()) -> None:
        """`few`: begin with these words alone, found where help was asked for; a button brings all."""
        self.among = list(few) or list(terms())
        self.found: list[Term] = []
        self.entry = Entry(
            _("look for a word"),
            "",
            lambda _t: self._mark(0),
            empty=_("a few letters"),
            on_change=self._narrow,
            grow=1.0,
            help=_("Looks in the words and in their sentences."),
        )
        self.all = Button(_("All words"), self._all)
        self.all.visible = bool(few)
        self.table = Table(
            _("words of the trade"),
            [TableColumn(_("word"), 1.0)],
            on_mark=self._mark,
            row=32,
            heads=False,
            keeps_mark=True,
            empty=_("No word has these letters."),
        )
        self.table.fixed_height = LISTED
        self.name = Paragraph(face=Face.BOLD, size=17)
        self.group = Paragraph(size=SMALL, colour=SOFT)
        self.text = Paragraph()
        meaning = Column(self.group, self.name, self.text, gap=6, pad=(4, 4), grow=1.4, label=_("what it means"))
        words = Column(self.table, grow=1.0)
        super().__init__(Row(self.entry, self.all, gap=8), Stretched(words, meaning, gap=18), gap=10)
        self._narrow("")

    def _narrow(self, letters: str) -> None:
        self.found = matching(letters, self.among)
        self.table.show([[first_upper(_(term.name))] for term in self.found])
        self.table.first = 0
        self._mark(0)

    def _mark(self, n: int) -> None:
        self.table.mark = n if n < len(self.found) else -1
        term = self.found[n] if n < len(self.found) else None
        self.group.show("" if term is None else _(term.group))
        self.name.show("" if term is None else first_upper(_(term.name)))
        self.text.show("" if term is None else _(term.text))

    def _all(self) -> None:
        """Every word; the marked one stays marked."""
        marked = self.found[self.table.mark] if self.found else None
        self.among = list(terms())
        root = self.top().root
        self.all.visible = False
        self.entry.empty_out()
        self._narrow("")
        if marked is not None:
            self.table.go_to(self.found.index(marked))
        if root is not None:
            root.set_focus(self.table, shows=root.focus_shows)


def open_glossary(root: Root, few: Sequence[Term] = ()) -> None:
    """Open the glossary; with `few`, at the words found where help was asked for."""
    body = Glossary(few)
    dialog = Dialog(_("Words of the trade"), [body], [(_("Close"), "main", lambda: None)], width=WIDE)
    root.open_dialog(dialog, body.table if few else body.entry)


def explain(root: Root, few: Sequence[Term]) -> bool:
    """Open the glossary at a few words; False, and nothing happens, when there are none."""
    if few:
        open_glossary(root, few)
    return bool(few)
