"""Acceptance: the checks that follow from the survey, the force record, and how a job ends."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.said import said
from sim.world.actions import CATALOGUE
from trainer.language import _
from trainer.window.folder.force_plan import ForcePlan
from trainer.window.folder.page import Page, Section
from trainer.window.form import ActionForm
from trainer.window.kit.boxes import Column, Row, Spacer
from trainer.window.kit.button import Button, Toggle
from trainer.window.kit.label import Heading, Item, Label, Paragraph
from trainer.window.kit.style import GO, INK, SMALL, SOFT, STOP, WARN
from trainer.window.kit.widget import Widget
from trainer.window.words import action_words, first_upper, moment

if TYPE_CHECKING:
    from trainer.session.acceptance import CheckView
    from trainer.session.view import View
    from trainer.window.hands import Hands

SIGNS = {"passed": ("✓", GO), "failed": ("⊘", STOP), "stale": ("↶", WARN), "not yet": ("·", SOFT)}
SHOWN: Final[tuple[str, ...]] = (
    said("release{of_a_drive}", of_a_drive=""),
    said("stop{the_button}", the_button=""),
    said("lamp"),
    said("freeing a person"),
    said("monthly checks"),
)
"""What can be shown to the user at hand-over, as the action's help lists it."""


class AcceptancePage(Page):
    """Nothing here is ticked by hand: a check is passed by what happened."""

    title = "Acceptance"

    def __init__(self, hands: Hands) -> None:
        super().__init__(hands)
        self.checks = Section(self._checks, Heading(_("Checks that follow from the survey")), gap=3)
        self.plan = ForcePlan(hands)
        endings: list[Widget] = [
            Heading(_("Hand over")),
            HandOver(hands),
            Heading(_("Or make safe, not repaired")),
            Paragraph(
                _("Where parts, competence or structure forbid repair, this is a good ending."), size=12, colour=SOFT
            ),
            ActionForm(hands, "make safe"),
        ]
        told = _(
            "Three readings at a point; their mean is judged, not one of them. "
            "Across stands the opening, down the height above the ground."
        )
        force = [Heading(_("Closing force")), Paragraph(told, size=12, colour=SOFT), self.plan]
        if hands.view.graded:
            self.body.fill_with([self.checks, *force, *endings])
        else:  # a free yard has no job to end, and its survey leads to no checks
            self.body.fill_with(force)

    def show(self, view: View) -> None:
        """States and readings follow the session."""
        if self.changed("checks", view.checks):
            self.checks.rebuild()
        self.plan.show(view)

    def _checks(self) -> list[Widget]:
        rows = [CheckRow(check) for check in self.hands.view.checks]
        return [*rows] or [Item(_("The survey comes first."), "·", SOFT)]


class CheckRow(Column):
    """One check: its name and state; below, what is shown so far or why it does not pass yet."""

    def __init__(self, check: CheckView) -> None:
        sign, colour = SIGNS.get(check.state, ("·", SOFT))
        told = first_upper(_(check.what))
        if check.at is not None and check.state != "not yet":
            told += " " + _("Last shown at {at}.").format(at=moment(check.at))
        line = Row(
            Label(sign, width=20, colour=colour, anchor="centre"),
            Label(first_upper(_(check.name)), grow=1.0),
            Label(_(check.state), colour=SOFT if check.state == "not yet" else colour, size=13),
        )
        below = [Row(Spacer(20), Paragraph(told, size=SMALL, colour=SOFT, grow=1.0))] if told.strip() else []
        super().__init__(line, *below, gap=0, role="check", label=f"{check.name}: {check.state}", help=_(check.how))


class HandOver(Column):
    """What was shown to the user, and the button."""

    def __init__(self, hands: Hands) -> None:
        self.hands = hands
        self.ticked: dict[str, bool] = dict.fromkeys(SHOWN, False)
        ticks = [
            Toggle(
                first_upper(_(name)),
                False,
                lambda on, name=name: self._tick(name, on),  # type: ignore[misc]
                help=_("Tick it when the user has repeated it"),
            )
            for name in SHOWN
        ]
        told = first_upper(_(CATALOGUE["hand over"].help))
        button = Button(action_words("hand over"), self._hand_over, look="main", help=told, acts=("hand over",))
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
