"""Instruments: one in hand at a time; it is used here, and its readings stand here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.units import LEAVES
from trainer.window.folder.bench import TOOLS, Bench
from trainer.window.folder.page import Page, Section
from trainer.window.folder.probing import Multimeter, Tester
from trainer.window.form import ActionForm
from trainer.window.kit.boxes import Column, Flow
from trainer.window.kit.choice import RadioRow
from trainer.window.kit.label import Heading, Item, Paragraph
from trainer.window.kit.style import GO, SOFT, STOP
from trainer.window.kit.widget import Widget
from trainer.window.words import _, action_words, first_upper

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands


class InstrumentsPage(Page):
    """The bench of tools."""

    title = "Instruments"

    def __init__(self, hands: Hands, bench: Bench) -> None:
        super().__init__(hands)
        self.bench = bench
        self.tools = RadioRow(
            _("in hand"), TOOLS, bench.tool, self._take, upright=True, words=lambda tool: first_upper(_(tool))
        )
        self.meter = Multimeter(hands, bench)
        self.tester = Tester(hands, bench)
        self.gauge = Section(self._gauge)
        self.scale = Column(*self._scale(), gap=8)
        self.body.fill_with([Heading(_("In hand")), self.tools, self.meter, self.tester, self.gauge, self.scale])
        self._take(bench.tool)

    def show(self, view: View) -> None:
        """Only the tool in hand is shown."""
        self.meter.show(view)
        self.tester.show(view)
        if self.changed("gauge", (view.gauge, len(view.curves))):
            self.gauge.rebuild()

    def _take(self, tool: str) -> None:
        self.bench.tool = tool
        self.meter.visible = tool == "multimeter"
        self.tester.visible = tool == "two-pole tester"
        self.gauge.visible = tool == "force gauge"
        self.scale.visible = tool == "spring scale"

    def _gauge(self) -> list[Widget]:
        view = self.hands.view
        rows: list[Widget] = []
        if view.gauge is None:
            rows += [
                Heading(_("Set it up")),
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
                    n=n, peak=curve.peak_n, gap=curve.gap_mm, rest=curve.rest, verdict=curve.verdict
                )
                rows.append(Item(told, "✓" if good else "⊘", GO if good else STOP, size=13))
        return rows

    def _scale(self) -> list[Widget]:
        rows: list[Widget] = [
            Paragraph(_("Hooked to the tip of a released leaf, it reads what it takes to push it."), colour=SOFT)
        ]
        for leaf in LEAVES:
            rows.append(Heading(_("{leaf} leaf").format(leaf=_(leaf))))
            rows.append(ActionForm(self.hands, "push leaf", fixed={"leaf": leaf}, known={"to_deg": 45.0}))
            rows.append(
                Flow(
                    self.act(action_words("release drive"), "release drive", leaf=leaf),
                    self.act(action_words("engage drive"), "engage drive", leaf=leaf),
                )
            )
        return rows
