"""Every action of the catalogue by name, with its form; and the sheet of keys."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sim.world.actions import CATALOGUE
from trainer.window.form import ActionForm
from trainer.window.kit.boxes import Column, Row
from trainer.window.kit.dialog import Dialog
from trainer.window.kit.entry import Entry
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Heading, Label, Paragraph
from trainer.window.kit.style import SOFT
from trainer.window.kit.table import Column as TableColumn
from trainer.window.kit.table import Table
from trainer.window.words import _, first_upper, short_duration

if TYPE_CHECKING:
    from trainer.window.hands import Hands
    from trainer.window.kit.root import Root

KEYS = (
    ("Tab, Shift Tab", "next, previous"),
    ("F6, Shift F6", "next, previous part of the screen"),
    ("arrows", "inside a list, a row of choices, the strip, the plan"),
    ("Enter, Space", "do it; hold it where it acts while held"),
    ("Esc", "one step back; lets go of everything"),
    ("S", "the stop button in, or out again; also while the other hand holds a control"),
    ("F9 or P", "hold time, go on"),
    ("1 2 3 4", "pace: a quarter, one, four, sixteen"),
    ("Ctrl 1 to Ctrl 9", "pages of the folder"),
    ("F7", "wiring drawing in the place of the yard, and back"),
    ("arrows on the drawing", "from screw to screw: R and B put a lead there, Enter the next, X takes both off"),
    ("Ctrl K", "all actions by name"),
    ("Ctrl +, Ctrl −", "larger, smaller text"),
    ("R, B", "red, black lead on the marked terminal"),
    ("F12", "picture of the window into a file"),
    ("F1 or ?", "this sheet"),
)


class Palette(Column):
    """Type a few letters, choose an action, fill in its form."""

    def __init__(self, hands: Hands) -> None:
        self.hands = hands
        self.kinds: list[str] = []
        self.entry = Entry(
            _("look for an action"), "", lambda _t: self._take(0), empty=_("a few letters"), on_change=self._narrow
        )
        self.table = Table(
            _("actions"),
            [TableColumn(_("action"), 1.0), TableColumn(_("what it does"), 2.2), TableColumn(_("takes"), width=64)],
            on_mark=self._open,
            on_take=self._take,
            row=26,
        )
        self.table.fixed_height = 240
        self.form = Column(gap=6)
        super().__init__(self.entry, self.table, self.form, gap=10)
        self._narrow("")

    def _narrow(self, text: str) -> None:
        words = text.lower().split()
        self.kinds = [
            kind
            for kind, entry in CATALOGUE.items()
            if all(word in f"{kind} {entry.help} {entry.group}".lower() for word in words)
        ]
        self.table.show([self._row(kind) for kind in self.kinds])
        self.table.mark = -1
        self.form.fill_with([])
        if len(self.kinds) == 1:
            self._open(0)

    def _row(self, kind: str) -> Sequence[str]:
        entry = CATALOGUE[kind]
        takes = short_duration(entry.takes / 1e6) if entry.takes else ""
        return first_upper(_(kind)), _(entry.help), takes

    def _open(self, n: int) -> None:
        kind = self.kinds[n]
        terminals = [terminal.name for terminal in self.hands.view.terminals]
        offered = {
            "red": terminals,
            "black": terminals,
            "setting": [row.name for row in self.hands.view.settings],
            "hazard": [row.hazard for row in self.hands.view.survey],
            "transmitter": [tag for tag, _n in self.hands.view.transmitters],
            "holder": [holder for holder, _f in self.hands.view.panel.transmitters] if kind[:3] == "del" else [],
        }
        self.form.fill_with(
            [
                Heading(_(kind)),
                Paragraph(_(CATALOGUE[kind].help), size=13, colour=SOFT),
                ActionForm(self.hands, kind, offered=offered, look="main"),
            ]
        )

    def _take(self, n: int) -> None:
        if self.kinds:
            self.table.mark = n if n < len(self.kinds) else 0
            self._open(self.table.mark)


def open_palette(hands: Hands) -> None:
    """Open the list of all actions."""
    palette = Palette(hands)
    dialog = Dialog(_("All actions"), [palette], [(_("Close"), "plain", lambda: None)], width=720)
    hands.root.open_dialog(dialog, palette.entry)


def open_keys(root: Root) -> None:
    """Open the sheet of keys."""
    rows = [
        Row(Label(_(keys), width=160, face=Face.BOLD, size=13), Label(_(told), grow=1.0, size=13), gap=8)
        for keys, told in KEYS
    ]
    root.open_dialog(Dialog(_("Keys"), rows, [(_("Close"), "main", lambda: None)], width=560))
