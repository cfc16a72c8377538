"""Every action of the catalogue by name, with its form."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from sim.world.actions import CATALOGUE
from trainer.language import _
from trainer.window.form import ActionForm
from trainer.window.kit.boxes import Column
from trainer.window.kit.dialog import Dialog
from trainer.window.kit.entry import Entry
from trainer.window.kit.label import Heading, Paragraph
from trainer.window.kit.style import SOFT, TARGET
from trainer.window.kit.table import Column as TableColumn
from trainer.window.kit.table import Table
from trainer.window.words import first_upper, short_duration

if TYPE_CHECKING:
    from trainer.window.hands import Hands


LISTED: Final = 256.0
FEW: Final = 3
"""Height of the list [logical px]; of a few actions it is low, so that the form of the chosen one is in sight."""


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
            row=TARGET,
        )
        self.form = Column(gap=6)
        super().__init__(self.entry, self.table, self.form, gap=10)
        self._narrow("")

    def _narrow(self, text: str) -> None:
        words = text.lower().split()
        self.kinds = [
            kind
            for kind, entry in CATALOGUE.items()
            if all(word in f"{_(kind)} {_(entry.help)} {_(entry.group)}".lower() for word in words)
        ]
        self.table.show([self._row(kind) for kind in self.kinds])
        self.table.fixed_height = LISTED if len(self.kinds) > FEW else FEW * TARGET
        self.stale()
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
