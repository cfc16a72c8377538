"""Brief: the customer's words, what is asked, cautions, predictions, and the guide."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trainer.language import _
from trainer.window.folder.page import Page, Section
from trainer.window.kit.boxes import Row, Spacer
from trainer.window.kit.button import Button
from trainer.window.kit.choice import RadioRow
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Heading, Item, Note, Paragraph
from trainer.window.kit.style import GO, INK, POST, SOFT, WARN, WARN_WASH
from trainer.window.kit.widget import Widget

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands


class BriefPage(Page):
    """Where a job begins."""

    title = "Brief"

    def __init__(self, hands: Hands) -> None:
        super().__init__(hands)
        self.told = Section(self._told)
        self.ask = Section(self._questions, Heading(_("Say what you expect")))
        self.guide = Section(self._steps, Heading(_("Guide")))
        self.body.fill_with([self.told, self.ask, self.guide])

    def show(self, view: View) -> None:
        """Questions come and go, steps get done."""
        if self.changed("brief", (view.brief, view.brief_points, view.cautions)):
            self.told.rebuild()
        if self.changed("questions", view.questions):
            self.ask.rebuild()
        if self.changed("steps", view.steps):
            self.guide.rebuild()

    def _told(self) -> list[Widget]:
        view = self.hands.view
        cautions = [Note(_(text), WARN, WARN_WASH, sign="⚠") for text in view.cautions]
        if not view.graded:
            told = [Item(_(point), "–", SOFT) for point in (view.brief, *view.brief_points)]
            return [Heading(_("Free yard")), *told, *cautions]
        words = Note(f"“{_(view.brief).strip()}”", POST, (250, 245, 233))
        words.face = Face.ITALIC
        rows: list[Widget] = [Heading(_("The customer says")), words]
        if view.brief_points:
            rows += [Heading(_("On this job")), *(Item(_(point), "–", SOFT) for point in view.brief_points)]
        return [*rows, *cautions]

    def _questions(self) -> list[Widget]:
        rows: list[Widget] = []
        for question, answers, given in self.hands.view.questions:
            rows.append(Paragraph(_(question)))
            if given:
                rows.append(Item(_("You said: {answer}").format(answer=_(given)), "✓", GO))
            else:
                rows += self._answers(question, answers)
        return rows

    def _answers(self, question: str, answers: tuple[str, ...]) -> list[Widget]:
        def say() -> None:
            self.hands.do("predict", {"question": question, "answer": radio.chosen})

        def choose(_answer: str) -> None:
            button.enabled = True

        told = _("Say what you expect before you look.")
        radio = RadioRow(question, answers, "", choose, upright=True, words=_, help=told)
        button = Button(_("Say so"), say, help=told, acts=("predict",))
        button.enabled = False
        return [radio, Row(Spacer(grow=1.0), button)]

    def _steps(self) -> list[Widget]:
        steps = self.hands.view.steps
        ahead = next((n for n, step in enumerate(steps) if not step.done), len(steps))
        rows: list[Widget] = []
        for n, step in enumerate(steps):
            sign, colour = ("✓", GO) if step.done else ("▶", INK) if n == ahead else ("·", SOFT)
            rows.append(Item(_(step.text), sign, colour, colour=SOFT if step.done or n > ahead else INK))
        return rows
