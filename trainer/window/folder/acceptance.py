"""Acceptance: the checks that follow from the survey, the force record, and how a job ends."""

from __future__ import annotations

from statistics import fmean
from typing import TYPE_CHECKING

from trainer.window.folder.curves import CurvePlot
from trainer.window.folder.page import Page, Section
from trainer.window.form import ActionForm
from trainer.window.kit.boxes import Column, Row, Spacer
from trainer.window.kit.button import Button, Toggle
from trainer.window.kit.label import Heading, Item, Label, Paragraph
from trainer.window.kit.style import FIELD, GO, INK, SOFT, STOP, WARN
from trainer.window.kit.widget import Widget
from trainer.window.words import _, action_words, first_upper

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands

SIGNS = {"passed": ("✓", GO), "failed": ("⊘", STOP), "stale": ("↶", WARN), "not yet": ("·", FIELD)}
SHOWN = ("release", "stop", "lamp", "freeing a person", "monthly checks")
"""What can be shown to the user at hand-over, as the action's help lists it."""


class AcceptancePage(Page):
    """Nothing here is ticked by hand: a check is passed by what happened."""

    title = "Acceptance"

    def __init__(self, hands: Hands) -> None:
        super().__init__(hands)
        self.checks = Section(self._checks, Heading(_("Checks that follow from the survey")))
        self.plot = CurvePlot()
        self.mean = Paragraph("", size=13, colour=SOFT)
        endings: list[Widget] = [
            Heading(_("Hand over")),
            HandOver(hands),
            Heading(_("Or make safe, not repaired")),
            Paragraph(
                _("Where parts, competence or structure forbid repair, this is a good ending."), size=12, colour=SOFT
            ),
            ActionForm(hands, "make safe"),
        ]
        force = [Heading(_("Closing force")), self.plot, self.mean]
        if hands.view.graded:
            self.body.fill_with([self.checks, *force, *endings])
        else:  # a free yard has no job to end, and its survey leads to no checks
            self.body.fill_with(force)

    def show(self, view: View) -> None:
        """States and readings follow the session."""
        if self.changed("checks", view.acceptance):
            self.checks.rebuild()
        if self.changed("curves", len(view.curves)):
            self.plot.show(view.curves)
            self.mean.show(self._mean())

    def _checks(self) -> list[Widget]:
        rows: list[Widget] = []
        for check, state in self.hands.view.acceptance:
            sign, colour = SIGNS.get(state, ("·", FIELD))
            rows.append(
                Row(
                    Label(sign, width=20, colour=colour, anchor="centre"),
                    Label(first_upper(_(check)), grow=1.0),
                    Label(_(state), colour=SOFT if state == "not yet" else colour, size=13),
                    role="check",
                    label=f"{check}: {state}",
                )
            )
        return rows or [Item(_("The survey comes first."), "·", SOFT)]

    def _mean(self) -> str:
        curves = self.plot.curves
        if not curves:
            return _("Three readings at a point; their mean is judged, not one of them.")
        told = _("Readings at gap {gap:.0f} mm: {count}. Mean of the peaks: {mean:.0f} N.").format(
            count=len(curves), gap=curves[-1].gap_mm, mean=fmean(c.peak_n for c in curves)
        )
        return told if len(curves) >= 3 else told + " " + _("Three make a point; one is not a verdict.")


class HandOver(Column):
    """What was shown to the user, and the button."""

    def __init__(self, hands: Hands) -> None:
        self.hands = hands
        self.ticked: dict[str, bool] = dict.fromkeys(SHOWN, False)
        ticks = [
            Toggle(first_upper(_(name)), False, lambda on, name=name: self._tick(name, on))  # type: ignore[misc]
            for name in SHOWN
        ]
        button = Button(action_words("hand over"), self._hand_over, look="main", acts=("hand over",))
        super().__init__(
            Paragraph(_("Shown to the user, who repeated it:"), size=13, colour=INK),
            *ticks,
            Row(Spacer(grow=1.0), button),
            gap=2,
        )

    def _tick(self, name: str, on: bool) -> None:
        self.ticked[name] = on

    def _hand_over(self) -> None:
        self.hands.do("hand over", {"shown": ", ".join(name for name, on in self.ticked.items() if on)})
