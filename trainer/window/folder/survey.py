"""Survey: who uses the gate, where people can be hurt, what protects them there; barriers round the arc."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.controller.ports import GUARD_TERMINALS
from sim.world.actions import CATALOGUE
from trainer.language import _
from trainer.window.folder.follows import follows_of
from trainer.window.folder.page import Page, Section
from trainer.window.kit.boxes import Row, Spacer
from trainer.window.kit.choice import Dropdown, RadioRow
from trainer.window.kit.label import Heading, Paragraph
from trainer.window.kit.style import GO, SOFT
from trainer.window.kit.widget import Widget
from trainer.window.words import action_words, first_upper

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands


class SurveyPage(Page):
    """Acceptance follows from what is written here."""

    title = "Survey"

    def __init__(self, hands: Hands) -> None:
        super().__init__(hands)
        groups = next(a.choices for a in CATALOGUE["state user group"].arguments)
        self.group = RadioRow(
            _("who uses the gate"),
            groups,
            "",
            lambda group: self._do("state user group", {"group": group}),
            upright=True,
            acts=("state user group",),
            words=lambda group: first_upper(_(group)),
            help=first_upper(_(CATALOGUE["state user group"].help)),
        )
        self.barriers = Section(self._barriers, Heading(_("The arc")))
        self.hazards = Section(self._hazards, Heading(_("Hazards, and what protects there")))
        self.follows = Section(lambda: follows_of(hands.view), Heading(_("What follows from it")), gap=2)
        self.body.fill_with([Heading(_("Who uses the gate")), self.group, self.barriers, self.hazards, self.follows])

    def show(self, view: View) -> None:
        """What was written stays; what was refused goes back."""
        self.group.chosen = view.user_group
        if self.changed("cordon", view.cordoned):
            self.barriers.rebuild()
        if self.changed("survey", view.survey):
            self.hazards.rebuild()
        sheet = tuple(row.value for row in view.settings if row.name in GUARD_TERMINALS)
        if self.changed("follows", (view.survey, view.needs, sheet)):
            self.follows.rebuild()

    def _barriers(self) -> list[Widget]:
        stands = self.hands.view.cordoned
        told = _("Barriers and signs stand round the arc.") if stands else _("Anyone can walk into the arc.")
        kind = "remove cordon" if stands else "cordon"
        return [Row(Paragraph(told, grow=1.0, colour=GO if stands else SOFT), self.act(action_words(kind), kind))]

    def _hazards(self) -> list[Widget]:
        rows: list[Widget] = []
        for row in self.hands.view.survey:
            rows.append(Paragraph(first_upper(_(row.hazard))))
            field = Dropdown(
                row.hazard,
                row.choices,
                row.protection,
                lambda answer, hazard=row.hazard: self._do(  # type: ignore[misc]
                    "survey hazard", {"hazard": hazard, "protection": answer}
                ),
                words=_,
                empty=_("what protects there?"),
                grow=1.0,
                acts=("survey hazard",),
                help=first_upper(_(CATALOGUE["survey hazard"].help)),
            )
            rows.append(Row(Spacer(10), field))
        return rows
