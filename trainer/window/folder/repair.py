"""Repair: what hands do to a leaf, a part, a core, a screw. Made from the catalogue: a new act has its place here."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.world.actions import CATALOGUE
from trainer.language import _
from trainer.window.folder.page import Page, Section
from trainer.window.form import ActionForm
from trainer.window.kit.boxes import Row
from trainer.window.kit.choice import Dropdown
from trainer.window.kit.label import Heading, Label, Paragraph
from trainer.window.kit.style import SOFT
from trainer.window.kit.widget import Widget
from trainer.window.words import action_words

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands

SECTIONS: Final = (
    ("repair", "Repairs"),
    ("mechanics", "At the leaves"),
    ("isolation", "Isolation"),
    ("access", "Access"),
    ("instruments", "Instruments"),
)
"""Group of the catalogue, and what stands over it."""

ELSEWHERE: Final = frozenset(
    {
        *("release drive", "engage drive", "push leaf"),
        *("isolate", "restore", "remove battery link", "fit battery link", "cordon", "remove cordon"),
        *("measure", "place instrument", "read instrument", "lift instrument", "repeat this reading"),
        *("prove tester", "test dead", "place probes", "read meter", "lift probes"),
        *("place force gauge", "read force gauge", "remove force gauge"),
        *("enrol transmitter", "delete transmitter", "press transmitter", "release transmitter"),
    }
)
"""Acts of these groups that have a place of their own."""

PICKED: Final = {"one": "core", "other": "core"}
"""Arguments that name a kind of place."""


def acts_of(group: str) -> tuple[str, ...]:
    """Acts of a group that are done on this page."""
    return tuple(name for name, kind in CATALOGUE.items() if kind.group == group and name not in ELSEWHERE)


class RepairPage(Page):
    """One act of each group at a time, with its form."""

    title = "Repair"

    def __init__(self, hands: Hands) -> None:
        super().__init__(hands)
        self.chosen = {group: names[0] for group, _words in SECTIONS if (names := acts_of(group))}
        self.sections: dict[str, Section] = {}
        rows: list[Widget] = [
            Paragraph(_("A repair puts one thing right. Whether it was that thing shows in the next test."), size=12,
                      colour=SOFT)
        ]  # fmt: skip
        for group, words in SECTIONS:
            if group in self.chosen:
                self.sections[group] = Section(lambda group=group: self._rows(group), Heading(_(words)))  # type: ignore[misc]
                rows.append(self.sections[group])
        self.body.fill_with(rows)

    def show(self, view: View) -> None:
        """What can be named follows the gate."""
        for group, section in self.sections.items():
            if self.changed(group, (self.chosen[group], id(view.wiring))):
                section.rebuild()

    def _rows(self, group: str) -> list[Widget]:
        names = acts_of(group)
        act = self.chosen[group]
        words = {action_words(name): name for name in names}

        def take(chosen: str) -> None:
            self.chosen[group] = words[chosen]

        field = Dropdown(
            _("act: {group}").format(group=_(group)),
            list(words),
            action_words(act),
            take,
            grow=1.0,
            acts=names,
            help=_("Choose what to do; the form below follows"),
        )
        offers = self.hands.view.offers
        names_of = {a.name: offers.get(PICKED.get(a.name, act), ()) for a in CATALOGUE[act].arguments}
        return [
            Row(Label(_("Do what"), width=112), field),
            Paragraph(_(CATALOGUE[act].help), size=12, colour=SOFT),
            ActionForm(self.hands, act, offered=names_of, look="main"),
        ]
