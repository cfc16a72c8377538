"""Instruments: the shelf by groups, one tool in hand at a time; it is used here, and its readings stand here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trainer.language import _
from trainer.window.folder.bench import Bench
from trainer.window.folder.measuring import Measuring
from trainer.window.folder.page import Page, Section
from trainer.window.folder.shelf import ToolShelf
from trainer.window.form import ActionForm
from trainer.window.kit.boxes import Column, Flow
from trainer.window.kit.choice import RadioRow
from trainer.window.kit.label import Heading, Item, Paragraph
from trainer.window.kit.style import GO, SOFT, STOP
from trainer.window.kit.widget import Widget
from trainer.window.words import action_words, first_upper

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands


class InstrumentsPage(Page):
    """The bench of tools."""

    title = "Instruments"

    def __init__(self, hands: Hands, bench: Bench) -> None:
        super().__init__(hands)
        self.bench = bench
        self.groups = RadioRow(
            _("group"),
            [],
            "",
            self._turn,
            words=lambda group: first_upper(_(group)),
            size=12,
            help=_("Which part of the bench lies open"),
        )
        self.shelf = ToolShelf(_("in hand"), self._take)
        self.measuring = Measuring(hands, bench)
        self.gauge = Section(self._gauge)
        self.scale = Column(*self._scale(), gap=8)
        self.body.fill_with(
            [
                self.measuring,
                self.gauge,
                self.scale,
                Heading(_("On the shelf")),
                self.groups,
                self.shelf,
            ]
        )

    def show(self, view: View) -> None:
        """Only the tool in hand is shown; the shelf is that of its group."""
        held = self.bench.instrument(view)
        groups = list(dict.fromkeys(each.group for each in view.tools.instruments))
        if groups != self.groups.choices:
            self.groups.choices = groups
            self.groups.stale()
        group = held.group if held is not None else ""
        self.groups.chosen = group
        lying = {each.name: _(each.help) for each in view.tools.instruments if each.group == group}
        self.shelf.show(lying, self.bench.tool, frozenset(use.instrument for use in view.tools.in_place))
        self.measuring.show(view)
        self.gauge.visible = self.bench.tool == "force gauge"
        self.scale.visible = self.bench.tool == "spring scale"
        if self.changed("gauge", (view.gauge, len(view.curves))):
            self.gauge.rebuild()

    def _turn(self, group: str) -> None:
        """Another part of the shelf: its first tool is in hand."""
        tools = [each.name for each in self.hands.view.tools.instruments if each.group == group]
        self._take(tools[0])

    def _take(self, tool: str) -> None:
        self.bench.take(tool)
        self.show(self.hands.view)
        self.reveal(self.measuring.rect.move(0, -12))  # what was taken stands at the head of the page

    def _gauge(self) -> list[Widget]:
        view = self.hands.view
        rows: list[Widget] = []
        if view.gauge is None:
            rows += [
                Heading(_("For the force record")),
                Paragraph(_("500 N/mm spring between two discs. It wants a rigid rest."), size=12, colour=SOFT),
                ActionForm(self.hands, "place force gauge", known={"gap_mm": 500.0, "height_mm": 500.0}, look="main"),
            ]
        else:
            leaf, gap, high = view.gauge
            told = _("It stands at the {leaf} leaf: gap {gap:.0f} mm, {high:.0f} mm above ground.").format(
                leaf=_(leaf), gap=gap, high=high
            )
            rows += [
                Heading(_("It stands")),
                Paragraph(told),
                Paragraph(_("Let the gate close onto it, then store it. Three readings make a point."), colour=SOFT),
                Flow(
                    self.act(action_words("read force gauge"), "read force gauge"),
                    self.act(action_words("remove force gauge"), "remove force gauge"),
                ),
            ]
        if view.curves:
            rows.append(Heading(_("Readings; their curves are under Acceptance")))
            for n, curve in enumerate(view.curves, 1):
                good = curve.verdict == "within limits"
                told = _("{n}: {peak:.0f} N at gap {gap:.0f} mm, {rest}: {verdict}").format(
                    n=n, peak=curve.peak_n, gap=curve.gap_mm, rest=_(curve.rest), verdict=_(curve.verdict)
                )
                rows.append(Item(told, "✓" if good else "⊘", GO if good else STOP, size=13))
        return rows

    def _scale(self) -> list[Widget]:
        rows: list[Widget] = [
            Paragraph(_("Hooked to the tip of a released leaf, it reads what it takes to push it."), colour=SOFT)
        ]
        for leaf in (each.name for each in self.hands.view.leaves):
            rows.append(Heading(_("{leaf} leaf").format(leaf=_(leaf))))
            rows.append(ActionForm(self.hands, "push leaf", fixed={"leaf": leaf}, known={"to_deg": 45.0}))
            rows.append(
                Flow(
                    self.act(action_words("release drive"), "release drive", leaf=leaf),
                    self.act(action_words("engage drive"), "engage drive", leaf=leaf),
                )
            )
        return rows
