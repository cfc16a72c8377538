"""What was changed on the sheet, above its settings: what is not written yet, the last change, and the ways back.

A sheet is bookwork: what was written on it can be put back, by writing what stood there before. That is an act like
any other, and stands in the journal as one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from trainer.language import _
from trainer.window.folder.setting_row import SettingRow, with_unit
from trainer.window.kit.boxes import Column, Row
from trainer.window.kit.button import Button
from trainer.window.kit.label import Paragraph
from trainer.window.kit.style import SMALL, SOFT, WARN
from trainer.window.words import moment

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands


class Edits(Column):
    """Two lines that come and go: fields that wait for Enter, and the last change that can be put back."""

    def __init__(self, hands: Hands, rows: Callable[[], Iterable[SettingRow]]) -> None:
        self.hands = hands
        self.rows = rows
        self.waiting = Paragraph("", size=SMALL, colour=WARN, grow=1.0)
        self.last = Paragraph("", size=SMALL, colour=SOFT, grow=1.0)
        back = Button(
            _("Take back"), self.take_back, help=_("Every field shows again what stands in the controller (Ctrl Z).")
        )
        self.undo = Button(
            _("Undo"),
            self.put_back,
            help=_("Writes what stood there before; the change after it stays in the journal (Ctrl Z)."),
            acts=("set",),
        )
        self.pending = Row(self.waiting, back)
        self.written = Row(self.last, self.undo)
        super().__init__(self.pending, self.written, gap=4, label=_("changes of the sheet"))

    def show(self, view: View) -> None:
        """What waits, what was written last, and how much differs from how the sheet was found."""
        waits = [_(row.setting.name) for row in self.rows() if row.pending]
        self.pending.visible = bool(waits)
        self.waiting.show(_("Not written yet: {names}. Enter writes it.").format(names="; ".join(waits)))
        change = view.undo
        self.written.visible = change is not None
        self.visible = bool(waits) or change is not None
        self.undo.enabled = not any(row.locked for row in view.settings)
        if change is None:
            return
        unit = next((row.unit for row in view.settings if row.name == change.setting), "")
        differ = sum(bool(row.found) and row.found != row.value for row in view.settings)
        told = _("Written at {at}: {setting}, {before} before, now {after}.").format(
            at=moment(change.at),
            setting=_(change.setting),
            before=with_unit(change.before, unit),
            after=with_unit(change.after, unit),
        )
        count = (
            _("One setting is not as you found it.")
            if differ == 1
            else _("{count} settings are not as you found them.").format(count=differ)
        )
        self.last.show(f"{told} {count}" if differ else told)

    def take_back(self) -> None:
        """Forget what is typed and not written."""
        for row in self.rows():
            row.take_back()

    def put_back(self) -> None:
        """Write what stood there before the last change that still stands."""
        change = self.hands.view.undo
        if change is not None:
            self.hands.do("set", {"setting": change.setting, "value": change.before})

    def back(self) -> bool:
        """One step back: first what is not written, then the last change; False when there is neither."""
        if any(row.pending for row in self.rows()):
            self.take_back()
            return True
        if self.hands.view.undo is None or not self.undo.enabled:
            return False
        self.put_back()
        return True
