"""Sheet: every setting of the controller by group, with unit, range and help; learning, transmitters, seal, log."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trainer.language import _
from trainer.window.folder.edits import Edits
from trainer.window.folder.page import Page, Section
from trainer.window.folder.setting_row import SettingRow
from trainer.window.folder.stillness import message_of
from trainer.window.folder.transmitters import TransmitterList
from trainer.window.form import ActionForm
from trainer.window.kit.boxes import Flow
from trainer.window.kit.label import Heading, Item, Note, Paragraph
from trainer.window.kit.style import GO, GO_WASH, SMALL, SOFT, STOP, STOP_WASH, WARN, WARN_WASH
from trainer.window.kit.widget import Widget
from trainer.window.words import action_words, first_upper, moment

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands


class SheetPage(Page):
    """The controller's own settings, as its service panel has them."""

    title = "Sheet"

    def __init__(self, hands: Hands) -> None:
        super().__init__(hands)
        self.note = Note("", GO, GO_WASH)
        self.lock = Note("", WARN, WARN_WASH, sign="⚠")
        self.rows: dict[str, SettingRow] = {}
        self.warnings = Section(self._warnings, gap=3)
        self.edits = Edits(hands, self.rows.values)
        self.settings = Section(self._settings, gap=3)
        self.learning = Section(self._learning, Heading(_("Travel learning")))
        self.transmitters = TransmitterList(hands)
        self.seal = Section(self._seal, Heading(_("Seal")))
        self.log = Section(self._log, Heading(_("The controller's own log")))
        acts = Flow(
            self.act(action_words("acknowledge"), "acknowledge", _("Acknowledge the message on the panel.")),
            self.act(action_words("reset sheet"), "reset sheet", _("Every guard is then declared as fitted again.")),
        )
        self.body.fill_with(
            [
                self.note,
                self.lock,
                self.warnings,
                self.edits,
                self.settings,
                self.learning,
                acts,
                self.transmitters,
                self.seal,
                self.log,
            ]
        )

    def show(self, view: View) -> None:
        """Values follow the controller; a field that is being typed in is left alone."""
        panel = view.panel
        bad = any(line.blocks for line in panel.inputs) or not view.board_on
        self.note.recolour(*((STOP, STOP_WASH, "") if bad else (GO, GO_WASH, "")))
        self.note.show(message_of(view))
        locked = next((row.locked for row in view.settings if row.locked), "")
        self.lock.visible = bool(locked) and view.board_on
        self.lock.show(first_upper(_(locked)))
        self.warnings.visible = bool(panel.warnings) and view.board_on
        if self.changed("warnings", panel.warnings):
            self.warnings.rebuild()
        if self.changed("names", tuple(row.name for row in view.settings)):
            self.settings.rebuild()
        for row in view.settings:
            shown = self.rows.get(row.name)
            if shown is not None:
                shown.update(row)
        self.edits.show(view)
        if self.changed("travel", (panel.travel, panel.learned, view.board_on)):
            self.learning.rebuild()
        if self.changed("seal", panel.sealed):
            self.seal.rebuild()
        if self.changed("log", (panel.log, panel.counted)):
            self.log.rebuild()
        self.transmitters.show(view)

    def undo(self) -> bool:
        """What is not written is taken back, then the last change is put back."""
        return self.edits.back()

    def _write(self, setting: str, value: str) -> None:
        self.hands.do("set", {"setting": setting, "value": value})

    def _warnings(self) -> list[Widget]:
        told = self.hands.view.panel.warnings
        return [
            Item(f"{first_upper(', '.join(map(_, each.settings)))}: {_(each.reason)}", "⚠", WARN) for each in told
        ]

    def _settings(self) -> list[Widget]:
        out: list[Widget] = []
        group = ""
        self.rows.clear()
        for row in self.hands.view.settings:
            if row.group != group:
                group = row.group
                out.append(Heading(_(group)))
            self.rows[row.name] = SettingRow(row, self._write)
            out.append(self.rows[row.name])
        return out

    def _learning(self) -> list[Widget]:
        travel = self.hands.view.panel.travel[: len(self.hands.view.leaves)]
        if None in travel:
            told: Widget = Item(_("Not learned, or not finished."), "·", SOFT)
        elif len(travel) == 1:
            told = Item(_("Learned: active leaf {active} counts.").format(active=travel[0]), "✓", GO)
        else:
            told = Item(
                _("Learned: active leaf {active}, inactive leaf {inactive} counts.").format(
                    active=travel[0], inactive=travel[1]
                ),
                "✓",
                GO,
            )
        learned = first_upper(_(self.hands.view.panel.learned))
        season = [Item(f"{learned}.", "·", SOFT)] if learned else []
        return [told, *season, Flow(self.act(action_words("learn travel"), "learn travel"))]

    def _seal(self) -> list[Widget]:
        sealed = self.hands.view.panel.sealed
        told = _("The sheet is sealed.") if sealed else _("The sheet is open. It is sealed at hand-over.")
        return [Paragraph(told, size=13), ActionForm(self.hands, "unseal sheet" if sealed else "seal sheet")]

    def _log(self) -> list[Widget]:
        panel = self.hands.view.panel
        dates = panel.dates or tuple(moment(at) for at, _text in panel.log)
        lines = list(zip(dates, panel.log, strict=True))[-30:]
        told: list[Widget] = [
            Item(f"{_(date)}   {_(text)}", "·", SOFT, size=SMALL) for date, (_at, text) in reversed(lines)
        ]
        act = Flow(self.act(action_words("set clock"), "set clock", _("By your watch.")))
        counted = [Paragraph(f"{first_upper(_(panel.counted))}.", size=13)] if panel.counted else []
        return [*counted, act, *told]
