"""The transmitters a controller knows, by holder; enrolling and deleting."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trainer.language import _
from trainer.window.form import ActionForm
from trainer.window.kit.boxes import Column, Row
from trainer.window.kit.button import Button
from trainer.window.kit.label import Heading, Label, Paragraph
from trainer.window.kit.style import SOFT
from trainer.window.kit.widget import Widget
from trainer.window.words import action_words

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands


class TransmitterList(Column):
    """One row for each holder, and the form to enrol another."""

    def __init__(self, hands: Hands) -> None:
        self.hands = hands
        self._shown: tuple[tuple[str, str], ...] | None = None
        self.rows = Column(gap=4)
        told = Paragraph(
            _("Enrol, then press the transmitter's button while the controller listens."), size=12, colour=SOFT
        )
        super().__init__(
            Heading(_("Transmitters")), self.rows, told, ActionForm(hands, "enrol transmitter"), gap=6, role="group"
        )

    def show(self, view: View) -> None:
        """Rows follow the controller's list."""
        if view.panel.transmitters != self._shown:
            self._shown = view.panel.transmitters
            self.rows.fill_with(self._rows())

    def _rows(self) -> list[Widget]:
        if not self._shown:
            return [Label(_("None enrolled."), colour=SOFT, size=13)]
        return [
            Row(
                Label(holder, grow=1.0, size=13),
                Label(_(function), width=80, size=13, colour=SOFT),
                Button(
                    action_words("delete transmitter"),
                    lambda holder=holder: self._delete(holder),  # type: ignore[misc]
                    look="quiet",
                    acts=("delete transmitter",),
                ),
            )
            for holder, function in self._shown
        ]

    def _delete(self, holder: str) -> None:
        self.hands.do("delete transmitter", {"holder": holder})
